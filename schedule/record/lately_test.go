package record

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestLately(t *testing.T) {
	entry := func(at int64, hand, piece string) Row {
		row := sample()
		row.At, row.Hand, row.Piece = at, hand, piece
		return row
	}
	tests := []struct {
		name, reason string
		rows         []Row
		last         int
		want         []string
	}{
		{"empty record", "a new bench", nil, 3, nil},
		{"none wanted", "to SQLite a negative limit is none", []Row{entry(1, "a", "bowl")}, -1, nil},
		{"two hands", "an idle hand keeps its piece", []Row{entry(1, "a", "bowl"), entry(2, "b", "cup"), entry(3, "b", "ewer")}, 1, []string{"ewer", "bowl"}},
		{"merged", "hands take turns", []Row{entry(1, "a", "1"), entry(2, "b", "2"), entry(3, "a", "3"), entry(4, "b", "4")}, 2, []string{"4", "3", "2", "1"}},
		{"shared piece", "two hands at one piece, its newest entry counts", []Row{entry(1, "a", "bowl"), entry(2, "a", "cup"), entry(3, "b", "bowl")}, 9, []string{"bowl", "cup"}},
		{"no piece", "it counts and gives nothing", []Row{entry(1, "a", "bowl"), entry(2, "a", "")}, 1, nil},
		{"no hand", "nobody is one more hand", []Row{entry(1, "", "bowl"), entry(2, "a", "cup")}, 1, []string{"cup", "bowl"}},
		{"odd hands", "whatever can be stored can be stepped over", []Row{entry(1, "\xff", "1"), entry(2, "a\x00b", "2"), entry(3, "a", "3")}, 1, []string{"3", "2", "1"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			r := openNew(t)
			require.NoError(t, r.Append(tt.rows...))
			pieces, err := r.Lately(tt.last)
			require.NoError(t, err)
			require.Equal(t, tt.want, pieces, tt.reason)
		})
	}
}

// The same is found by going through every entry, the newest first.
func TestLatelyFindsWhatReadingEverythingFinds(t *testing.T) {
	r := openNew(t)
	few := rapid.SampledFrom([]string{"", "a", "b", "c"})
	rapid.Check(t, func(rt *rapid.T) {
		row := sample()
		row.At = rapid.Int64Range(0, 20).Draw(rt, "at")
		row.Hand, row.Piece = few.Draw(rt, "hand"), few.Draw(rt, "piece")+few.Draw(rt, "more")
		require.NoError(rt, r.Append(row))
		last := rapid.IntRange(0, 6).Draw(rt, "last")
		found, err := r.Lately(last)
		require.NoError(rt, err)
		rows, err := collect(r.All())
		require.NoError(rt, err)
		require.Equal(rt, latelyIn(rows, last), found)
	})
}

func latelyIn(rows []Row, last int) []string {
	slices.SortFunc(rows, func(a, b Row) int { return cmp.Or(cmp.Compare(b.At, a.At), cmp.Compare(b.ID, a.ID)) })
	counted := map[string]int{}
	var pieces []string
	for _, row := range rows {
		counted[row.Hand]++
		if counted[row.Hand] <= last && row.Piece != "" && !slices.Contains(pieces, row.Piece) {
			pieces = append(pieces, row.Piece)
		}
	}
	return pieces
}

// Every look at the entries is a seek. Scanned are only the list of hands, as
// it is made, and nothing that grows with the record.
func TestLatelyUsesTheIndexes(t *testing.T) {
	r := openNew(t)
	rows, err := r.db.Query("EXPLAIN QUERY PLAN "+lately, 3)
	require.NoError(t, err)
	defer rows.Close()
	var looks []string
	for rows.Next() {
		var id, parent, unused int
		var detail string
		require.NoError(t, rows.Scan(&id, &parent, &unused, &detail))
		if strings.Contains(detail, "SCAN") {
			require.Equal(t, "SCAN known", detail)
		}
		if strings.HasPrefix(detail, "SEARCH") {
			looks = append(looks, detail)
		}
	}
	require.NoError(t, rows.Err())
	require.ElementsMatch(t, []string{
		"SEARCH entry USING COVERING INDEX entry_hand",
		"SEARCH entry USING COVERING INDEX entry_hand (hand>?)",
		"SEARCH own USING COVERING INDEX entry_hand (hand=?)",
		"SEARCH entry USING PRIMARY KEY (id=?)",
	}, looks)
}

// BenchmarkLately reads the last eight entries of five hands out of a short and a long record.
func BenchmarkLately(b *testing.B) {
	for _, entries := range []int{100, 100_000} {
		b.Run(fmt.Sprint(entries), func(b *testing.B) {
			r := openNew(b)
			rows := samples(entries)
			for i := range rows {
				rows[i].At, rows[i].Hand, rows[i].Piece = int64(i), fmt.Sprint("hand ", i%5), fmt.Sprint("piece ", i/100)
			}
			require.NoError(b, r.Append(rows...))
			for b.Loop() {
				pieces, err := r.Lately(8)
				require.NoError(b, err)
				require.Len(b, pieces, 1)
			}
		})
	}
}
