package split

import (
	"math"

	"dullred/alloys/unit"
)

// Limit is the strain that the next interval of this stock does not survive with
// the chance risk, 0 < risk < 1. For any other risk, and for the zero Knowledge,
// it is 0.
func (k Knowledge) Limit(risk float64) unit.Strain {
	if !k.Known() || !(risk > 0 && risk < 1) {
		return 0
	}
	return unit.Strain(k.limit * math.Exp(k.quantile(risk, 0)))
}

// Limits is the Limit at each of several risks, for less than one after the other
// costs.
func (k Knowledge) Limits(risks []float64) []unit.Strain {
	limits, at := make([]unit.Strain, len(risks)), 0.0
	for i, risk := range risks {
		if k.Known() && risk > 0 && risk < 1 {
			at = k.quantile(risk, at)
			limits[i] = unit.Strain(k.limit * math.Exp(at))
		}
	}
	return limits
}

// quantile is the logarithm of the strain, in published limits, at which the
// chance of splitting is risk. In ln(-ln survive) against ln strain the law is
// nearly a straight line, so that Newton's steps are few; where one leaves what
// is left of the range, the range is halved. It starts at a guess.
func (k *Knowledge) quantile(risk, at float64) float64 {
	aim := math.Log(-math.Log1p(-risk))
	lo, hi := -furthest, furthest
	for range 100 {
		splits, slope := k.chance(at)
		hazard := -math.Log1p(-min(splits, surely))
		off := math.Log(hazard) - aim
		if off < 0 {
			lo = at
		} else {
			hi = at
		}
		step := -off * hazard * (1 - splits) / slope
		if math.Abs(step) < 1e-12 || hi-lo < 1e-12 {
			break
		}
		if at += step; !(at > lo && at < hi) {
			at = lo + (hi-lo)/2
		}
	}
	return at
}

// surely is a chance short of 1 by the least that a number can tell.
const surely = 1 - 1e-16

// furthest bounds the search, in logarithms of the published limit.
const furthest = 30.
