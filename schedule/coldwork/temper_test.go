package coldwork

import (
	"testing"

	"dullred/alloys"
	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
)

// The source of the reductions is the temper table of a strip supplier
// (Precision Steel, brass temper table); they are printed to 0.1 %.
//
// Outside check (handbook): temper names against the printed reductions of a strip supplier.
func TestTempersAgainstThePublishedReductions(t *testing.T) {
	for _, c := range []struct {
		name      string
		numbers   int
		published float64 // per cent of thickness
		reason    string
	}{
		{"quarter hard", 1, 10.9, "one number divides the gauge by 92^(1/39)"},
		{"half hard", 2, 20.7, "two numbers"},
		{"hard", 4, 37.1, "four numbers"},
		{"extra hard", 6, 50.0, "six numbers halve the gauge"},
		{"extra spring", 10, 68.7, "ten numbers leave less than a third"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			strip, wire := alloys.Temper(c.numbers)
			require.InDelta(t, c.published, 100*float64(strip), 0.15, c.reason)
			left := 1 - float64(strip)
			rolled := Between(sheet(1), sheet(unit.Millimetre(left)))
			require.InDelta(t, float64(strip.Strain()), float64(rolled), 1e-9, "strip loses it in thickness")
			drawn := Between(round(1), round(unit.Millimetre(left)))
			require.InDelta(t, float64(wire.Strain()), float64(drawn), 1e-9, "wire loses it in diameter, so twice in area")
			require.InEpsilon(t, 1.732, float64(drawn/rolled), 1e-3, "the same temper is root three times the strain in wire")
		})
	}
}
