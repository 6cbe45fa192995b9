package heat

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
)

func TestAirIsTheTable(t *testing.T) {
	for _, r := range airTable {
		p := airAt(math.Log(r.kelvin))
		require.InEpsilon(t, r.conductivity, math.Exp(p.conductivity), 1e-12, "%v K", r.kelvin)
		require.InEpsilon(t, r.viscosity, math.Exp(p.viscosity), 1e-12, "%v K", r.kelvin)
		require.InEpsilon(t, r.prandtl, math.Exp(p.prandtl), 1e-12, "%v K", r.kelvin)
		require.InEpsilon(t, plate.factor(r.prandtl), p.plate, 1e-12, "%v K", r.kelvin)
		require.InEpsilon(t, cylinder.factor(r.prandtl), p.cylinder, 1e-12, "%v K", r.kelvin)
	}
}

// Outside check (handbook): air at 1200 K, Incropera, table A.4, from memory.
func TestAirBeyondItsTable(t *testing.T) {
	last, far := airAt(math.Log(800)), airAt(math.Log(1200))
	require.InEpsilon(t, math.Exp(last.conductivity)*math.Pow(1.5, math.Log(573./469)/math.Log(4./3)), math.Exp(far.conductivity), 1e-9,
		"the power between 600 and 800 K goes on")
	require.InEpsilon(t, 0.0763, math.Exp(far.conductivity), 0.03, "air at 1200 K, Incropera table A.4, from memory")
	require.InEpsilon(t, 162.9e-6, math.Exp(far.viscosity), 0.03, "air at 1200 K, Incropera table A.4, from memory")
	require.Equal(t, last.prandtl, far.prandtl, "held")
}

func TestCoefficientIsAlwaysAFigure(t *testing.T) {
	for _, room := range []unit.Celsius{-200, 20, 1000, 4000} {
		for _, size := range []float64{1e-5, 0.01, 1} {
			for skin := -200.0; skin <= 4000; skin += 50 {
				a := air{room: float64(room), shape: cylinder, over: size}
				h := a.coefficient(skin)
				require.True(t, h > 0 && h < 1e5, "%v m at %v in %v: %v", size, skin, room, h)
			}
		}
	}
}

func TestShapeOfAPieceInAir(t *testing.T) {
	cases := []struct {
		name, reason string
		size         unit.Size
		length       unit.Millimetre
		shape        form
		over         float64
	}{
		{"strip", "as high as it is long, which loses least", unit.Size{Shape: unit.Rectangular, Thick: 2, Width: 30}, 100, plate, 0.100},
		{"short strip", "as high as it is wide", unit.Size{Shape: unit.Rectangular, Thick: 2, Width: 30}, 20, plate, 0.030},
		{"long strip", "a length that is not known changes nothing", unit.Size{Shape: unit.Rectangular, Thick: 2, Width: 30}, 0, plate, 0.030},
		{"thick bar", "not three times as wide as thick", unit.Size{Shape: unit.Rectangular, Thick: 8, Width: 20}, 0, cylinder, 0.056 / math.Pi},
		{"square rod", "the perimeter of a round one", unit.Size{Shape: unit.Square, Thick: 8, Width: 8}, 100, cylinder, 0.032 / math.Pi},
		{"wire", "its own diameter", unit.Size{Shape: unit.Round, Diameter: 2}, 300, cylinder, 0.002},
		{"tube", "a thin wall is no plate", unit.Size{Shape: unit.Tube, Diameter: 20, Thick: 1}, 100, cylinder, 0.020},
		{"sheet", "as wide as it is long", unit.Size{Shape: unit.Sheet, Thick: 1}, 80, plate, 0.080},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			b, err := BodyOf(copperA1, c.size, c.length)
			require.NoError(t, err)
			a := airOf(b, 20, 0)
			require.Equal(t, c.shape, a.shape, c.reason)
			require.InEpsilon(t, c.over, a.over, 1e-2, c.reason)
		})
	}
}

func TestKinksAreInOrder(t *testing.T) {
	for _, room := range []float64{-200, 20, 30, 100, 300, 3000} {
		k := air{room: room}.kinks()
		require.True(t, slices.IsSorted(k), "%v", k)
		require.Contains(t, k, room)
	}
	require.Empty(t, air{fixed: 10}.kinks(), "a fixed coefficient has none")
}
