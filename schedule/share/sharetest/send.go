package sharetest

import (
	"math"
	"reflect"
	"slices"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/schedule"
	"dullred/schedule/share"
)

func empty(t *trial) {
	s := t.as("")
	p, err := s.After(t.ctx, 0, 10)
	require.NoError(t, err)
	require.Empty(t, p.Rows)
	require.Empty(t, p.Labels)
	require.False(t, p.More)
	require.Zero(t, p.Next)
	sums, err := s.Sums(t.ctx)
	require.NoError(t, err)
	require.Empty(t, sums)
	bench := t.as(NewID())
	require.Equal(t, share.Receipt{}, t.send(bench, share.Batch{}))
}

func comesBack(t *trial) {
	bench, other := NewID(), NewID()
	a, b := t.as(bench), t.as(other)
	first, second := Notes(3, bench, NewID()), Notes(2, other, NewID())
	slices.Reverse(first) // the order of the line is not that of the ids
	require.Equal(t, share.Receipt{Fresh: 3}, t.send(a, share.Batch{Rows: first}))
	require.Equal(t, share.Receipt{Fresh: 2}, t.send(b, share.Batch{Rows: second}))
	want := slices.Concat(first, second)
	require.Equal(t, want, t.rows(a))
	require.Equal(t, want, t.rows(b))
	require.Equal(t, want, t.rows(t.as("")))
}

func sentAgain(t *trial) {
	bench, piece := NewID(), NewID()
	s := t.as(bench)
	b := share.Batch{Rows: Notes(5, bench, piece), Labels: []share.Label{{ID: piece, Class: "piece", Text: "spoon"}}}
	t.send(s, b)
	before := t.all(s, 0, 100)
	require.Equal(t, share.Receipt{}, t.send(s, b))
	require.Equal(t, before, t.all(s, 0, 100))
	require.Equal(t, share.Receipt{}, t.send(t.as(bench), b), "by a connection that knows nothing of the first")
	require.Equal(t, before, t.all(s, 0, 100))
	sums, err := s.Sums(t.ctx)
	require.NoError(t, err)
	require.Equal(t, share.SumsOf(b.Rows), sums)
}

func partlyKnown(t *trial) {
	bench := NewID()
	s, rows := t.as(bench), Notes(6, bench, NewID())
	t.send(s, share.Batch{Rows: rows[2:4]})
	require.Equal(t, share.Receipt{Fresh: 4}, t.send(s, share.Batch{Rows: rows}))
	require.Equal(t, slices.Concat(rows[2:4], rows[:2], rows[4:]), t.rows(s))
}

func twiceInABatch(t *trial) {
	bench := NewID()
	s, row := t.as(bench), Note(bench, NewID())
	other := row
	other.Version = 2
	require.Equal(t, share.Receipt{Fresh: 1}, t.send(s, share.Batch{Rows: []schedule.Row{row, row}}))
	require.Equal(t, share.Receipt{Refused: []string{row.ID}}, t.send(s, share.Batch{Rows: []schedule.Row{other, row, other}}))
	require.Equal(t, []schedule.Row{row}, t.rows(s))
}

// everyColumn changes one column after the other, of which the id is none.
func everyColumn(t *trial) {
	bench := NewID()
	s, row := t.as(bench), toCome(bench, NewID())
	t.send(s, share.Batch{Rows: []schedule.Row{row}})
	for i := range reflect.TypeFor[schedule.Row]().NumField() {
		name, other := reflect.TypeFor[schedule.Row]().Field(i).Name, row
		if name == "ID" || name == "Bench" {
			continue
		}
		switch field := reflect.ValueOf(&other).Elem().Field(i); {
		case name == "Hand" || name == "Piece":
			field.SetString(NewID())
		case name == "Body":
			field.SetString(`{"with":"steel"}`)
		case field.Kind() == reflect.String:
			field.SetString(field.String() + "s")
		case field.Kind() == reflect.Int64:
			field.SetInt(field.Int() + 1)
		default:
			field.SetFloat(0) // absent
		}
		require.NotEqual(t, row, other, name)
		require.Equal(t, share.Receipt{Refused: []string{row.ID}}, t.send(s, share.Batch{Rows: []schedule.Row{other}}), name)
	}
	require.Equal(t, []schedule.Row{row}, t.rows(s))
}

func refused(t *trial) {
	bench, piece := NewID(), NewID()
	s, rows := t.as(bench), Notes(4, bench, piece)
	t.send(s, share.Batch{Rows: rows[:2]})
	changed := slices.Clone(rows)
	changed[1].Written++
	changed[0].Body = `{"text":"no"}`
	receipt := t.send(s, share.Batch{Rows: changed})
	require.Equal(t, 2, receipt.Fresh)
	require.ElementsMatch(t, []string{rows[0].ID, rows[1].ID}, receipt.Refused)
	require.Equal(t, rows, t.rows(s))
	sums, err := s.Sums(t.ctx)
	require.NoError(t, err)
	require.Equal(t, share.SumsOf(rows), sums)
}

