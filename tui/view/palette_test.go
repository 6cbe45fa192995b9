package view

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Outside check (standard): contrast ratios, WCAG 2.
func TestContrastRatio(t *testing.T) {
	cases := []struct {
		name   string
		a, b   uint32
		want   float64
		within float64
		source string
	}{
		{"black on white", 0x000000, 0xffffff, 21, 1e-9, "WCAG 2.x: ratios run from 1 to 21"},
		{"the same twice", 0x336699, 0x336699, 1, 1e-9, "WCAG 2.x: ratios run from 1 to 21"},
		{"grey 777777 on white", 0x777777, 0xffffff, 4.48, 0.005, "issue 200 of the WCAG repository: 4.48, which must not be rounded up"},
		{"grey 999999 on white", 0x999999, 0xffffff, 2.85, 0.005, "commonly published example"},
		{"pure red on black", 0xff0000, 0x000000, 5.252, 0.0005, "(0.2126 + 0.05) / 0.05, from the formula"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.source)
			require.InDelta(t, c.want, ContrastRatio(hex(c.a), hex(c.b)), c.within)
			require.InDelta(t, c.want, ContrastRatio(hex(c.b), hex(c.a)), c.within, "either order")
		})
	}
}

func TestLuminanceOfThePrimaries(t *testing.T) {
	require.InDelta(t, 0.2126, hex(0xff0000).Luminance(), 1e-12)
	require.InDelta(t, 0.7152, hex(0x00ff00).Luminance(), 1e-12)
	require.InDelta(t, 0.0722, hex(0x0000ff).Luminance(), 1e-12)
}

// No 8-bit channel lies between the two knees that WCAG has published.
//
// Outside check (standard): the two knees of sRGB that WCAG has published.
func TestTheTwoKneesAgree(t *testing.T) {
	for v := range 256 {
		share := float64(v) / 255
		require.Equal(t, share <= 0.03928, share <= 0.04045, "channel %d", v)
	}
}

func TestMiddleLuminance(t *testing.T) {
	withWhite := (1 + flare) / (middleLuminance + flare)
	withBlack := (middleLuminance + flare) / flare
	require.InDelta(t, withWhite, withBlack, 0.005)
}

func TestRGBString(t *testing.T) {
	require.Equal(t, "#0a64ff", hex(0x0a64ff).String())
	require.Equal(t, RGB{0x0a, 0x64, 0xff}, hex(0x0a64ff))
}
