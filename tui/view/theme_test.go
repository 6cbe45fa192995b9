package view

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
)

var (
	themes = []Theme{Dark, Light, Contrast, Hearth}
	states = []Role{Calm, Soon, Act, Fire, Hot, Ask, Fault, Alarm}
	urgent = []Role{Act, Hot, Fault, Alarm}
)

func TestThemeNames(t *testing.T) {
	for i, want := range []string{"dark", "light", "high contrast", "hearth"} {
		require.Equal(t, want, themes[i].String())
	}
	require.Equal(t, "theme 9", Theme(9).String())
	require.Len(t, themes, themeCount)
}

func TestUnknownThemesAndRolesAreLegible(t *testing.T) {
	require.Equal(t, Dark.Ink(Calm), Theme(200).Ink(Calm))
	require.Equal(t, Light.Ink(Plain), Light.Ink(Role(200)))
}

// leastContrast is what a role must reach against its own ground.
func leastContrast(r Role) float64 {
	switch r {
	case Dim:
		return 4.5 // WCAG 1.4.3
	case Rest, Tick:
		return 3 // WCAG 1.4.11, graphics
	}
	return 7 // WCAG 1.4.6
}

// Outside check (standard): contrast of every role of every look, WCAG 1.4.3, 1.4.6 and
// 1.4.11.
func TestContrastOfEveryRole(t *testing.T) {
	for _, theme := range themes {
		for r := Plain; r < Glow0; r++ {
			t.Run(fmt.Sprint(theme, " ", r), func(t *testing.T) {
				ink := theme.Ink(r)
				require.GreaterOrEqual(t, ContrastRatio(ink.Fg, ink.Bg), leastContrast(r), "%s on %s", ink.Fg, ink.Bg)
			})
		}
	}
}

// The plates of what is urgent stand out of the page by their ground alone, but
// not by the hearth, where no ground is light.
func TestPlatesStandOutOfThePage(t *testing.T) {
	for _, theme := range []Theme{Light, Contrast, Dark} {
		page := theme.Ink(Plain).Bg
		for _, r := range urgent {
			least := 1.5 // dark red on a dark page: its letters are white
			if r != Fault {
				least = 3
			}
			require.GreaterOrEqual(t, ContrastRatio(theme.Ink(r).Bg, page), least, "%s %s", theme, r)
		}
	}
}

// The pages are dark but for Light, whose page is light.
func TestPages(t *testing.T) {
	for _, theme := range themes {
		light := theme.Ink(Plain).Bg.Luminance() > middleLuminance
		require.Equal(t, theme == Light, light, theme)
	}
}

// What is urgent differs from carry on in brightness, for eyes that see no hue, and
// with no colour by reverse. By the hearth all inks have nearly one brightness
// (7:1 allows none darker, the dark none lighter), and reverse and words remain.
func TestUrgentDiffersFromCalmWithoutHue(t *testing.T) {
	for _, theme := range themes {
		calm := theme.Ink(Calm)
		for _, r := range urgent {
			ink := theme.Ink(r)
			require.NotEqual(t, calm.Reverse, ink.Reverse, "%s %s", theme, r)
			apart := max(ContrastRatio(calm.Fg, ink.Fg), ContrastRatio(calm.Bg, ink.Bg))
			if theme != Hearth {
				require.GreaterOrEqual(t, apart, 1.5, "%s %s", theme, r)
			}
		}
	}
}

// Without green there is no pair of red and green to mistake.
func TestNoStateIsGreen(t *testing.T) {
	for _, theme := range themes {
		for _, r := range states {
			ink := theme.Ink(r)
			for _, c := range []RGB{ink.Fg, ink.Bg} {
				require.False(t, c.G > c.R && c.G > c.B, "%s %s %s", theme, r, c)
			}
			require.NotEqual(t, int8(2), ink.Fg8, "%s %s", theme, r)
			require.NotEqual(t, int8(2), ink.Bg8, "%s %s", theme, r)
		}
	}
}

func TestStatesDifferPairwise(t *testing.T) {
	readings := []struct {
		name string
		look func(Ink) any
	}{
		{"many colours", func(i Ink) any { return [2]RGB{i.Fg, i.Bg} }},
		{"8 colours", func(i Ink) any { return [4]any{i.Fg8, i.Bg8, i.Bold, i.Underline} }},
		{"no colour", func(i Ink) any { return [3]bool{i.Bold, i.Reverse, i.Underline} }},
	}
	for _, reading := range readings {
		for _, theme := range themes {
			t.Run(fmt.Sprint(theme, ", ", reading.name), func(t *testing.T) {
				seen := map[any]Role{}
				for _, r := range states {
					look := reading.look(theme.Ink(r))
					require.NotContains(t, seen, look, "%s looks like %s", r, seen[look])
					seen[look] = r
				}
			})
		}
	}
}

