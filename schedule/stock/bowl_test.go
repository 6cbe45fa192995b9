package stock

import (
	"math"
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
)

// The area of each form against the integral of its surface of revolution,
// 2π ∫ x ds, along its profile by the angle or the share p from 0 to 1.
//
// Outside check (reference): gonum, quad: the area of a bowl.
func TestBowlAreaIsTheIntegralOfItsSurface(t *testing.T) {
	const d, h = 100.0, 40.0
	r := d / 2
	sphere := (r*r + h*h) / (2 * h)
	half := math.Acos((sphere - h) / sphere)
	cases := []struct {
		form    BowlForm
		surface func(p float64) float64 // 2π x ds/dp
		extra   float64
		reason  string
	}{
		{FlatBottomed, func(float64) float64 { return 2 * math.Pi * r * h }, math.Pi * r * r, "wall and bottom"},
		{Hemispherical, func(p float64) float64 { return 2 * math.Pi * sphere * math.Sin(p*half) * sphere * half }, 0, "a cap of the sphere through mouth and bottom"},
		{Conical, func(p float64) float64 { return 2 * math.Pi * r * p * math.Hypot(r, h) }, 0, "along the slant"},
	}
	for _, c := range cases {
		t.Run(string(c.form), func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			b := Bowl{c.form, d, h}
			want := quad.Fixed(c.surface, 0, 1, 40, nil, 0) + c.extra
			require.InEpsilon(t, want, float64(b.Area()), 1e-9, c.reason)
			require.InEpsilon(t, want, math.Pi/4*float64(b.Disc()*b.Disc()), 1e-9, "the disc has the same area")
		})
	}
	require.Zero(t, Bowl{"", d, h}.Area(), "no form, no area")
	require.InDelta(t, 100*math.Sqrt2, float64(Bowl{Hemispherical, 100, 50}.Disc()), 1e-9, "half a sphere: √2 times its mouth")
	require.Equal(t, unit.Millimetre(150), Bowl{Hemispherical, 100, 50}.RuleDisc(), "mouth and height")
}

func TestParseBowl(t *testing.T) {
	b, err := ParseBowl(" Flat-Bottomed  10cm x 40mm ")
	require.NoError(t, err)
	require.Equal(t, Bowl{FlatBottomed, 100, 40}, b)
	for _, bad := range []string{"", "round", "conical", "conical 100", "deep 100x50", "conical 100x50x3", "conical 0x50"} {
		_, err := ParseBowl(bad)
		require.Error(t, err, bad)
	}
}
