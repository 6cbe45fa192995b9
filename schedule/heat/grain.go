package heat

import (
	"fmt"

	"dullred/alloys"
	"dullred/alloys/unit"
)

// Coarsens says that a heat was hot enough to grow the grain: hotter than the top of
// the annealing window. It is empty otherwise, where no window is published, and for
// what is no temperature of a bench.
//
// A heat from which grain is published to grow does not count here: the one there is,
// of brass, lies below the window, after half an hour in a furnace.
//
// No grain size is printed. Grain grows as D^n - D0^n = K t, and for brass the rise
// of K with temperature is published (251 kJ/mol, Burke 1947), but the exponent is
// 2 in textbooks and about 4 as measured (Konkova and others 2016), no K is
// published with it, and nobody at a bench knows D0.
func Coarsens(a alloys.Alloy, hottest unit.Celsius) string {
	f, ok := a.Default(alloys.Anneal, alloys.Wrought)
	if !ok || believable(hottest) != nil || hottest <= unit.Celsius(f.High) {
		return ""
	}
	return fmt.Sprintf("%.0f °C is over the window of %g to %g °C: the grain grows, and it gets no softer", float64(hottest), f.Low, f.High)
}
