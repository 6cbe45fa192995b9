package unit_test

import (
	"fmt"
	"math"
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
)

func TestQuantitiesPrintTheirUnit(t *testing.T) {
	for want, q := range map[string]fmt.Stringer{
		"6.4 mm":      unit.Millimetre(6.4),
		"12.57 mm²":   unit.SquareMillimetre(4 * math.Pi),
		"33.5 mm³":    unit.CubicMillimetre(33.51),
		"60 g":        unit.Gram(60),
		"10.36 g/cm³": unit.Density(10.36),
		"650 °C":      unit.Celsius(650),
		"923.2 K":     unit.Kelvin(923.15),
		"276 MPa":     unit.Megapascal(275.8),
		"70 HV":       unit.Vickers(70.2),
		"0 HV":        unit.Vickers(-0.1), // no minus zero
		"NaN HV":      unit.Vickers(math.NaN()),
		"+Inf HV":     unit.Vickers(math.Inf(1)),
	} {
		require.Equal(t, want, q.String())
	}
}

func TestTemperatureScales(t *testing.T) {
	require.InDelta(t, 273.15, float64(unit.Celsius(0).Kelvin()), 1e-12, "definition of the scale")
	require.InDelta(t, 649.85, float64(unit.Kelvin(923).Celsius()), 1e-9, "923 - 273.15")
	require.InDelta(t, 212, unit.Celsius(100).Fahrenheit(), 1e-12, "boiling point of water on the scale")
	require.InDelta(t, -40, float64(unit.FromFahrenheit(-40)), 1e-12, "where the two scales cross")
}

func TestDensityMass(t *testing.T) {
	require.InDelta(t, 10.36, float64(unit.Density(10.36).Mass(1000)), 1e-12, "1000 mm³ are 1 cm³")
}
