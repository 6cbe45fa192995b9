// Package published reads the published examples that tests compare with, and holds
// the pages of what they came to. It is for tests alone.
package published

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const folder = "../../testdata/" // from a package under schedule

// Row is one example. Several answers are parted by semicolons, and so are their
// units and tolerances.
type Row struct {
	ID, Area, Inputs, Expected, Unit, Tolerance, Source, Locator string
}

// Rows reads a table of examples by id.
func Rows(t *testing.T, name string) map[string]Row {
	t.Helper()
	return rowsIn(t, folder, name)
}

func rowsIn(t *testing.T, folder, name string) map[string]Row {
	t.Helper()
	f, err := os.Open(folder + name)
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	records, err := r.ReadAll()
	require.NoError(t, err)
	require.Equal(t, "id,area,inputs,expected,unit,tolerance,source,locator", strings.Join(records[0], ","))
	rows := map[string]Row{}
	for _, c := range records[1:] {
		require.NotContains(t, rows, c[0], "an id twice")
		rows[c[0]] = Row{c[0], c[1], c[2], c[3], c[4], c[5], c[6], c[7]}
	}
	return rows
}

// Figures are the answers of a row and the absolute tolerance of each; the last one
// holds for those that have none of their own. "rel" makes one relative.
func (r Row) Figures(t *testing.T) (want, within []float64) {
	t.Helper()
	tolerances := strings.Split(r.Tolerance, ";")
	for i, v := range Numbers(t, r.Expected, ";,") {
		number, relative := strings.CutSuffix(tolerances[min(i, len(tolerances)-1)], " rel")
		tol, err := strconv.ParseFloat(number, 64)
		require.NoError(t, err, "%s has no tolerance to compute within", r.ID)
		if relative {
			tol *= math.Abs(v)
		}
		want, within = append(want, v), append(within, tol)
	}
	require.LessOrEqual(t, len(tolerances), len(want), "%s has more tolerances than answers", r.ID)
	return want, within
}

// Numbers reads figures with one of the separators between two of them.
func Numbers(t *testing.T, text, separators string) (all []float64) {
	t.Helper()
	for part := range strings.SplitSeq(strings.Map(func(c rune) rune {
		if strings.ContainsRune(separators, c) {
			return ';'
		}
		return c
	}, text), ";") {
		v, err := strconv.ParseFloat(part, 64)
		require.NoError(t, err, text)
		all = append(all, v)
	}
	return all
}
