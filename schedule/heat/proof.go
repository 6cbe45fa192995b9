package heat

import (
	"math"

	"dullred/alloys/unit"
)

// Proof is a bend check after a heat: what had been worked, how it was heated, and
// whether it then bent dead.
type Proof struct {
	Worked  unit.Strain
	History []Span
	Soft    bool
}

// bendsDead is the share of the work that is gone from metal that bends dead; with
// less gone it springs. A judgement: a bend check tells soft from springy, not
// how soft.
const bendsDead = 0.9

// slack keeps a band from closing on one side when a check lay outside it; a
// judgement.
const slack = 2

// farthest is the most that a check may move t05, either way; a judgement.
const farthest = 1000

// bracket is what bend checks say of the factor by which this smith's metal is
// slower than likely: a soft one bounds it above, a springy one below. Zero bounds
// are not there.
type bracket struct {
	springy, soft float64
	slower        bool // a springy check where even the slow end said soft
	faster        bool // a soft check where even the fast end said springy
}

// Proved is k learned from bend checks. Those that agree narrow the band, one that
// lies outside the band moves it, and those that contradict each other widen it.
// A check of metal that was too little worked, or that was not heated, says nothing.
func (k Kinetics) Proved(proofs []Proof) Kinetics {
	if len(k.all) == 0 {
		return k
	}
	plain := Kinetics{all: k.all}
	for _, p := range proofs {
		theta := plain.theta(p.Worked, p.History)
		if p.Worked < mostCritical.Strain() || !(theta[1] > 0) || math.IsInf(theta[1], 0) {
			continue
		}
		k.proved = k.proved.learn(p.Soft, theta, thetaOf(bendsDead, k.all[0].n))
		k.N++
	}
	return k
}

// learn takes one check into account: the theta of the three ends, and what it had
// to be for the metal to bend dead.
func (b bracket) learn(soft bool, theta [3]float64, dead float64) bracket {
	factor := min(max(theta[1]/dead, 1.0/farthest), farthest)
	if soft {
		b.faster = b.faster || theta[2] < dead
		if b.soft == 0 || factor < b.soft {
			b.soft = factor
		}
		return b
	}
	b.slower = b.slower || theta[0] > dead
	b.springy = max(b.springy, factor)
	return b
}

// narrow applies the bracket to three rates in rising order, and keeps them so.
func (b bracket) narrow(rate [3]float64) [3]float64 {
	slow, likely, fast := rate[0], rate[1], rate[2]
	above := b.soft
	if above == 0 {
		above = math.Inf(1)
	}
	if b.springy > above { // contradiction
		return [3]float64{min(slow, likely/b.springy), likely / math.Sqrt(b.springy*above), max(fast, likely/above)}
	}
	middle := likely / min(max(1, b.springy), above)
	slow = max(min(slow, middle/leeway(b.slower)), likely/above)
	fast = max(fast, middle*leeway(b.faster))
	if b.springy > 0 {
		fast = min(fast, likely/b.springy)
	}
	return [3]float64{slow, middle, fast}
}

// leeway is by what factor an end of the band stays away from its middle: none, or
// slack where a check lay beyond that end.
func leeway(beyond bool) float64 {
	if beyond {
		return slack
	}
	return 1
}
