package stock

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestRingBlank(t *testing.T) {
	cases := []struct {
		name         string
		ring         Ring
		blank, trade float64
		reason       string
	}{
		{"narrow", Ring{17.3, 1, 3, 0}, math.Pi * 18.3, math.Pi * 18.3, "nothing is added up to 4 mm"},
		{"just 4 wide", Ring{17.3, 1, 4, 0}, math.Pi * 18.3, math.Pi * 18.3, "wider than 4, not as wide"},
		{"wide", Ring{17.3, 1, 6, 0}, math.Pi * 18.3, math.Pi*18.3 + 0.5, "craft pages add 0.5 mm"},
		{"open bangle", Ring{62, 3, 8, 25}, math.Pi*65 - 25, math.Pi*65 - 24.5, "the gap is not made"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.NoError(t, c.ring.Check())
			require.InDelta(t, c.blank, float64(c.ring.Blank()), 1e-9, c.reason)
			require.InDelta(t, c.trade, float64(c.ring.TradeBlank()), 1e-9, c.reason)
			require.NoError(t, c.ring.Shape().Check())
			require.InDelta(t, c.blank*float64(c.ring.Thick*c.ring.Width), float64(c.ring.Shape().Volume()), 1e-6)
		})
	}
	require.ErrorContains(t, Ring{62, 3, 8, 300}.Check(), "leaves nothing")
	require.ErrorContains(t, Ring{62, 3, 8, -1}.Check(), "no gap")
	require.Error(t, Ring{}.Check())
}

// Outside check (standard): ring sizes of ISO 8653, from memory.
func TestParseRing(t *testing.T) {
	cases := []struct {
		name, text string
		inside     float64
		reason     string
	}{
		{"in mm", "17.3x1.5x4", 17.3, "inside diameter first"},
		{"ISO 8653", "iso 54 x1.5x4", 54 / math.Pi, "the number is the inside circumference (from memory)"},
		{"United States", "US7 x 1.5 x 4", 25.4 * 0.682, "0.458 + 0.032 x 7 inches (from memory)"},
		{"half a size", "us 6,5x1.5x4", 25.4 * 0.666, "a comma is a point"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			r, err := ParseRing(c.text)
			require.NoError(t, err)
			require.InDelta(t, c.inside, float64(r.Inside), 1e-9, c.reason)
			require.InDeltaSlice(t, []float64{1.5, 4}, []float64{float64(r.Thick), float64(r.Width)}, 0)
		})
	}
	for _, bad := range []string{"", "62x3", "62", "iso 54", "iso 54 x3", "iso 200 x1x2", "us x1x2", "12x1 tube"} {
		_, err := ParseRing(bad)
		require.Error(t, err, bad)
	}
}

func TestGapOf(t *testing.T) {
	s := mustShape(t, "0:6x3 95:18x3 190:6x3")
	require.InDelta(t, math.Pi*65-190, float64(s.GapOf(62)), 1e-9, "a band 190 long round 62 is open by 14.2 mm")
	require.Negative(t, float64(s.GapOf(50)), "round 50 the ends pass each other")
}
