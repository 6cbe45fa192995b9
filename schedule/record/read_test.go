package record

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// shuffled gives entries whose order in time is neither that of their ids nor free of ties.
func shuffled(n int) []Row {
	rows := samples(n)
	for i := range rows {
		rows[i].At = int64(rand.IntN(n / 2))
		if i%3 == 0 {
			rows[i].Piece = cup
		}
	}
	return rows
}

func TestOrder(t *testing.T) {
	r := openNew(t)
	rows := shuffled(60)
	require.NoError(t, r.Append(rows...))
	slices.SortFunc(rows, byAtAndID)
	require.Equal(t, rows, all(t, r))

	found, err := r.Piece(cup)
	require.NoError(t, err)
	require.Equal(t, slices.DeleteFunc(slices.Clone(rows), func(row Row) bool { return row.Piece != cup }), found)
	found, err = r.Piece("unknown")
	require.NoError(t, err)
	require.Empty(t, found)
}

// A reader sees the record as it stood, may write meanwhile and may stop early.
func TestAllWhileAppending(t *testing.T) {
	r := openNew(t)
	require.NoError(t, r.Append(samples(10)...))
	seen := 0
	for _, err := range r.All() {
		require.NoError(t, err)
		require.NoError(t, r.Append(sample()))
		seen++
	}
	require.Equal(t, 10, seen)
	for range r.All() {
		break
	}
	require.Len(t, all(t, r), 20)
}

func TestFind(t *testing.T) {
	r := openNew(t)
	one, two := sample(), sample()
	one.ID, two.ID = "0197a000-1111-7000-8000-00000000abcd", "0197a000-2222-7000-8000-00000001abcd"
	one.At, two.At = 2, 1
	require.NoError(t, r.Append(one, two, sample()))
	tests := []struct {
		name, handle string
		most         int
		want         []Row
	}{
		{"full id", one.ID, 1, []Row{one}},
		{"full id in upper case", strings.ToUpper(one.ID), 1, []Row{one}},
		{"full id without dashes", strings.ReplaceAll(one.ID, "-", ""), 1, []Row{one}},
		{"tail of both", "abcd", 9, []Row{two, one}},
		{"tail of both, one wanted", "ABCD", 1, []Row{two}},
		{"tail of both, none wanted", "abcd", -1, nil},
		{"tail of one", "1abcd", 9, []Row{two}},
		{"tail across a dash", "8000-00000000abcd", 9, []Row{one}},
		{"tail across a dash left out", "800000000000abcd", 9, []Row{one}},
		{"tail with a dash elsewhere", "0-abcd", 9, []Row{one}},
		{"unknown", "ffffffff-ffff-7fff-8fff-ffffffffffff", 9, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			found, err := r.Find(tt.handle, tt.most)
			require.NoError(t, err)
			require.Equal(t, tt.want, found)
		})
	}
	for _, handle := range []string{"", "abc", "----abc", "wxyz", "%bcd", "é123", one.ID + "0", "0197a000 1111"} {
		_, err := r.Find(handle, 9)
		require.EqualError(t, err, fmt.Sprintf("%q is neither an id nor the last 4 or more digits of one", handle))
	}
}

func TestPiecesOfHand(t *testing.T) {
	r := openNew(t)
	var rows []Row
	for i, piece := range []string{"a", "b", "c", "", "b"} {
		row := sample()
		row.At, row.Piece = int64(i), piece
		rows = append(rows, row)
	}
	other := sample()
	other.Hand = "another"
	require.NoError(t, r.Append(append(rows, other)...))
	for last, want := range map[int][]string{0: nil, -1: nil, 1: {"b"}, 3: {"b", "c"}, 5: {"b", "c", "a"}, 99: {"b", "c", "a"}} {
		pieces, err := r.PiecesOfHand(hand, last)
		require.NoError(t, err)
		require.Equal(t, want, pieces, "the last %d entries", last)
	}
}

// The queries of every day must not read the whole record nor sort.
func TestQueriesUseTheIndexes(t *testing.T) {
	r := openNew(t)
	tests := []struct{ query, index string }{
		{piecesOfHand, "USING INDEX entry_hand (hand=?)"},
		{selectPiece, "USING INDEX entry_piece (piece=?)"},
		{selectEntry + `WHERE id = ? LIMIT ?`, "USING PRIMARY KEY (id=?)"},
	}
	for _, tt := range tests {
		rows, err := r.db.Query("EXPLAIN QUERY PLAN "+tt.query, "x", 1)
		if strings.Count(tt.query, "?") == 1 {
			rows, err = r.db.Query("EXPLAIN QUERY PLAN "+tt.query, "x")
		}
		require.NoError(t, err)
		var plan []string
		for rows.Next() {
			var id, parent, unused int
			var detail string
			require.NoError(t, rows.Scan(&id, &parent, &unused, &detail))
			plan = append(plan, detail)
		}
		require.NoError(t, rows.Close())
		require.Equal(t, []string{"SEARCH entry " + tt.index}, plan)
	}
}

func byAtAndID(a, b Row) int { return cmp.Or(cmp.Compare(a.At, b.At), cmp.Compare(a.ID, b.ID)) }
