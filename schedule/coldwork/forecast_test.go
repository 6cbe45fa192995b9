package coldwork

import (
	"math"
	"math/rand/v2"
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"
)

const (
	draws       = 40_000
	simulated   = 8    // courses that are followed
	chanceError = 0.03 // of a probability, simulation and approximation together
)

// simulate plays the work on: the true work is off by the error of its readings
// and so are the courses learned from them, the hand's mean and scatter are
// drawn from what is known of them, and each course is a log-normal by itself, of
// which the metal takes less as it stiffens, little by little.
// It returns the chance that 1, 2, ... more courses stay under the limit.
func simulate(hand func(off unit.Strain) Hand, done Estimate, limit unit.Strain) (under [simulated + 1]float64) {
	src := rand.NewPCG(1, 2)
	rng := rand.New(src)
	for range draws {
		off := unit.Strain(rng.NormFloat64()) * done.Sigma
		h := hand(off)
		s2 := 1 / distuv.Gamma{Alpha: h.shape, Beta: h.scale, Src: src}.Rand()
		mu := h.mean + rng.NormFloat64()*math.Sqrt(s2/h.weight)
		sum := float64(done.Strain + off)
		for k := 1; k <= simulated; k++ {
			sum = struck(sum, math.Exp(mu+rng.NormFloat64()*math.Sqrt(s2)), h.even)
			if sum < float64(limit) {
				under[k] += 1. / draws
			}
		}
	}
	return under
}

// struck is the strain after a course that would give soft metal a strain, in small
// parts of it; all of it where courses are even.
func struck(sum, soft float64, even bool) float64 {
	const parts = 20
	if even {
		return sum + soft
	}
	for range parts {
		sum += soft / parts / (1 + sum/2)
	}
	return sum
}

// Outside check (reference): gonum, distuv: courses left against draws from the same model of
// a hand.
func TestForecastAgreesWithSimulation(t *testing.T) {
	prior := func(unit.Strain) Hand { return Prior(Lengthen) }
	for _, c := range []struct {
		name   string
		hand   func(off unit.Strain) Hand
		done   Estimate
		limit  unit.Strain
		reason string
	}{
		{"average of four passes", func(off unit.Strain) Hand { return Even(0.3355+off, 4) },
			Estimate{0.3355, 0.02}, 0.6903, "the reading that shows the work is all that is known of the hand"},
		{"average of one pass, badly read", func(off unit.Strain) Hand { return Even(0.15+off, 1) },
			Estimate{0.15, 0.03}, 0.6903, "a fifth of the work may be error"},
		{"unknown hand, soft metal", prior, Estimate{}, 0.6903, "nothing measured yet"},
		{"unknown hand, half way", prior, Estimate{0.35, 0.03}, 0.6903, "unread courses"},
		{"unknown hand, near the limit", prior, Estimate{0.6, 0.03}, 0.6903, "the next course decides"},
		{"learned hand", func(off unit.Strain) Hand {
			return taught(lengthen(3, 0.36), lengthen(2, 0.2), lengthen(4, 0.5), lengthen(3, 0.33+off))
		}, Estimate{0.33, 0.03}, 0.6903, "the last reading is the work done"},
		{"learned heavy hand, casting", func(off unit.Strain) Hand {
			return taught(lengthen(1, 0.2), lengthen(1, 0.22), lengthen(1, 0.08+off))
		}, Estimate{0.08, 0.01}, 0.2231, "one course may be one too many"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			under := simulate(c.hand, c.done, c.limit)
			h := c.hand(0)
			for k := 1; k <= simulated; k++ {
				require.InDelta(t, under[k], h.chanceUnder(k, c.done, c.limit), chanceError, "%d more courses: %s", k, c.reason)
			}
			left := h.Left(c.done, c.limit)
			require.InDelta(t, 1-under[1], left.NextCrosses, chanceError)
			requireQuantile(t, under, left.Low, 0.9)
			requireQuantile(t, under, left.Likely, 0.5)
			requireQuantile(t, under, left.High, 0.1)
		})
	}
}

// chanceUnder is under of work and limit as they are.
func (h Hand) chanceUnder(k int, done Estimate, limit unit.Strain) float64 {
	if h.even {
		return h.under(k, done, limit)
	}
	return h.under(k, softened(done), Effort(limit))
}

// requireQuantile checks that k courses stay under the limit with at least the
// chance, and k+1 do not.
func requireQuantile(t *testing.T, under [simulated + 1]float64, k int, chance float64) {
	t.Helper()
	if k > 0 && k <= simulated {
		require.GreaterOrEqual(t, under[k], chance-chanceError, "%d courses with a chance of %v", k, chance)
	}
	if k < simulated {
		require.Less(t, under[k+1], chance+chanceError, "%d courses are not the most with a chance of %v", k, chance)
	}
}
