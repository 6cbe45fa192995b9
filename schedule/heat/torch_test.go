package heat

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys/unit"
)

func TestEquilibriumOfBlackCopper(t *testing.T) {
	b, err := BodyOf(copperA1, unit.Size{Shape: unit.Rectangular, Thick: 1, Width: 30}, 100)
	require.NoError(t, err)
	h := Heating{Body: b, Flame: Flame{Temp: 1225, H: 60, Faces: 1}, Emissivity: 0.6, Room: 20}
	require.InDelta(t, 570, float64(h.Equilibrium()), 15, "both halves radiate, one has air")
	_, err = h.Time(20, 600)
	require.ErrorIs(t, err, ErrNever)
	require.ErrorContains(t, err, "not with these numbers: it comes to rest at")
	h.Flame.Brick = true
	require.InDelta(t, 707, float64(h.Equilibrium()), 1, "60 (1225 - T) = 0.6 σ (T⁴ - 293⁴), by hand")
	require.Greater(t, taken(h, 20, 600), 0.0)
	balance := 60*(1225-h.Equilibrium()) - unit.Celsius(radiated(0.6, h.Equilibrium().Kelvin(), unit.Celsius(20).Kelvin()))
	require.InDelta(t, 0, float64(balance), 1e-6, "it takes in what it gives")
}

func TestWhatHelpsAHeat(t *testing.T) {
	h := benchHeating(strip(t))
	with := func(change func(*Heating)) Heating {
		out := h
		change(&out)
		return out
	}
	cases := []struct {
		name, reason string
		better       Heating
	}{
		{"brick", "the back loses nothing", with(func(h *Heating) { h.Flame.Brick = true })},
		{"both faces", "twice the heat, and no air", with(func(h *Heating) { h.Flame.Faces = 2 })},
		{"stronger", "more through each m²", with(func(h *Heating) { h.Flame.H = 120 })},
		{"hotter", "more through each m²", with(func(h *Heating) { h.Flame.Temp = 1400 })},
		{"clean", "less radiated", with(func(h *Heating) { h.Emissivity = 0.03 })},
		{"warm room", "less lost", with(func(h *Heating) { h.Room = 40 })},
		{"thinner", "less to heat", with(func(h *Heating) {
			h.Body, _ = BodyOf(copperA1, unit.Size{Shape: unit.Rectangular, Thick: 1, Width: 30}, 100)
		})},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) { require.Less(t, taken(c.better, 20, 550), taken(h, 20, 550), c.reason) })
	}
}

func TestHeatingRefuses(t *testing.T) {
	cases := []struct {
		name, reason string
		change       func(*Heating)
		from, to     unit.Celsius
		says         string
	}{
		{"faces 0", "a flame is on something", func(h *Heating) { h.Flame.Faces = 0 }, 20, 600, "1 face or 2, not 0"},
		{"faces 3", "a strip has two", func(h *Heating) { h.Flame.Faces = 3 }, 20, 600, "1 face or 2, not 3"},
		{"brick and both", "one of them is wrong", func(h *Heating) { h.Flame.Faces, h.Flame.Brick = 2, true }, 20, 600, "both faces of a piece with brick"},
		{"no flame", "no heat", func(h *Heating) { h.Flame.H = 0 }, 20, 600, "gives 0 W/m²K"},
		{"drawing heat out", "not a flame", func(h *Heating) { h.Flame.H = -60 }, 20, 600, "gives -60 W/m²K"},
		{"not a number", "no coefficient", func(h *Heating) { h.Flame.H = math.NaN() }, 20, 600, "gives NaN W/m²K"},
		{"flame at 5000", "none is", func(h *Heating) { h.Flame.Temp = 5000 }, 20, 600, "a flame at 5000 °C"},
		{"down", "that is cooling", func(*Heating) {}, 600, 100, "not heated from 600 °C to 100 °C"},
		{"absolute zero", "no temperature", func(*Heating) {}, -273.15, 600, "-273.15 °C is not believable"},
		{"to 5000", "no temperature", func(*Heating) {}, 20, 5000, "5000 °C is not believable"},
		{"hotter than the flame", "no flame does that", func(*Heating) {}, 20, 1300, "not with these numbers"},
		{"emissivity", "more than a perfect radiator", func(h *Heating) { h.Emissivity = 2 }, 20, 600, "emissivity of 2"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			h := benchHeating(strip(t))
			c.change(&h)
			_, err := h.Time(c.from, c.to)
			require.ErrorContains(t, err, c.says, c.reason)
		})
	}
}

func TestEquilibriumOfExtremes(t *testing.T) {
	for _, room := range []unit.Celsius{-200, 20, 1225, 4000} {
		for _, flame := range []unit.Celsius{-100, 1225, 4000} {
			h := benchHeating(strip(t))
			h.Room, h.Flame.Temp = room, flame
			rest := h.Equilibrium()
			require.True(t, rest >= min(room, flame)-1e-6 && rest <= max(room, flame)+1e-6, "room %v, flame %v: %v", room, flame, rest)
		}
	}
	require.Equal(t, unit.AbsoluteZero, Heating{}.Equilibrium(), "nothing to reckon with")
}

func TestHeatAndCoolAreFiguresOrErrors(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, lo, hi float64) float64 {
			return math.Exp(rapid.Float64Range(math.Log(lo), math.Log(hi)).Draw(t, name))
		}
		celsius := rapid.Float64Range(-273, 4000)
		b, err := BodyOf(brassA1, unit.Size{Shape: unit.Round, Diameter: unit.Millimetre(draw("diameter", 0.05, 1000))}, 50)
		require.NoError(t, err)
		h := Heating{Body: b, Emissivity: draw("emissivity", 1e-3, 1), Room: unit.Celsius(celsius.Draw(t, "room")), Flame: Flame{
			Temp: unit.Celsius(celsius.Draw(t, "flame")), H: draw("h", 0.1, 1e4), Faces: rapid.IntRange(1, 2).Draw(t, "faces")}}
		from, to := unit.Celsius(celsius.Draw(t, "from")), unit.Celsius(celsius.Draw(t, "to"))
		for _, w := range []way{h, h.cooling()} {
			if d, err := w.Time(from, to); err == nil {
				require.True(t, d >= 0 && d <= unit.MaxDuration, "%v", d)
			}
			later := float64(w.After(from, time.Minute))
			require.True(t, later > -273.15 && later <= 4000, "%v", later)
		}
	})
}
