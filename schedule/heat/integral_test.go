package heat

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
)

// strip is copper strip as a smith anneals it.
func strip(t testing.TB) Body {
	t.Helper()
	b, err := BodyOf(copperA1, unit.Size{Shape: unit.Rectangular, Thick: 2, Width: 30}, 100)
	require.NoError(t, err)
	return b
}

func benchHeating(b Body) Heating {
	return Heating{Body: b, Flame: Flame{Temp: BenchFlame, H: 100, Faces: 1}, Emissivity: 0.6, Room: 20}
}

func TestToleranceChangesNothing(t *testing.T) {
	b := strip(t)
	h, c := benchHeating(b).flow(), Cooling{Body: b, Emissivity: 0.6, Room: 20}.flow()
	cases := []struct {
		name, reason string
		flow         flow
		from, to     float64
	}{
		{"heat", "through every kink of the air", h, 20, 600},
		{"heat from below the room", "convection turns round on the way", h, -20, 600},
		{"heat to near its rest", "the end of the integral is steep in T", h, 20, h.rest - 0.02},
		{"cool", "through every kink of the air", c, 650, 48},
		{"cool to near the room", "the integrand is smooth in ln(T - room)", c, 650, 20.02},
	}
	for _, k := range cases {
		t.Run(k.name, func(t *testing.T) {
			usual := k.flow.integral(k.from, k.to, one, within)
			half, tight := k.flow.integral(k.from, k.to, one, within/2), k.flow.integral(k.from, k.to, one, 1e-12)
			require.InEpsilon(t, tight, usual, 1e-7, k.reason)
			require.Equal(t, math.Round(10*half), math.Round(10*usual), "a tenth of a second is more than is printed")
		})
	}
}

func TestQuadratureAgreesWithClosedForms(t *testing.T) {
	c := radiant(0)
	only := flow{rest: 20, rate: func(x float64) float64 {
		return -c.Body.Area / c.Body.Capacity() * radiated(c.Emissivity, unit.Celsius(x).Kelvin(), c.Room.Kelvin())
	}}
	for _, to := range []unit.Celsius{550, 300, 100, 60, 25, 20.1} {
		require.InEpsilon(t, c.RadiationTime(600, to).Seconds(), only.seconds(600, float64(to)), 1e-6,
			"radiation only, to %v (Incropera eq. 5.18)", to)
	}
	b := plateOf(copperA1, 1)
	require.InEpsilon(t, b.Capacity()/(10*b.Area)*math.Log(580/1.0), newton(b, 10, 600, 21, 20), 1e-9, "Newton's law")
}

func TestRoot(t *testing.T) {
	cases := []struct {
		name, reason string
		f            func(float64) float64
		lo, hi, want float64
	}{
		{"line", "one step", func(x float64) float64 { return 3 - x }, 0, 10, 3},
		{"fourth power", "radiation is no line", func(x float64) float64 { return 81 - x*x*x*x }, 0, 100, 3},
		{"flat at the root", "the bracket alone closes in", func(x float64) float64 { return -math.Pow(x-2, 3) }, 0, 10, 2},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) { require.InDelta(t, c.want, root(c.f, c.lo, c.hi), 1e-4, c.reason) })
	}
}

// BenchmarkHeatAndCool is what the screen asks for: how long to a heat, and how
// long until it may be touched.
func BenchmarkHeatAndCool(b *testing.B) {
	body := strip(b)
	h, c := benchHeating(body), Cooling{Body: body, Emissivity: 0.6, Room: 20}
	for b.Loop() {
		if _, err := h.Time(20, 600); err != nil {
			b.Fatal(err)
		}
		if _, err := c.Time(600, SafeTouch); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAfter(b *testing.B) {
	c := Cooling{Body: strip(b), Emissivity: 0.6, Room: 20}
	for b.Loop() {
		c.After(600, 300e9)
	}
}
