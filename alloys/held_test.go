package alloys

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What is read late of each metal is what reading all tables at once gives.
func TestLateIsWhole(t *testing.T) {
	whole, err := Read(embeddedTexts())
	require.NoError(t, err)
	require.Len(t, Solders(), len(whole.solders))
	require.Len(t, All(), len(whole.alloys))
	figures := 0
	for i, late := range All() {
		at := whole.alloys[i]
		require.Equal(t, at.ID, late.ID)
		require.Equal(t, at.held.figures, late.held.all().figures, late.ID)
		require.Equal(t, at.held.rules, late.held.all().rules, late.ID)
		require.Equal(t, at.held.curves(), late.held.curves(), late.ID)
		figures += len(late.held.figures)
	}
	require.Positive(t, figures)
	for i, late := range Solders() {
		require.Equal(t, whole.solders[i].ID, late.ID)
		require.Equal(t, whole.solders[i].held.figures, late.held.all().figures, late.ID)
	}
	require.Equal(t, whole.Figures(), Default().Figures())
}

// To name the metals reads the figures of none.
func TestNamesReadNoFigures(t *testing.T) {
	b := readNames()
	_, err := b.Find("sterling")
	require.NoError(t, err)
	for _, a := range b.alloys {
		require.Empty(t, a.held.figures, a.ID)
	}
	silver := b.alloys[b.names[plain("sterling")].index]
	require.NotEmpty(t, silver.Figures(Density))
	require.NotEmpty(t, silver.held.figures)
	copied, _ := b.Find("sterling")
	require.Same(t, silver.held, copied.held, "copies share what was read")
}

// The rows of a metal stand together in the embedded tables, or some would be lost, and
// no row is longer than its line.
func TestRowsOfAMetalStandTogether(t *testing.T) {
	for name, table := range map[string]string{"figures": figuresCSV, "rules": rulesCSV} {
		require.True(t, strings.HasSuffix(table, "\n"), name)
		seen, last := map[string]bool{}, ""
		for line := range strings.Lines(strings.TrimPrefix(table, head(table))) {
			id, _, _ := strings.Cut(line, ",")
			require.Zero(t, strings.Count(line, `"`)%2, "%s: a field goes on in the next line: %s", name, line)
			require.False(t, id != last && seen[id], "%s: the rows of %s stand apart", name, id)
			seen[id], last = true, id
		}
		require.Greater(t, len(seen), 20, name)
	}
}
