package sharetest

import (
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/schedule"
	"dullred/schedule/share"
)

// sumsAre compares all sums with those of rows.
func (t *trial) sumsAre(s share.Store, rows []schedule.Row) {
	t.Helper()
	sums, err := s.Sums(t.ctx)
	require.NoError(t, err)
	want := share.SumsOf(rows)
	require.Equal(t, want, sums)
	total, err := s.Total(t.ctx)
	require.NoError(t, err)
	var all share.Sum
	for _, r := range rows {
		all = all.Add(r)
	}
	require.Equal(t, all, total)
}

func sums(t *trial) {
	bench, other, spoon := NewID(), NewID(), NewID()
	a, b := t.as(bench), t.as(other)
	mine, theirs, alert := Notes(3, bench, spoon), Notes(2, other, spoon), raised(bench, spoon, "soak "+spoon)
	ladle := Row(bench, NewID(), schedule.Soft{})
	t.sumsAre(a, nil)
	t.send(a, share.Batch{Rows: append(mine, alert)})
	t.send(b, share.Batch{Rows: theirs})
	t.send(a, share.Batch{Rows: []schedule.Row{ladle}})
	all := append(append(append([]schedule.Row{ladle}, mine...), theirs...), alert)
	t.sumsAre(t.as(""), all)
	t.send(b, share.Batch{Rows: []schedule.Row{raised(other, spoon, "soak "+spoon)}})
	t.sumsAre(a, all)
}

func sumsOfAnyBatches(t *trial) {
	bench := NewID()
	s, pieces := t.as(bench), []string{NewID(), NewID(), NewID()}
	var all []schedule.Row
	rapid.Check(t, func(rt *rapid.T) {
		rows := rapid.SliceOfN(AnyRow(bench, pieces...), 0, 5).Draw(rt, "rows")
		for i := range rows {
			rows[i].ID = NewID()
		}
		all = append(all, rows...)
		if len(all) > 0 && rapid.Bool().Draw(rt, "with one that is known") {
			rows = append(rows, rapid.SampledFrom(all).Draw(rt, "known"))
		}
		t.send(s, share.Batch{Rows: rows})
	})
	t.sumsAre(s, all)
}

func onePiece(t *trial) {
	bench, other, spoon := NewID(), NewID(), NewID()
	a, b := t.as(bench), t.as(other)
	mine, theirs := Notes(3, bench, spoon), Notes(2, other, spoon)
	t.send(b, share.Batch{Rows: append(theirs, Note(other, NewID()))})
	t.send(a, share.Batch{Rows: mine, Labels: []share.Label{piece(spoon, "spoon"), piece(NewID(), "ladle")}})
	got, err := b.Pieces(t.ctx, spoon)
	require.NoError(t, err)
	require.Equal(t, share.Batch{Labels: []share.Label{piece(spoon, "spoon")}, Rows: byID(append(theirs, mine...))}, got)
	none, err := b.Pieces(t.ctx, NewID())
	require.NoError(t, err)
	require.Equal(t, share.Batch{}, none)
}

func somePieces(t *trial) {
	bench := NewID()
	s, ids := t.as(bench), []string{NewID(), NewID(), NewID()}
	var want share.Batch
	for i, id := range ids {
		b := share.Batch{Rows: Notes(3, bench, id), Labels: []share.Label{piece(id, "piece "+id)}}
		t.send(s, b)
		if i < 2 {
			want.Rows, want.Labels = append(want.Rows, b.Rows...), append(want.Labels, b.Labels...)
		}
	}
	got, err := s.Pieces(t.ctx, ids[0], NewID(), "no id", ids[1], ids[0])
	require.NoError(t, err)
	require.Equal(t, byID(want.Rows), got.Rows)
	require.ElementsMatch(t, want.Labels, got.Labels)
	none, err := s.Pieces(t.ctx)
	require.NoError(t, err)
	require.Equal(t, share.Batch{}, none)
}
