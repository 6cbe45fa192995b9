package heat

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys/unit"
)

func TestCleanSilverHeatsFasterAndCoolsSlower(t *testing.T) {
	b, err := BodyOf(silverA1, unit.Size{Shape: unit.Rectangular, Thick: 1, Width: 30}, 100)
	require.NoError(t, err)
	clean, black := benchHeating(b), benchHeating(b)
	clean.Emissivity, black.Emissivity = 0.03, 0.8
	require.Less(t, taken(clean, 20, 600), taken(black, 20, 600), "it radiates less of the flame away")
	require.Greater(t, clean.Equilibrium(), black.Equilibrium())
	require.Greater(t, taken(clean.cooling(), 600, 48), taken(black.cooling(), 600, 48), "and holds its heat longer")
}

func TestCoolingRefuses(t *testing.T) {
	good := Cooling{Body: strip(t), Emissivity: 0.6, Room: 20}
	with := func(change func(*Cooling)) Cooling {
		c := good
		change(&c)
		return c
	}
	cases := []struct {
		name, reason string
		cooling      Cooling
		from, to     unit.Celsius
		says         string
	}{
		{"room", "it only comes near", good, 600, 20, "never cools to 20 °C in a room at 20 °C"},
		{"below the room", "not by itself", good, 600, 5, "never cools to 5 °C"},
		{"same", "nothing to wait for", good, 600, 600, "does not cool from 600 °C to 600 °C"},
		{"up", "that is heating", good, 100, 600, "does not cool from 100 °C to 600 °C"},
		{"absolute zero", "no temperature", good, -273.15, -280, "-273.15 °C is not believable"},
		{"too hot", "above every flame", good, 5000, 48, "5000 °C is not believable"},
		{"not a number", "no temperature", good, unit.Celsius(math.NaN()), 48, "is not believable"},
		{"room at absolute zero", "no room", with(func(c *Cooling) { c.Room = -300 }), 600, 48, "-300 °C is not believable"},
		{"emissivity", "more than a perfect radiator", with(func(c *Cooling) { c.Emissivity = 1.2 }), 600, 48, "emissivity of 1.2 cannot be"},
		{"coefficient", "heat does not flow up", with(func(c *Cooling) { c.H = -5 }), 600, 48, "-5 W/m²K is not believable"},
		{"no body", "nothing to cool", Cooling{Emissivity: 0.6, Room: 20}, 600, 48, "a body of no size"},
		{"a year", "a metre of clean copper in still air is quicker than that", with(func(c *Cooling) { c.Emissivity, c.H = 0, 1e-9 }), 600, 48, "more than a year"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := c.cooling.Time(c.from, c.to)
			require.ErrorContains(t, err, c.says, c.reason)
		})
	}
}

func TestAfterUndoesTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		thick := rapid.Float64Range(0.2, 20).Draw(t, "thick")
		b, err := BodyOf(copperA1, unit.Size{Shape: unit.Rectangular, Thick: unit.Millimetre(thick), Width: 30}, 100)
		require.NoError(t, err)
		c := Cooling{Body: b, Emissivity: rapid.Float64Range(0.01, 1).Draw(t, "emissivity"), Room: 20}
		from := unit.Celsius(rapid.Float64Range(100, 1000).Draw(t, "from"))
		to := 20 + (from-20)*unit.Celsius(rapid.Float64Range(0.01, 0.99).Draw(t, "way"))
		d, err := c.Time(from, to)
		require.NoError(t, err)
		require.InDelta(t, float64(to), float64(c.After(from, d)), 1e-4)
		h := Heating{Body: b, Flame: Flame{Temp: 1225, H: 100, Faces: 1}, Emissivity: c.Emissivity, Room: 20}
		up := 20 + (h.Equilibrium()-20)*unit.Celsius(rapid.Float64Range(0.01, 0.99).Draw(t, "way up"))
		d, err = h.Time(20, up)
		require.NoError(t, err)
		require.InDelta(t, float64(up), float64(h.After(20, d)), 1e-4)
	})
}

func TestAfterAlways(t *testing.T) {
	c := Cooling{Body: strip(t), Emissivity: 0.6, Room: 20}
	require.EqualValues(t, 600, c.After(600, 0), "no time")
	require.EqualValues(t, 600, c.After(600, -time.Minute), "no time backwards")
	require.EqualValues(t, 10, c.After(10, time.Hour), "colder than the room is not cooling")
	require.EqualValues(t, 20, c.After(600, unit.MaxDuration), "the room's, and no lower")
	require.EqualValues(t, 600, Cooling{}.After(600, time.Hour), "nothing to reckon with")
	h := benchHeating(strip(t))
	rest := h.Equilibrium()
	require.Equal(t, rest, h.After(20, unit.MaxDuration), "it rests")
	require.Equal(t, rest, h.After(rest+200, unit.MaxDuration), "from above, too")
	require.Less(t, h.After(rest+200, 10*time.Second), rest+200, "a flame can be too cool")
}

func TestBiotOfABenchPiece(t *testing.T) {
	c := Cooling{Body: strip(t), Emissivity: 0.7, Room: 20}
	require.InDelta(t, 39, radiationCoefficient(0.7, unit.Celsius(600).Kelvin(), unit.Celsius(20).Kelvin()), 1,
		"4 x natural convection at an annealing heat, by hand")
	require.InEpsilon(t, c.Coefficient(600)*c.Body.ratio()/401, c.Biot(600), 1e-12)
	require.Less(t, c.Biot(600), 0.01, "one temperature holds for its thickness")
	require.Zero(t, c.Coefficient(5000), "no such heat")
	require.Zero(t, Cooling{}.Biot(600), "nothing to reckon with")
	require.Zero(t, Heating{}.Biot(600), "nothing to reckon with")
	require.Zero(t, Body{}.Biot(10), "nothing to reckon with")
}
