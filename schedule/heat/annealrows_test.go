package heat

import (
	"math"
	"slices"
	"time"

	"dullred/alloys/unit"
)

// annealRows are the worked examples of this part that are computed.
var annealRows = []example{
	{"A01", "the constant of the law in its other writing, from the half time", func() []float64 {
		return []float64{math.Ln2 / math.Pow(100/thetaOf(0.30, 5), 5)}
	}},
	{"A02", "the half time from a fraction and its time, as the soak to a fraction is found", func() []float64 {
		half := 100 / thetaOf(0.30, 5)
		return []float64{half, 1 / half}
	}},
	{"A03", "what twice the half time softens", func() []float64 {
		return []float64{transformed(2, 1), transformed(2, 2), transformed(2, 3)}
	}},
	{"A04", "what half the half time softens", func() []float64 { return []float64{transformed(0.5, 1.2), transformed(0.5, 1.8)} }},
	{"A06", "the exponents of copper in the table", func() []float64 { return observed("C11000", func(o observation) float64 { return o.n }) }},
	{"A07", "two spans of a history add up", func() []float64 {
		at10, at2 := single(10, 600, 100, 2), single(2, 600, 100, 2)
		theta := at10.theta(1, []Span{{600, 4e9}})[1] + at2.theta(1, []Span{{600, 1e9}})[1]
		return []float64{at10.from(1, [3]float64{theta, theta, theta}).Likely}
	}},
	{"A09", "the half time at another heat", func() []float64 {
		k := single(600, 250, 123, 1)
		var halves []float64
		for _, t := range []unit.Celsius{200, 300, 400, 500} {
			halves = append(halves, 1/k.rates(1, t)[1])
		}
		return halves
	}},
	{"A10", "softening while the piece heats, in spans as a thermocouple gives them", func() []float64 {
		return []float64{halfSoftAt(1), halfSoftAt(5), halfSoftAt(20)}
	}},
	{"A13", "the flatter slope of copper in the table", func() []float64 {
		return []float64{slices.Min(observed("C11000", func(o observation) float64 { return o.energy / 1000 }))}
	}},
	{"A15", "the two slopes of silver in the table", func() []float64 {
		both := observed("AG999", func(o observation) float64 { return o.energy / 1000 })
		slices.Reverse(both)
		return both
	}},
}

// notAnneal are those that are not, and why.
var notAnneal = map[string]string{
	"A12": "a published figure without a tolerance, nothing to compute; TestTableHoldsWhatWasPublished finds it in the table",
	"A16": "a published range for a steel of which no half time is known, so steel has no kinetics here",
	"A19": noFeature + "the rule of thumb for where softening starts says nothing of time or work",
	"A20": "a published rough figure, nothing to compute; it lies inside the work that Spare names",
	"A21": noFeature + "no grain size is printed, since the exponent of growth is contested and no constant goes with it",
	"A24": noFeature + "no grain size is printed, since the exponent of growth is contested and no constant goes with it",
	"A26": noFeature + "strength from grain size (Hall-Petch); no grain size is known at a bench",
	"A27": noFeature + "strength from grain size (Hall-Petch); no grain size is known at a bench",
	"A29": noFeature + "an observed exponent; it is why no grain size is printed",
	"A30": noFeature + "the Hollomon-Jaffe parameter joins time and heat of tempered steel, and minutes and hours are both in use",
}

// single is one observation at a strain of 1: half soft in so many seconds at a
// temperature, with a slope in kJ/mol.
func single(half float64, temp unit.Celsius, kilojoule, n float64) Kinetics {
	return Kinetics{all: []observation{{strain: 1, temp: temp, half: half, energy: 1000 * kilojoule, n: n}}}
}

// observed are the different figures of an alloy's observations, in rising order.
func observed(id string, figure func(observation) float64) []float64 {
	var all []float64
	for _, o := range kineticsTable()[idOf(id)] {
		all = append(all, figure(o))
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// halfSoftAt is where copper of A09 is half soft when it is heated so many kelvin a
// second from 20 °C, in steps of a hundredth.
func halfSoftAt(perSecond float64) float64 {
	k, step, t := single(600, 250, 123, 1), 0.005, 20.0
	lasts := time.Duration(step / perSecond * float64(time.Second))
	for theta := 0.0; theta < 1; t += step {
		theta += k.theta(1, []Span{{unit.Celsius(t + step/2), lasts}})[1]
	}
	return t
}
