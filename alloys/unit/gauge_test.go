package unit_test

import (
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
)

// Outside check (standard): diameters of B&S gauges, ASTM B258.
func TestGaugeDiameter(t *testing.T) {
	for _, c := range []struct {
		gauge  unit.Gauge
		want   float64
		within float64
		source string
	}{
		{36, 0.127, 0, "ASTM B258: 0.0050 in by definition"},
		{-3, 11.684, 0, "ASTM B258: 0.4600 in by definition"},
		{18, 1.0236873, 1e-6, "ASTM B258; also awg() of units(1)"},
		{20, 0.81182097, 1e-6, "ASTM B258; also awg() of units(1)"},
		{24, 0.51055923, 1e-6, "ASTM B258; also awg() of units(1)"},
	} {
		require.NotEmpty(t, c.source)
		require.InDelta(t, c.want, float64(c.gauge.Diameter()), c.within, "%v: %s", c.gauge, c.source)
	}
}

func TestEveryGaugeReadsBack(t *testing.T) {
	for n := unit.Gauge(-3); n <= 40; n++ {
		got, err := unit.ParseLength(n.String())
		require.NoError(t, err)
		require.Equal(t, n.Diameter(), got, n.String())
		if n < 40 {
			require.Greater(t, n.Diameter(), (n + 1).Diameter(), "a higher gauge is thinner")
		}
	}
}

func TestGaugeString(t *testing.T) {
	require.Equal(t, "20 B&S gauge", unit.Gauge(20).String())
	require.Equal(t, "0 B&S gauge", unit.Gauge(0).String())
	require.Equal(t, "0000 B&S gauge", unit.Gauge(-3).String())
	require.Equal(t, "-4 B&S gauge", unit.Gauge(-4).String(), "no such gauge, so no row of noughts")
}