// But by the hearth, with two usable colours, the 8-colour states differ by colour
// alone and need no attribute.
func TestStatesDifferByColourAloneWhereTheyCan(t *testing.T) {
	for _, theme := range []Theme{Dark, Light, Contrast} {
		seen := map[[2]int8]Role{}
		for _, r := range states {
			pair := [2]int8{theme.Ink(r).Fg8, theme.Ink(r).Bg8}
			require.NotContains(t, seen, pair, "%s: %s looks like %s", theme, r, seen[pair])
			seen[pair] = r
		}
	}
}

func TestReverseMeansNow(t *testing.T) {
	want := map[Role]bool{Act: true, Hot: true, Fault: true, Alarm: true, Focus: true}
	for r := range Role(roleCount) {
		require.Equal(t, want[r], Dark.Ink(r).Reverse, r)
	}
}

// The 8 colours of two terminals: xterm's defaults (red3, green3, yellow3, blue2,
// magenta3, cyan3, gray90 of X11), and those of the Linux console.
var (
	xterm   = [8]uint32{0x000000, 0xcd0000, 0x00cd00, 0xcdcd00, 0x0000ee, 0xcd00cd, 0x00cdcd, 0xe5e5e5}
	console = [8]uint32{0x000000, 0xaa0000, 0x00aa00, 0xaa5500, 0x0000aa, 0xaa00aa, 0x00aaaa, 0xaaaaaa}
)

// With 8 colours 7:1 cannot be had for eight states. Every role keeps the 3:1 of
// large text (WCAG 1.4.3) but red on the console's black, which is 2.7:1.
//
// Outside check (standard): contrast with eight colours, WCAG 1.4.3.
func TestContrastWithEightColours(t *testing.T) {
	cases := []struct {
		name    string
		palette [8]uint32
		theme   Theme
		least   float64
	}{
		{"xterm, dark", xterm, Dark, 3}, {"xterm, light", xterm, Light, 3},
		{"xterm, high contrast", xterm, Contrast, 4.5}, {"xterm, hearth", xterm, Hearth, 3},
		{"console, dark", console, Dark, 3}, {"console, light", console, Light, 3},
		{"console, high contrast", console, Contrast, 3}, {"console, hearth", console, Hearth, 2.7},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			for r := Plain; r < Glow0; r++ {
				ink := c.theme.Ink(r)
				ratio := ContrastRatio(hex(c.palette[ink.Fg8]), hex(c.palette[ink.Bg8]))
				require.GreaterOrEqual(t, ratio, c.least, "%s: %d on %d", r, ink.Fg8, ink.Bg8)
			}
		})
	}
}

func TestHearthSparesTheDarkAdaptedEye(t *testing.T) {
	brightest := 0.0
	for r := range Role(roleCount) {
		ink := Hearth.Ink(r)
		for _, c := range []RGB{ink.Fg, ink.Bg} {
			require.LessOrEqual(t, 3*int(c.B), int(c.R), "%s %s: too blue", r, c)
		}
		require.Less(t, ink.Bg.Luminance(), 0.02, "%s: light ground", r)
		require.Contains(t, []int8{0, 1, 3}, ink.Fg8, r)
		require.Zero(t, ink.Bg8, r)
		brightest = max(brightest, ink.Fg.Luminance())
	}
	// 7:1 on black is a luminance of 7 x 0.05 - 0.05 = 0.30, and a dim red ground
	// under the letters asks for a little more.
	require.Greater(t, brightest, 0.30)
	require.Less(t, brightest, 0.41)
	require.Less(t, brightest, Dark.Ink(Plain).Fg.Luminance()/1.9, "half as bright as the dark page")
}

func TestGlowsRiseInOrder(t *testing.T) {
	for _, theme := range themes {
		last := -1.0
		for r := Glow0; r <= Glow5; r++ {
			ink := theme.Ink(r)
			require.Greater(t, ink.Fg.Luminance(), last, r)
			require.GreaterOrEqual(t, ink.Fg.R, ink.Fg.G, r)
			require.GreaterOrEqual(t, ink.Fg.G, ink.Fg.B, r)
			require.Equal(t, theme.Ink(Plain).Bg, ink.Bg, "a swatch lies on the page")
			last = ink.Fg.Luminance()
		}
		require.Less(t, theme.Ink(Glow0).Fg.Luminance(), 0.005, "no glow is nearly black")
	}
}
