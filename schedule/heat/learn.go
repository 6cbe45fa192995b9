package heat

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"dullred/alloys/unit"
)

// Prior is what is known of a torch before it was timed: 19 in 20 heats are
// explained by a coefficient from Low to High, in W/m²K. One that is no range, as the
// zero Prior, is read as [TorchPrior].
type Prior struct{ Low, High float64 }

// TorchPrior is the range of air and fuel flames that strike a surface. It is from
// memory; no measured figure of a hand torch was found.
var TorchPrior = Prior{Low: 50, High: 200}

// middle is the likeliest coefficient.
func (p Prior) middle() float64 { return math.Sqrt(p.Low * p.High) }

// Timed is a heat that a smith timed, with the flame's temperature, faces and brick
// as he takes them to be. The coefficient in it does not count: it is sought.
type Timed struct {
	Heating  Heating
	From, To unit.Celsius
	Took     time.Duration
}

// Learned is what is known of a torch and its hearth: the coefficient of the next
// heat, likeliest and within 19 in 20, W/m²K, from N timed heats. Whatever the
// assumed flame is wrong by is in it too, so it holds for that flame alone.
type Learned struct {
	H, Low, High float64
	N            int
}

// scatter is by how much one heat differs from the next, in ln h. It is a judgement
// (a tenth: the hand's distance and the eye's idea of the heat), and the smith's own
// scatter counts instead as soon as it is larger.
const scatter = 0.1

// normal95 is half the width of 19 in 20 of a normal distribution.
const normal95 = 1.959964

// Learn finds the coefficient from timed heats. Heats that no coefficient explains
// are left out of N.
func Learn(prior Prior, timed []Timed) Learned {
	var found []float64
	for _, t := range timed {
		if h, err := t.H(); err == nil {
			found = append(found, h)
		}
	}
	return prior.learn(found)
}

// LearnedFrom is what the coefficients of single heats, of [Timed.H], add to
// [TorchPrior]. What is not above 0 and at most 5000 W/m²K teaches nothing.
func LearnedFrom(found []float64) Learned { return TorchPrior.learn(found) }

// learn has ln h normal with a normal prior, so the posterior is one too: the mean,
// each figure weighted by how well it is known. One absurd heat among three or more
// counts for little; among fewer nobody can tell which it is.
func (p Prior) learn(found []float64) Learned {
	if !(p.Low >= 1e-3 && p.High > p.Low && p.High <= strongest) {
		p = TorchPrior
	}
	var logs []float64
	for _, h := range found {
		if h > 0 && h <= strongest {
			logs = append(logs, math.Log(h))
		}
	}
	tame(logs)
	width := math.Log(p.High/p.Low) / (2 * normal95)
	noise := math.Pow(max(scatter, spread(logs)), 2)
	known := 1 / max(width*width-scatter*scatter, 1e-6)
	mean, weight := known*math.Log(p.middle()), known
	for _, l := range logs {
		mean, weight = mean+l/noise, weight+1/noise
	}
	mean /= weight
	half := normal95 * math.Sqrt(1/weight+noise)
	return Learned{H: math.Exp(mean), Low: math.Exp(mean - half), High: math.Exp(mean + half), N: len(logs)}
}

// farOff is from how many times the usual scatter on a heat is absurd: the wrong key,
// or a flame that went out. A judgement.
const farOff = 3

// tame pulls what is absurd in towards the middle of three figures or more. What is
// usual is the middle distance from the middle, 0.6745 of a standard deviation if
// they are normal, and at least the scatter.
func tame(all []float64) {
	if len(all) < 3 {
		return
	}
	mid := median(all)
	var apart []float64
	for _, x := range all {
		apart = append(apart, math.Abs(x-mid))
	}
	far := farOff * max(scatter, median(apart)/0.6745)
	for i, x := range all {
		all[i] = min(max(x, mid-far), mid+far)
	}
}

// median is the middle of some figures, or of the two in the middle.
func median(all []float64) float64 {
	s := slices.Sorted(slices.Values(all))
	return (s[(len(s)-1)/2] + s[len(s)/2]) / 2
}

// spread is the standard deviation of three figures or more, else 0.
func spread(all []float64) float64 {
	if len(all) < 3 {
		return 0
	}
	sum, squares := 0.0, 0.0
	for _, x := range all {
		sum += x
	}
	for _, x := range all {
		squares += math.Pow(x-sum/float64(len(all)), 2)
	}
	return math.Sqrt(squares / float64(len(all)-1))
}

// strongest is above every torch, W/m²K; a judgement.
const strongest = 5000

// H is the coefficient with which a heat takes as long as it took, from 1 to 5000
// W/m²K, which holds every torch; the error is that none does. A stronger flame is
// always quicker, so halving finds it.
func (t Timed) H() (float64, error) {
	lo, hi := 0.0, math.Log(strongest)
	if t.Took <= 0 || !t.slower(lo) || t.slower(hi) {
		return 0, fmt.Errorf("no flame at %v takes %v from %v to %v", t.Heating.Flame.Temp, t.Took, t.From, t.To)
	}
	for hi-lo > 1e-6 {
		if mid := (lo + hi) / 2; t.slower(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return math.Exp((lo + hi) / 2), nil
}

// slower is whether the heat would take longer than it took with e^ln W/m²K. What
// cannot be reckoned at all is slower everywhere, and so never explained.
func (t Timed) slower(ln float64) bool {
	h := t.Heating
	h.Flame.H = math.Exp(ln)
	d, err := h.Time(t.From, t.To)
	return err != nil || d > t.Took
}

// Time is how long a heat takes with what was learned: the shortest, likeliest and
// longest of 19 in 20. Where only the weak end never gets there, high is 0; where
// the likely one does not either, likely is 0 too. The error is [ErrNever] when
// even the strong end never does, or what cannot be.
func (l Learned) Time(h Heating, from, to unit.Celsius) (low, likely, high time.Duration, err error) {
	var all [3]time.Duration
	for i, c := range []float64{l.High, l.H, l.Low} {
		h.Flame.H = c
		d, fault := h.Time(from, to)
		if fault != nil && (i == 0 || !errors.Is(fault, ErrNever)) {
			return 0, 0, 0, fault
		}
		all[i] = d
	}
	return all[0], all[1], all[2], nil
}
