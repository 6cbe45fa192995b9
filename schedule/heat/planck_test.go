package heat

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
)

// flat is an observer that finds every wavelength alike, and the weight of each in
// the integral over λ by Simpson's rule in u = c2/λT, dλ = λ du/u.
func flat(t unit.Kelvin) []match {
	const steps, from, to = 20000, 0.01, 60.0
	h, all := (to-from)/steps, make([]match, 0, steps+1)
	for i := range steps + 1 {
		u := from + h*float64(i)
		lambda := secondRadiation / (u * float64(t))
		weight := float64(2 + 2*(i%2))
		if i == 0 || i == steps {
			weight = 1
		}
		all = append(all, match{lambda: lambda, y: weight * h / 3 * lambda / u})
	}
	return all
}

// Planck's law over all wavelengths is σT⁴/π (Stefan and Boltzmann), whatever the
// temperature. This is the way to every luminance, with another observer.
//
// Outside check (standard): Planck's law over all wavelengths is that of Stefan and Boltzmann.
func TestAGlowAddsUpToStefanBoltzmann(t *testing.T) {
	for _, kelvin := range []unit.Kelvin{300, 923.15, 2856} {
		sum := seenBy(weigh(flat(kelvin)), kelvin).y / (luminousEfficacy * observerStep)
		require.InEpsilon(t, stefanBoltzmann*math.Pow(float64(kelvin), 4)/math.Pi, sum, 1e-6, "%v K", float64(kelvin))
	}
}

// The wavelength b/T is stronger than either side of it (Wien).
//
// Outside check (standard): the strongest wavelength is Wien's.
func TestAGlowIsStrongestWhereWienSays(t *testing.T) {
	for _, kelvin := range []unit.Kelvin{300, 923.15, 5772} {
		at := func(part float64) float64 {
			lambda := part * secondRadiation / wienRoot() / float64(kelvin)
			return seenBy(weigh([]match{{lambda: lambda, y: 1}}), kelvin).y
		}
		require.Greater(t, at(1), at(0.999))
		require.Greater(t, at(1), at(1.001))
	}
}
