package record

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// A trail is the piece read backwards.
func TestTrail(t *testing.T) {
	r := openNew(t)
	fill(t, r, 3, 5)
	want, err := r.Piece(pieceID(1))
	require.NoError(t, err)
	require.Len(t, want, 5)
	slices.Reverse(want)
	n := 0
	for row, err := range r.Trail(pieceID(1)) {
		require.NoError(t, err)
		w := want[n]
		require.Equal(t, Row{ID: w.ID, At: w.At, Count: w.Count, Bench: w.Bench, Hand: w.Hand, Piece: w.Piece, Zones: w.Zones, Kind: w.Kind}, row)
		n++
	}
	require.Equal(t, len(want), n)
	for range r.Trail("nobody's") {
		t.Fatal("a piece without entries has no trail")
	}
	for range r.Trail(pieceID(2)) {
		break // whoever has seen enough may go
	}
	require.NoError(t, r.Append(sample()), "and nothing is left open")
}
