package years

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
)

// The shop has what it is said to have: ten years, 200 pieces a year, 40 passes each.
func TestShop(t *testing.T) {
	passes, heats, seen, notes, finished, pieces := 0, 0, 0, 0, 0, 0
	var last time.Time
	for p := range Shop().Pieces() {
		pieces++
		require.Len(t, p.Entries, pieceEntries)
		for _, e := range p.Entries {
			switch e.Body.(type) {
			case schedule.Pass:
				passes++
			case schedule.Soft:
				heats++
			case schedule.Acknowledged:
				seen++
			case schedule.Note:
				notes++
			case schedule.Finished:
				finished++
			}
			last = e.At
		}
	}
	require.Equal(t, 2000, pieces)
	require.Equal(t, 2000*40, passes)
	require.Equal(t, 2000*3, heats)
	require.Equal(t, 2000*3, seen)
	require.Equal(t, 2000*2, notes)
	require.Equal(t, 2000, finished)
	require.InDelta(t, 10, last.Sub(Begun).Hours()/24/365, 0.05, "years")
}

// Each piece is one that the program would have taken: no entry is refused where it
// stands, its count begins anew with each proved heat, and in the end it is finished.
func TestPiecesAreAccepted(t *testing.T) {
	w := SchoolOf(3000)
	ids := map[schedule.ID]bool{}
	for p := range w.Pieces() {
		require.True(t, slices.IsSortedFunc(p.Entries, func(a, b schedule.Entry) int { return a.At.Compare(b.At) }))
		for i, e := range p.Entries {
			require.False(t, ids[e.ID], "an id twice")
			ids[e.ID] = true
			require.NoError(t, schedule.Accept(p.Entries[:i], e, e.At), "%s of %s", e.Kind(), p.Name)
		}
		state := schedule.Fold(p.Entries)
		require.Empty(t, state.Silenced)
		require.True(t, state.Done())
	}
	require.InDelta(t, 3000, len(ids), 130)
}

// A past is the same each time, and a longer one begins with the shorter.
func TestPastsAgree(t *testing.T) {
	short, long := slices.Collect(SchoolOf(2000).Pieces()), slices.Collect(SchoolOf(5000).Pieces())
	require.Equal(t, short, long[:len(short)])
	require.Equal(t, long, slices.Collect(SchoolOf(5000).Pieces()))
	require.Equal(t, 5085, SchoolOf(5000).Entries(), "45 pieces")
	benches := map[schedule.ID]bool{}
	for _, p := range long {
		benches[p.Entries[0].Bench] = true
	}
	require.Len(t, benches, 30)
	other := Workshop{Benches: 30, Each: 40, Count: 1, Seed: 2}
	require.NotEqual(t, short[0], other.piece(0), "another seed")
}
