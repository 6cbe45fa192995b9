package heat

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys/unit"
)

// radiator is a row of the table of perfect radiators.
type radiator struct {
	kelvin, x, y, luminance, luminance5nm, steepness float64
	hex, hexOfBytes                                  string
}

func readRadiators(t *testing.T) []radiator {
	t.Helper()
	f, err := os.Open("../../testdata/glow.csv")
	require.NoError(t, err)
	defer f.Close()
	in := csv.NewReader(f)
	in.Comment = '#'
	records, err := in.ReadAll()
	require.NoError(t, err)
	at := map[string]int{}
	for i, name := range records[0] {
		at[name] = i
	}
	var all []radiator
	for _, r := range records[1:] {
		figure := func(name string) float64 {
			require.Contains(t, at, name)
			v, err := strconv.ParseFloat(r[at[name]], 64)
			require.NoError(t, err)
			return v
		}
		all = append(all, radiator{kelvin: figure("T_K"), x: figure("x"), y: figure("y"), luminance: figure("Y_cd_m2"),
			luminance5nm: figure("Y_cd_m2_5nm_360_830"), steepness: figure("dlnY_dlnT"), hex: r[at["hex"]],
			hexOfBytes: fmt.Sprintf("#%02x%02x%02x", int(figure("R8")), int(figure("G8")), int(figure("B8")))})
	}
	return all
}

// Computed apart with steps of 1 nm; the 5 nm of this package must come within 1e-4
// of it, and meet the 5 nm column to all its digits.
//
// Outside check (standard): the rows of testdata/glow.csv: perfect radiators by CODATA 2018
// through the CIE 1931 observer, recomputed apart.
func TestGlowOfPerfectRadiators(t *testing.T) {
	all := readRadiators(t)
	require.Len(t, all, 16)
	for _, want := range all {
		t.Run(fmt.Sprintf("%.0f K", want.kelvin), func(t *testing.T) {
			got := GlowAt(unit.Kelvin(want.kelvin).Celsius(), 1)
			require.InEpsilon(t, want.x, got.X, 1e-4)
			require.InEpsilon(t, want.y, got.Y, 1e-4)
			require.InEpsilon(t, want.luminance, got.Luminance, 1e-4)
			require.InEpsilon(t, want.luminance5nm, got.Luminance, 1e-6)
			require.Equal(t, want.hex, got.SRGB)
			require.Equal(t, want.hexOfBytes, got.SRGB)
			require.True(t, got.Clipped, "all of them lie outside of a screen")
			up, down := luminance(unit.Kelvin(want.kelvin*1.0001)), luminance(unit.Kelvin(want.kelvin*0.9999))
			require.InEpsilon(t, want.steepness, math.Log(up/down)/math.Log(1.0001/0.9999), 1e-4)
		})
	}
}

func TestGlowAtTheEdges(t *testing.T) {
	cases := []struct {
		name, reason string
		temp         unit.Celsius
		emissivity   float64
		black        bool
	}{
		{"absolute zero", "no light at all", unit.AbsoluteZero, 1, true},
		{"below absolute zero", "no such heat, no light", -300, 1, true},
		{"just above absolute zero", "the exponential overflows", -273, 1, true},
		{"a room", "the luminance is far below any eye", 20, 1, true},
		{"just too faint", "below 1e-6 cd/m²", 330, 1, true},
		{"just bright enough", "above 1e-6 cd/m²", 340, 1, false},
		{"barely lit", "3.8e-5 cd/m² at 400 °C", 400, 1, false},
		{"a poor radiator", "the same at an emissivity of 0.02 is 8e-7 cd/m²", 400, 0.02, true},
		{"the hottest that is taken", "no overflow", 4000, 1, false},
		{"no emissivity", "no light of its own", 900, 0, true},
		{"emissivity not a number", "unknown gives nothing", 900, math.NaN(), true},
		{"not a number", "an unknown heat gives nothing", unit.Celsius(math.NaN()), 1, true},
		{"without end", "taken as 10000 K", unit.Celsius(math.Inf(1)), 1, false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			g := GlowAt(c.temp, c.emissivity)
			for _, v := range []float64{g.X, g.Y, g.Luminance} {
				require.False(t, math.IsNaN(v) || v < 0, c.reason)
			}
			require.LessOrEqual(t, g.X+g.Y, 1.0)
			require.Equal(t, c.black, g.SRGB == "#000000", "%s: %s at %g", c.reason, g.SRGB, g.Luminance)
			require.False(t, c.black && g.Clipped)
		})
	}
}

// A grey surface gives the same light, only less of it.
func TestGlowOfAGreySurface(t *testing.T) {
	black, grey := GlowAt(800, 1), GlowAt(800, 0.25)
	require.InEpsilon(t, black.Luminance/4, grey.Luminance, 1e-12)
	require.Equal(t, [2]float64{black.X, black.Y}, [2]float64{grey.X, grey.Y})
	require.Equal(t, black.SRGB, grey.SRGB)
	require.Equal(t, black, GlowAt(800, 7), "more than a perfect radiator is cut to it")
}

func TestTemperatureOfIsTheInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		temp := unit.Celsius(rapid.Float64Range(-150, 4000).Draw(t, "temperature"))
		require.InDelta(t, float64(temp), float64(temperatureOf(GlowAt(temp, 1).Luminance)), 1e-5)
	})
}

func TestTemperatureOfTheEdges(t *testing.T) {
	cold, hot := unit.AbsoluteZero, unit.Kelvin(hottest).Celsius()
	for given, want := range map[float64]unit.Celsius{0: cold, -1: cold, 1e-300: cold, math.Inf(1): hot, 1e30: hot} {
		require.Equal(t, want, temperatureOf(given), "%g cd/m²", given)
	}
	require.Equal(t, cold, temperatureOf(math.NaN()))
}

// Below about -230 °C the light in the visible is less than the smallest number there
// is, so it is 0 and rises no further.
func TestLuminanceRisesWithTemperature(t *testing.T) {
	require.Zero(t, GlowAt(-250, 1).Luminance)
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-200, 3999).Draw(t, "low")
		high := rapid.Float64Range(low+0.01, 4000).Draw(t, "high")
		e := rapid.Float64Range(0.01, 1).Draw(t, "emissivity")
		require.Less(t, GlowAt(unit.Celsius(low), e).Luminance, GlowAt(unit.Celsius(high), e).Luminance)
	})
}

func BenchmarkGlowAt(b *testing.B) {
	for b.Loop() {
		GlowAt(650, 0.6)
	}
}

func BenchmarkTemperatureOf(b *testing.B) {
	for b.Loop() {
		temperatureOf(1)
	}
}
