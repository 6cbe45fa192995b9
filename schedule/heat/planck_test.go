package heat

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
)

// Planck's law over all wavelengths is σT⁴/π (Stefan and Boltzmann), whatever the
// temperature. In u = c2/λT the integral is taken by Simpson's rule.
func TestRadianceAddsUpToStefanBoltzmann(t *testing.T) {
	for _, kelvin := range []unit.Kelvin{300, 923.15, 2856} {
		const steps, from, to = 20000, 0.01, 60.0
		sum, h := 0.0, (to-from)/steps
		for i := range steps + 1 {
			u := from + h*float64(i)
			lambda := SecondRadiation / (u * float64(kelvin))
			v := Radiance(lambda, kelvin) * lambda / u // dλ = λ du/u
			sum += v * map[bool]float64{true: 1, false: 2 + 2*float64(i%2)}[i == 0 || i == steps] * h / 3
		}
		want := StefanBoltzmann * math.Pow(float64(kelvin), 4) / math.Pi
		require.InEpsilon(t, want, sum, 1e-6, "%v K", float64(kelvin))
	}
}

// The wavelength b/T is stronger than either side of it.
func TestRadianceIsStrongestWhereWienSays(t *testing.T) {
	for _, kelvin := range []unit.Kelvin{300, 923.15, 5772} {
		peak := Wien / float64(kelvin)
		require.Greater(t, Radiance(peak, kelvin), Radiance(peak*0.999, kelvin))
		require.Greater(t, Radiance(peak, kelvin), Radiance(peak*1.001, kelvin))
	}
	x := SecondRadiation / Wien
	require.InDelta(t, 5*(1-math.Exp(-x)), x, 1e-14, "the divisor is the root it is said to be")
}

func TestRadianceOutOfRange(t *testing.T) {
	cases := []struct {
		name, reason string
		lambda       float64
		kelvin       unit.Kelvin
	}{
		{"absolute zero", "nothing shines", 555e-9, 0},
		{"below absolute zero", "there is no such heat", 555e-9, -5},
		{"no wavelength", "nothing to divide by", 0, 900},
		{"very cold", "too small for a number", 360e-9, 1},
		{"not a number", "an unknown heat gives no light", 555e-9, unit.Kelvin(math.NaN())},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) { require.Zero(t, Radiance(c.lambda, c.kelvin), c.reason) })
	}
}
