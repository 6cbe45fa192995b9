package heat

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/schedule/internal/published"
)

const heatExamples = "heat_examples.csv"

// example is a row that the package computes, with the reason why it does.
type example struct {
	id, reason string
	compute    func() []float64
}

const noFeature = "no feature uses it yet: "

// computed are the rows that are computed, notComputed the others and why.
func computed() []example { return slices.Concat(glowRows, annealRows, heatRows) }

func notComputed() map[string]string {
	all := maps.Clone(notGlow)
	maps.Copy(all, notAnneal)
	maps.Copy(all, notHeat)
	return all
}

// Outside check (worked example): annealing, heating, cooling and glow: the rows of
// testdata/heat_examples.csv, in ACCURACY-HEAT.md.
func TestWorkedExamples(t *testing.T) {
	rows := published.Rows(t, heatExamples)
	for _, c := range computed() {
		t.Run(c.id, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			row, ok := rows[c.id]
			require.True(t, ok, "no row")
			want, within := row.Figures(t)
			got := c.compute()
			require.Len(t, got, len(want), row.Inputs)
			for i := range want {
				require.InDelta(t, want[i], got[i], within[i], "%s: %s (%s, %s)", c.id, row.Inputs, row.Source, row.Locator)
			}
		})
	}
}

func TestEveryWorkedExampleIsComputedOrSaysWhyNot(t *testing.T) {
	rows, not := published.Rows(t, heatExamples), notComputed()
	seen := map[string]bool{}
	for _, c := range computed() {
		require.False(t, seen[c.id], "%s is computed twice", c.id)
		seen[c.id] = true
	}
	for id, why := range not {
		require.Contains(t, rows, id, "listed, but no row")
		require.NotEmpty(t, strings.TrimPrefix(why, noFeature), id)
		require.False(t, seen[id], "%s is both computed and listed as not", id)
	}
	for id, r := range rows {
		require.True(t, seen[id] || not[id] != "", "%s is neither computed nor listed", id)
		require.Contains(t, []string{"anneal", "grain", "heat", "glow"}, r.Area, id)
		require.NotEmpty(t, r.Source, id)
		require.NotEmpty(t, r.Locator, id)
	}
}
