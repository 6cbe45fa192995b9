package record

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// spanOf is one span over rows.
func spanOf(rows []Row) Spans {
	ids := idsOf(rows)
	return Spans{{slices.Min(ids), slices.Max(ids)}}
}

// taken takes a span over all of another record.
func taken(t *testing.T, r *Record, other string, labels []Label, rows []Row, derived ...string) error {
	t.Helper()
	o, err := r.Beside(other)
	require.NoError(t, err)
	err = r.Take(o, labels, spanOf(rows), derived...)
	require.NoError(t, o.Close())
	return err
}

// More than one statement's worth comes in, once, and what is known is passed over.
func TestTake(t *testing.T) {
	rows := samples(mostTaken + 500)
	other := closed(t, rows...)
	r := openNew(t)
	require.NoError(t, r.Append(rows[10:20]...))
	label := Label{ID: bowl, Class: PieceClass, Text: "bowl"}
	require.NoError(t, taken(t, r, other, []Label{label}, rows))
	require.ElementsMatch(t, rows, all(t, r))
	labels, err := r.Labels(PieceClass)
	require.NoError(t, err)
	require.Equal(t, []Label{label}, labels)
	require.NoError(t, taken(t, r, other, nil, rows), "and again")
	require.NoError(t, r.Append(sample()), "the record goes on")
	require.Len(t, all(t, r), len(rows)+1)
	_, err = r.Check()
	require.NoError(t, err)
}

// A log without its index is read beside the record too, which then goes on as before.
func TestTakeFromALogTakenAlong(t *testing.T) {
	rows := samples(3)
	theirs := openNew(t)
	require.NoError(t, theirs.Append(rows...))
	r := openNew(t)
	require.NoError(t, taken(t, r, filesOf(t, theirs.Path(), "", "-wal"), nil, rows))
	require.ElementsMatch(t, rows, all(t, r))
	ids, err := runChild(appendSome, r.Path(), "1")
	require.NoError(t, err, "others can write")
	require.NoError(t, r.Append(sample()))
	require.NoError(t, taken(t, r, closed(t, rows...), nil, rows), "and another is read")
	require.Len(t, all(t, r), 4+len(ids))
}

// Only what is within the spans comes in.
func TestTakeOfSpans(t *testing.T) {
	rows := samples(9)
	slices.SortFunc(rows, func(a, b Row) int { return slices.Compare([]byte(a.ID), []byte(b.ID)) })
	r := openNew(t)
	o, err := r.Beside(closed(t, rows...))
	require.NoError(t, err)
	require.NoError(t, r.Take(o, nil, Spans{{rows[1].ID, rows[2].ID}, {rows[5].ID, rows[5].ID}}))
	require.NoError(t, o.Close())
	require.ElementsMatch(t, []Row{rows[1], rows[2], rows[5]}, all(t, r))
}

// An entry of a derived kind stays as it is here; of any other kind it is refused, and
// with it all the rest.
func TestTakeIsAllOrNothing(t *testing.T) {
	rows := samples(20)
	known := rows[7]
	known.Temp++
	other := closed(t, rows...)
	r := openNew(t)
	require.NoError(t, r.Append(known))
	label := Label{ID: bowl, Class: PieceClass, Text: "bowl"}
	require.ErrorIs(t, taken(t, r, other, []Label{label}, rows), ErrConflict)
	require.Equal(t, []Row{known}, all(t, r))
	labels, err := r.Labels(PieceClass)
	require.NoError(t, err)
	require.Empty(t, labels)
	require.NoError(t, taken(t, r, other, nil, rows, known.Kind))
	rows[7] = known
	require.ElementsMatch(t, rows, all(t, r))
}

// Whoever comes to write to the other record meanwhile makes it come to nothing.
func TestTakeNoticesWhoWrites(t *testing.T) {
	rows := samples(20)
	other := closed(t, rows...)
	r := openNew(t)
	o, err := r.Beside(other)
	require.NoError(t, err)
	_, err = runChild(appendSome, other, "1")
	require.NoError(t, err)
	require.ErrorIs(t, r.Take(o, nil, spanOf(rows)), ErrBusy)
	require.NoError(t, o.Close())
	require.Empty(t, all(t, r))
	require.NoError(t, r.Append(sample()))
}

// Others can write to the record until entries are taken.
func TestBesideKeepsNobodyWaiting(t *testing.T) {
	rows := samples(20)
	other := closed(t, rows...)
	r := openNew(t)
	o, err := r.Beside(other)
	require.NoError(t, err)
	_, err = collect(o.Stored())
	require.NoError(t, err)
	ids, err := runChild(appendSome, r.Path(), "1")
	require.NoError(t, err)
	require.NoError(t, r.Take(o, nil, spanOf(rows)))
	require.NoError(t, o.Close())
	require.ElementsMatch(t, append(ids, idsOf(rows)...), idsOf(all(t, r)))
}

// However many spans there are, few are told apart, and all ids are in one of them.
func TestSpans(t *testing.T) {
	var s Spans
	id := func(i int) string { return fmt.Sprintf("%06d", i) }
	for i := range 10 * mostSpans {
		s.Add(id(3*i), false)
		s.Add(id(3*i+1), true)
	}
	require.LessOrEqual(t, len(s), mostSpans)
	require.Greater(t, len(s), mostSpans/4)
	require.True(t, slices.IsSortedFunc(s, func(a, b [2]string) int { return slices.Compare([]byte(a[1]), []byte(b[0])) }))
	for i := range 10 * mostSpans {
		for _, one := range []string{id(3 * i), id(3*i + 1)} {
			require.True(t, slices.ContainsFunc(s, func(span [2]string) bool { return span[0] <= one && one <= span[1] }))
		}
	}
}
