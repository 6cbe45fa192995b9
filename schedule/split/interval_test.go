package split

import (
	"math"
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
)

func TestDoubtful(t *testing.T) {
	for _, c := range []struct {
		name     string
		interval Interval
		word     string // empty counts
		reason   string
	}{
		{"whole", Interval{0.5, false}, "", "the usual one"},
		{"split", Interval{0.5, true}, "", "the usual loss"},
		{"hardly worked, whole", Interval{0.001, false}, "", "it says next to nothing, and that truly"},
		{"the most", Interval{Most, false}, "", "the bound itself counts"},
		{"no strain, split", Interval{0, true}, "not the hammer", "a flaw, or the wrong key"},
		{"no strain, whole", Interval{0, false}, "no strain", "annealed twice"},
		{"not a number", Interval{unit.Strain(math.NaN()), true}, "not a number", "a reckoning that failed"},
		{"negative", Interval{-0.2, false}, "below nothing", "no work takes strain out"},
		{"infinite", Interval{unit.Strain(math.Inf(1)), false}, "more than any hammer", "all of the thickness gone"},
		{"too much", Interval{4.01, true}, "more than any hammer", "a slipped decimal point"},
		{"split at once", Interval{0.01, true}, "not soft", "a calliper cannot tell it from nothing"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			got := Doubtful(c.interval)
			if c.word == "" {
				require.Empty(t, got, c.reason)
				return
			}
			require.Contains(t, got, c.word, c.reason)
			require.Equal(t, Prior(0.69), Prior(0.69).Learn([]Interval{c.interval}), "it is left out")
		})
	}
}
