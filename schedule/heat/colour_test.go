package heat

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Outside check (standard): white and primaries of sRGB, IEC 61966-2-1.
func TestSwatch(t *testing.T) {
	cases := []struct {
		name, reason string
		light        tristimulus
		hex          string
		clipped      bool
	}{
		{"white", "X, Y, Z of D65, the white of sRGB (IEC 61966-2-1)", tristimulus{0.9505, 1, 1.089}, "#ffffff", false},
		{"dim white", "as bright as a screen can, however dim the light", tristimulus{0.9505e-9, 1e-9, 1.089e-9}, "#ffffff", false},
		{"red", "the primary of sRGB, x 0.64, y 0.33 (IEC 61966-2-1)", tristimulus{0.4124, 0.2126, 0.0193}, "#ff0000", false},
		{"spectral red", "700 nm of the CIE 1931 table lies outside", tristimulus{0.01135916, 0.004102, 0}, "#ff0000", true},
		{"no light", "nothing to divide by", tristimulus{}, "#000000", false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			hex, clipped := c.light.swatch()
			require.Equal(t, c.hex, hex, c.reason)
			require.Equal(t, c.clipped, clipped, c.reason)
		})
	}
}

// The two branches of the curve meet, to the digits that IEC 61966-2-1 prints.
//
// Outside check (standard): the two branches of the curve of sRGB, IEC 61966-2-1.
func TestEncode(t *testing.T) {
	require.Zero(t, encode(0))
	require.InDelta(t, 1, encode(1), 1e-15)
	require.InDelta(t, 0.04045, encode(0.0031308), 1e-6)
	require.InDelta(t, encode(0.0031308), encode(0.00313081), 1e-5)
}
