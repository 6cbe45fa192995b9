package heat

import (
	"encoding/csv"
	"maps"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// exampleRow is one row of the worked examples.
type exampleRow struct {
	ID, Area, Inputs, Expected, Unit, Tolerance, Source, Locator string
}

// example is a row that the package computes, with the reason why it does.
type example struct {
	id, reason string
	compute    func() []float64
}

// readExamples reads the worked examples by id.
func readExamples(t *testing.T) map[string]exampleRow {
	t.Helper()
	f, err := os.Open("../../testdata/heat_examples.csv")
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	records, err := r.ReadAll()
	require.NoError(t, err)
	require.Equal(t, "id,area,inputs,expected,unit,tolerance,source,locator", strings.Join(records[0], ","))
	rows := map[string]exampleRow{}
	for _, c := range records[1:] {
		require.NotContains(t, rows, c[0], "an id twice")
		rows[c[0]] = exampleRow{c[0], c[1], c[2], c[3], c[4], c[5], c[6], c[7]}
	}
	return rows
}

// figures are the answers of a row, and the absolute tolerance of each.
func (r exampleRow) figures(t *testing.T) (want, within []float64) {
	t.Helper()
	tolerances := strings.Split(r.Tolerance, ";")
	for i, text := range strings.FieldsFunc(r.Expected, func(c rune) bool { return c == ';' || c == ',' }) {
		v, err := strconv.ParseFloat(text, 64)
		require.NoError(t, err, r.ID)
		number, relative := strings.CutSuffix(tolerances[min(i, len(tolerances)-1)], " rel")
		tol, err := strconv.ParseFloat(number, 64)
		require.NoError(t, err, "%s has no tolerance to compute within", r.ID)
		if relative {
			tol *= math.Abs(v)
		}
		want, within = append(want, v), append(within, tol)
	}
	return want, within
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

func TestWorkedExamples(t *testing.T) {
	rows := readExamples(t)
	for _, c := range computed() {
		t.Run(c.id, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			row, ok := rows[c.id]
			require.True(t, ok, "no row")
			want, within := row.figures(t)
			got := c.compute()
			require.Len(t, got, len(want), row.Inputs)
			for i := range want {
				require.InDelta(t, want[i], got[i], within[i], "%s: %s (%s, %s)", c.id, row.Inputs, row.Source, row.Locator)
			}
		})
	}
}

func TestEveryWorkedExampleIsComputedOrSaysWhyNot(t *testing.T) {
	rows, not := readExamples(t), notComputed()
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
