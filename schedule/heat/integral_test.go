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

// The times that the commands print, against those by half the tolerance and by a
// ten-thousandth of it.
func TestToleranceChangesNothing(t *testing.T) {
	b := strip(t)
	h, c := benchHeating(b), Cooling{Body: b, Emissivity: 0.6, Room: 20}
	rest := float64(h.Equilibrium())
	cases := []struct {
		name, reason string
		way          way
		flow         flow
		from, to     float64
	}{
		{"heat", "through every kink of the air", h, h.flow(), 20, 600},
		{"heat from below the room", "convection turns round on the way", h, h.flow(), -20, 600},
		{"heat to near its rest", "the end of the integral is steep in T", h, h.flow(), 20, rest - 0.02},
		{"cool", "through every kink of the air", c, c.flow(), 650, 48},
		{"cool to near the room", "the integrand is smooth in ln(T - room)", c, c.flow(), 650, 20.02},
	}
	for _, k := range cases {
		t.Run(k.name, func(t *testing.T) {
			printed := taken(k.way, k.from, k.to)
			half, tight := k.flow.integral(k.from, k.to, within/2), k.flow.integral(k.from, k.to, 1e-12)
			require.InEpsilon(t, tight, printed, 1e-7, k.reason)
			require.Equal(t, math.Round(10*half), math.Round(10*printed), "a tenth of a second is more than is printed")
		})
	}
}

// radiationTime is how long a body takes to cool if it only radiates, in s, with room
// < to < from: the closed form of Incropera (eq. 5.18, from memory).
func radiationTime(c Cooling, from, to unit.Celsius) float64 {
	walls, hot, cold := float64(c.Room.Kelvin()), float64(from.Kelvin()), float64(to.Kelvin())
	scale := c.Body.capacity() / (4 * c.Emissivity * stefanBoltzmann * c.Body.Area * walls * walls * walls)
	form := func(t float64) float64 { return math.Log((t+walls)/(t-walls)) + 2*math.Atan(t/walls) }
	return scale * (form(cold) - form(hot))
}

// What the commands ask, Time and After, against the closed forms of the two laws.
//
// Outside check (handbook): cooling by radiation alone and by convection alone, closed forms
// of Incropera, from memory.
func TestTimesAgreeWithClosedForms(t *testing.T) {
	c := radiant(noAir)
	for _, to := range []unit.Celsius{550, 300, 100, 60, 25, 20.1} {
		want := radiationTime(c, 600, to)
		require.InEpsilon(t, want, taken(c, 600, float64(to)), 1e-6, "radiation only, to %v (Incropera eq. 5.18)", to)
		require.InDelta(t, float64(to), float64(c.After(600, inSeconds(want))), 1e-4, "and back, from %v", to)
	}
	b := plateOf(copperA1, 1)
	require.InEpsilon(t, b.capacity()/(10*b.Area)*math.Log(580/1.0), newton(b, 10, 600, 21, 20), 1e-9, "Newton's law")
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
