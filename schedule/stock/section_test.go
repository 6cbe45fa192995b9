package stock

import (
	"math"
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
)

func TestSection(t *testing.T) {
	cases := []struct {
		name, text, want string
		area             float64
		size             string // empty for none
		reason           string
	}{
		{"width first", "18x3", "18x3", 54, "3x18 mm", "a calliper reads thickness x width"},
		{"square", "8 square", "8 square", 64, "8 mm square", "one reading"},
		{"equal sides are no square", "8x8", "8x8", 64, "8x8 mm", "as it was typed"},
		{"round", "4 round", "4 round", 4 * math.Pi, "4 mm round", "π r²"},
		{"half round", "6 D", "6x3 D", 4.5 * math.Pi, "", "half of π r²"},
		{"low half round", "6x2 D", "6x2 D", 3 * math.Pi, "", "half of an ellipse, π a b / 2"},
		{"lozenge", "7x5 lozenge", "7x5 lozenge", 17.5, "", "half its box"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			s, err := ParseSection(c.text)
			require.NoError(t, err)
			require.Equal(t, c.want, s.String(), c.reason)
			require.InDelta(t, c.area, float64(s.Area()), 1e-12, c.reason)
			size, ok := s.Size()
			require.Equal(t, c.size != "", ok)
			if ok {
				require.Equal(t, c.size, size.String(), c.reason)
				require.NoError(t, size.Check())
			}
		})
	}
	require.Zero(t, Section{Width: 3, Thick: 3}.Area(), "an unknown section has no area")
	require.Equal(t, "5.3x0.01", Section{Rectangular, 5.2999999, 0.01}.Short(), "too small for a tenth is kept")
	require.Equal(t, []string{"unknown", "rectangular", "square", "round", "D", "lozenge"},
		[]string{Unknown.String(), Rectangular.String(), Square.String(), Round.String(), D.String(), Lozenge.String()})
}

// The half ellipse beside the segment of a circle, r²/2 (θ - sin θ), that a low
// half round may be instead.
func TestHalfRoundAgainstTheSegmentOfACircle(t *testing.T) {
	segment := func(w, h float64) float64 {
		r := (w*w/4 + h*h) / (2 * h)
		angle := 2 * math.Asin(w/2/r)
		return r * r / 2 * (angle - math.Sin(angle))
	}
	require.InEpsilon(t, segment(6, 3), float64(Section{D, 6, 3}.Area()), 1e-12, "half a circle is both")
	for _, h := range []float64{0.1, 0.5, 1, 1.5, 2, 2.5} {
		most := float64(Section{D, 6, unit.Millimetre(h)}.Area())
		require.Greater(t, most, segment(6, h))
		require.Less(t, most, 1.2*segment(6, h), "overstated by less than a fifth")
		require.Less(t, 1-segment(6, h)/most, 0.152, "15 per cent less at most")
	}
}
