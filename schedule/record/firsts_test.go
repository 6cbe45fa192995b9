package record

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The same is found by going through every entry.
func TestFirsts(t *testing.T) {
	r := openNew(t)
	none, err := r.Firsts()
	require.NoError(t, err)
	require.Empty(t, none)
	rapid.Check(t, func(rt *rapid.T) {
		row := sample()
		row.At, row.Piece = rapid.Int64Range(0, 20).Draw(rt, "at"), rapid.SampledFrom([]string{"", "a", "b", "\xff", "c\x00"}).Draw(rt, "piece")
		require.NoError(rt, r.Append(row))
		found, err := r.Firsts()
		require.NoError(rt, err)
		all, err := collect(r.All())
		require.NoError(rt, err)
		var want []Row
		seen := map[string]bool{}
		for _, row := range all {
			if !seen[row.Piece] {
				seen[row.Piece] = true
				want = append(want, row)
			}
		}
		require.Equal(rt, want, found)
	})
}

func TestFirstsUsesTheIndexes(t *testing.T) {
	r := openNew(t)
	rows, err := r.db.Query(`EXPLAIN QUERY PLAN ` + firsts)
	require.NoError(t, err)
	defer rows.Close()
	for rows.Next() {
		var id, parent, unused int
		var step string
		require.NoError(t, rows.Scan(&id, &parent, &unused, &step))
		require.False(t, strings.HasPrefix(step, "SCAN entry"), step)
	}
	require.NoError(t, rows.Err())
}