func alerts(t *trial) {
	bench, other, piece := NewID(), NewID(), NewID()
	a, b := t.as(bench), t.as(other)
	mine, theirs := raised(bench, piece, "soak "+piece), raised(other, piece, "soak "+piece)
	require.Equal(t, mine.ID, theirs.ID)
	require.Equal(t, share.Receipt{Fresh: 1}, t.send(a, share.Batch{Rows: []schedule.Row{mine}}))
	require.Equal(t, share.Receipt{}, t.send(b, share.Batch{Rows: []schedule.Row{theirs}}), "known, and no conflict")
	require.Equal(t, []schedule.Row{mine}, t.rows(b), "the first stands")

	elsewhere, note := theirs, Note(other, piece)
	elsewhere.Piece = NewID()
	require.Equal(t, share.Receipt{Refused: []string{mine.ID}}, t.send(b, share.Batch{Rows: []schedule.Row{elsewhere}}), "of another piece")
	note.ID = mine.ID
	require.Equal(t, share.Receipt{Refused: []string{mine.ID}}, t.send(b, share.Batch{Rows: []schedule.Row{note}}), "no alert at all")
	require.Equal(t, []schedule.Row{mine}, t.rows(b))
}

func anotherBench(t *trial) {
	bench, other := NewID(), NewID()
	a, b := t.as(bench), t.as(other)
	known := Note(bench, NewID())
	t.send(a, share.Batch{Rows: []schedule.Row{known}})
	for _, forged := range []schedule.Row{Note(bench, NewID()), known, Note(NewID(), NewID())} {
		_, err := b.Send(t.ctx, share.Batch{Rows: []schedule.Row{Note(other, NewID()), forged}})
		require.ErrorIs(t, err, share.ErrForged)
	}
	require.Equal(t, []schedule.Row{known}, t.rows(a), "nothing of those batches")
}

func allOrNothing(t *trial) {
	bench, piece := NewID(), NewID()
	s := t.as(bench)
	good := share.Label{ID: piece, Class: "piece", Text: "spoon"}
	bad := Note(bench, piece)
	bad.Version = 0
	for _, b := range []share.Batch{
		{Labels: []share.Label{good}, Rows: append(Notes(3, bench, piece), bad)},
		{Labels: []share.Label{good, {ID: piece, Class: "cat", Text: "tom"}}, Rows: Notes(3, bench, piece)},
		{Labels: []share.Label{good, {ID: NewID(), Class: "bench", Text: "window"}}, Rows: Notes(3, bench, piece)},
	} {
		_, err := s.Send(t.ctx, b)
		require.Error(t, err)
		p := t.all(s, 0, 100)
		require.Empty(t, p.Rows)
		require.Empty(t, p.Labels)
		sums, err := s.Sums(t.ctx)
		require.NoError(t, err)
		require.Empty(t, sums)
	}
	require.Equal(t, 3, t.send(s, share.Batch{Rows: Notes(3, bench, piece)}).Fresh, "it goes on")
}

func kindsToCome(t *trial) {
	bench := NewID()
	s, row := t.as(bench), toCome(bench, NewID())
	require.Equal(t, share.Receipt{Fresh: 1}, t.send(s, share.Batch{Rows: []schedule.Row{row}}))
	require.Equal(t, []schedule.Row{row}, t.rows(s))
}

func anyRow(t *trial) {
	bench := NewID()
	s, cursor := t.as(bench), int64(0)
	rapid.Check(t, func(rt *rapid.T) {
		rows := rapid.SliceOfNDistinct(AnyRow(bench, NewID(), NewID()), 1, 8, func(r schedule.Row) string { return r.ID }).Draw(rt, "rows")
		for i := range rows { // a draw may come twice, and an id is for good
			rows[i].ID = NewID()
		}
		require.Equal(rt, share.Receipt{Fresh: len(rows)}, t.send(s, share.Batch{Rows: rows}))
		require.Equal(rt, share.Receipt{}, t.send(s, share.Batch{Rows: rows}), "the same once more")
		p := t.all(s, cursor, 100)
		cursor = p.Next
		require.Len(rt, p.Rows, len(rows))
		for i, r := range p.Rows {
			if r != rows[i] { // -0 is 0, by == and not by require.Equal
				require.Equal(rt, rows[i], r)
			}
			require.Equal(rt, share.Digest(rows[i]), share.Digest(r))
		}
	})
	sums, err := s.Sums(t.ctx)
	require.NoError(t, err)
	require.Equal(t, share.SumsOf(t.rows(s)), sums)
}

func notToBeKept(t *trial) {
	bench := NewID()
	s := t.as(bench)
	for name, spoil := range map[string]func(*schedule.Row){
		"U+0000":             func(r *schedule.Row) { r.Process = "be\x00nd" },
		"U+0000 in a kind":   func(r *schedule.Row) { r.Kind = "\x00" },
		"no UTF-8":           func(r *schedule.Row) { r.Shape = "\xff" },
		"half a character":   func(r *schedule.Row) { r.Zones = "\xed\xa0\x80" },
		"no number":          func(r *schedule.Row) { r.Temp = math.NaN() },
		"without end":        func(r *schedule.Row) { r.Ring = math.Inf(1) },
		"no JSON":            func(r *schedule.Row) { r.Body = "{" },
		"no id":              func(r *schedule.Row) { r.ID = "spoon" },
		"an id in capitals":  func(r *schedule.Row) { r.Piece = "0198F4B6-5C1E-7D2A-9B40-6F1A2D3C4E5F" },
		"an unlikely moment": func(r *schedule.Row) { r.At = math.MaxInt64 },
	} {
		row := toCome(bench, NewID())
		spoil(&row)
		_, err := s.Send(t.ctx, share.Batch{Rows: []schedule.Row{row}})
		require.ErrorIs(t, err, schedule.ErrRow, name)
	}
	require.Empty(t, t.rows(s))
}

func onlyRead(t *trial) {
	_, err := t.as("").Send(t.ctx, share.Batch{Rows: Notes(1, NewID(), NewID())})
	require.ErrorIs(t, err, share.ErrRights)
	require.Empty(t, t.rows(t.as("")))
}
