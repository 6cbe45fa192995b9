package trial

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestBetweenPoints(t *testing.T) {
	p := Policy{Points: []Point{{Heats: 10, Split: 10}, {Heats: 8, Split: 40}, {Heats: 6, Split: 160}, {Heats: 5, Split: 0}}}
	for _, c := range []struct {
		name  string
		heats float64
		split float64 // 0: out of reach
		why   string
	}{
		{"at a point", 8, 40, "the point itself"},
		{"half way", 9, 20, "the geometric mean of 10 and 40"},
		{"half way on", 7, 80, "the geometric mean of 40 and 160"},
		{"the cautious end", 10, 10, "the last point"},
		{"beyond it", 10.1, 0, "nothing is known there"},
		{"none split", 5, rare, "a point without splits counts as less than one in the run"},
		{"too daring", 4.9, 0, "nor there"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.why)
			got, ok := p.At(c.heats)
			require.Equal(t, c.split > 0, ok, c.why)
			require.InDelta(t, c.split, got, 0.05, c.why)
		})
	}
	_, ok := Policy{}.At(7)
	require.False(t, ok)
}
