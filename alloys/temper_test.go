package alloys

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Precision Steel, brass temper table: numbers hard against reduction [BS_NUMBERS].
//
// Outside check (handbook): Brown & Sharpe numbers hard against the reductions of a strip
// supplier.
func TestTemperAgreesWithThePublishedReductions(t *testing.T) {
	for numbers, published := range map[int]float64{1: 10.9, 2: 20.7, 3: 29.4, 4: 37.1, 6: 50.0, 8: 60.5, 10: 68.7} {
		strip, _ := Temper(numbers)
		require.InDelta(t, published, 100*float64(strip), 0.15, "%d numbers hard", numbers)
	}
}

func TestTemperOfOneNameIsMoreStrainInWire(t *testing.T) {
	strip, wire := Temper(4)
	require.InDelta(t, 0.535, float64(strip.Strain()), 0.001, "H04 strip: 37 % of thickness")
	require.InDelta(t, 0.927, float64(wire.Strain()), 0.001, "H04 wire: 60 % of area")
}

func TestTemperZeroIsSoft(t *testing.T) {
	for _, n := range []int{0, -3} {
		strip, wire := Temper(n)
		require.Zero(t, strip)
		require.Zero(t, wire)
	}
}
