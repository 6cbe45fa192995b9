package exchange_test

import (
	"errors"
	"iter"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/exchange"
)

// shelf is a record in memory.
type shelf struct {
	labels []exchange.Label
	rows   []schedule.Row
}

func (s shelf) side() exchange.Side {
	return exchange.Side{Labels: s.labels, Rows: exchange.RowsOf(byID(s.rows))}
}

// with is the shelf after a union.
func (s shelf) with(t require.TestingT, other shelf) shelf {
	p, err := exchange.Union(s.side(), other.side())
	require.NoError(t, err)
	return shelf{labels: slices.Concat(s.labels, p.Labels), rows: byID(slices.Concat(s.rows, p.Rows, p.Alerts))}
}

// states are what the pieces of a shelf fold to.
func (s shelf) states() map[schedule.ID]schedule.State {
	pieces, states := map[schedule.ID][]schedule.Entry{}, map[schedule.ID]schedule.State{}
	for _, e := range schedule.DecodeAll(s.rows) {
		pieces[e.Piece] = append(pieces[e.Piece], e)
	}
	for id, entries := range pieces {
		states[id] = schedule.Fold(entries)
	}
	return states
}

// anyShelves are three records that share some entries, as benches do that were merged
// before; their clocks are as far apart as can be.
func anyShelves(t *rapid.T) (all [3]shelf) {
	rows := anyRows.Draw(t, "rows")
	labels := anyLabels.Draw(t, "labels")
	for i := range all {
		for _, r := range rows {
			if rapid.Bool().Draw(t, "has it") {
				all[i].rows = append(all[i].rows, r)
			}
		}
		for _, l := range labels {
			if rapid.Bool().Draw(t, "names it") {
				all[i].labels = append(all[i].labels, l)
			}
		}
		all[i].labels = distinctTexts(t, all[i].labels)
	}
	return all
}

// distinctTexts are labels that one record can hold.
func distinctTexts(t *rapid.T, labels []exchange.Label) []exchange.Label {
	p, err := exchange.Union(exchange.Side{Rows: exchange.RowsOf(nil)}, exchange.Side{Labels: labels, Rows: exchange.RowsOf(nil)})
	require.NoError(t, err)
	return p.Labels
}

func TestUnionIsOfAnyOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := anyShelves(t)
		want := all[0].with(t, all[1]).with(t, all[2])
		order := rapid.SliceOfN(rapid.IntRange(0, 2), 0, 8).Draw(t, "order")
		got := all[rapid.IntRange(0, 2).Draw(t, "first")]
		for _, i := range slices.Concat(order, rapid.Permutation([]int{0, 1, 2}).Draw(t, "and all")) {
			got = got.with(t, all[i])
		}
		require.True(t, slices.Equal(want.rows, got.rows), "the entries")
		require.Equal(t, want.states(), got.states(), "the states")
		again, err := exchange.Union(got.side(), want.side())
		require.NoError(t, err)
		require.Equal(t, len(want.rows), again.Known)
		require.Empty(t, slices.Concat(again.Rows, again.Alerts), "nothing is left to add")
		requireDistinct(t, got.labels)
	})
}

// requireDistinct is what the record demands of labels.
func requireDistinct(t *rapid.T, labels []exchange.Label) {
	for i, a := range labels {
		for _, b := range labels[:i] {
			require.NotEqual(t, a.ID, b.ID)
			if a.Class == b.Class {
				require.NotEqual(t, a.Text, b.Text)
			}
		}
	}
}

var started = schedule.Started{Alloy: "sterling", Calliper: 0.02,
	Reading: schedule.Reading{Size: unit.Size{Shape: unit.Square, Thick: 8, Width: 8}}}

func encoded(t *testing.T, id schedule.ID, b schedule.Body) schedule.Row {
	at := time.Date(2024, 3, 5, 18, 30, 0, 0, time.UTC)
	r, err := schedule.Encode(schedule.Entry{ID: id, At: at, Written: at, Bench: idPiece, Hand: idPiece, Piece: idPiece, Body: b})
	require.NoError(t, err)
	require.NoError(t, exchange.CheckRow(r))
	return r
}

func TestUnionShowsAPieceStartedTwice(t *testing.T) {
	one, two := encoded(t, idOne, started), encoded(t, idTwo, started)
	void := encoded(t, "0198f4b6-0000-7000-8000-000000000003", schedule.Void{Target: idTwo})
	here := shelf{rows: []schedule.Row{one}}
	p, err := exchange.Union(here.side(), shelf{rows: []schedule.Row{two}}.side())
	require.NoError(t, err)
	require.Equal(t, []exchange.Twice{{Piece: idPiece, Kind: schedule.KindStarted, IDs: []string{idOne, idTwo}}}, p.Twice)
	p, err = exchange.Union(here.side(), shelf{rows: []schedule.Row{two, void}}.side())
	require.NoError(t, err)
	require.Empty(t, p.Twice, "one of them is void")
	p, err = exchange.Union(here.side(), here.side())
	require.NoError(t, err)
	require.Empty(t, p.Twice, "the same start on both is one")
}

func TestUnionShowsAPieceFinishedTwice(t *testing.T) {
	one, two := encoded(t, idOne, schedule.Finished{}), encoded(t, idTwo, schedule.Finished{})
	here := shelf{rows: []schedule.Row{one}}
	p, err := exchange.Union(here.side(), shelf{rows: []schedule.Row{two}}.side())
	require.NoError(t, err)
	require.Equal(t, []exchange.Twice{{Piece: idPiece, Kind: schedule.KindFinished, IDs: []string{idOne, idTwo}}}, p.Twice)
	p, err = exchange.Union(shelf{rows: []schedule.Row{encoded(t, idOne, started)}}.side(), shelf{rows: []schedule.Row{two}}.side())
	require.NoError(t, err)
	require.Empty(t, p.Twice, "one start and one end")
}

func TestUnionRefusesTwoEntriesUnderOneID(t *testing.T) {
	here := shelf{rows: []schedule.Row{note(idOne, "one"), note(idTwo, "two")}}
	_, err := exchange.Union(here.side(), shelf{rows: []schedule.Row{note(idOne, "one"), note(idTwo, "other")}}.side())
	var conflict *exchange.ConflictError
	require.ErrorAs(t, err, &conflict)
	require.Equal(t, exchange.ConflictError{ID: idTwo, Index: 1}, *conflict)
	_, err = exchange.Union(here.side(), shelf{rows: []schedule.Row{note(idOne, "1"), note(idTwo, "2")}}.side())
	require.ErrorContains(t, err, idOne+" is known here with other content, and so are 1 more")
}

// Two benches raise one alert under one id: the one that is here stays.
func TestUnionOfAnAlertRaisedOnBoth(t *testing.T) {
	mine, other := encoded(t, idOne, schedule.Raised{Cause: idPiece}), encoded(t, idOne, schedule.Raised{Cause: idPiece})
	other.At++
	p, err := exchange.Union(shelf{rows: []schedule.Row{mine}}.side(), shelf{rows: []schedule.Row{other}}.side())
	require.NoError(t, err)
	require.Equal(t, exchange.Plan{Known: 1, Raised: 1}, *p)
	p, err = exchange.Union(shelf{}.side(), shelf{rows: []schedule.Row{other}}.side())
	require.NoError(t, err)
	require.Equal(t, []schedule.Row{other}, p.Alerts)
	other.Piece = idTwo
	_, err = exchange.Union(shelf{rows: []schedule.Row{mine}}.side(), shelf{rows: []schedule.Row{other}}.side())
	require.ErrorContains(t, err, "known here with other content", "an alert about another piece is another alert")
}

func TestUnionOfLabels(t *testing.T) {
	const hand = "hand"
	l := func(id, class, text string) exchange.Label { return exchange.Label{ID: id, Class: class, Text: text} }
	cases := []struct {
		name      string
		here      []exchange.Label
		rows      []schedule.Row
		in        []exchange.Label
		stored    []string
		stayed    int
		forgotten int
		reason    string
	}{
		{"new", nil, nil, []exchange.Label{l("a", "piece", "spoon")}, []string{"spoon"}, 0, 0, "nobody bears it"},
		{"known", []exchange.Label{l("a", "piece", "spoon")}, nil, []exchange.Label{l("a", "piece", "spoon")}, nil, 0, 0, "it is here"},
		{"taken", []exchange.Label{l("b", "piece", "Spoon")}, nil, []exchange.Label{l("a", "piece", "spoon")}, []string{"spoon 2"}, 0, 0, "upper and lower case are the same"},
		{"and the next", []exchange.Label{l("b", "piece", "spoon"), l("c", "piece", "spoon 2")}, nil, []exchange.Label{l("a", "piece", "spoon")}, []string{"spoon 3"}, 0, 0, "the first that is free"},
		{"in the order of ids", []exchange.Label{l("b", "piece", "spoon")}, nil,
			[]exchange.Label{l("d", "piece", "spoon"), l("c", "piece", "SPOON")}, []string{"SPOON 2", "spoon 3"}, 0, 0, "not in that of the file"},
		{"numbered before", []exchange.Label{l("a", "piece", "spoon 2"), l("b", "piece", "spoon")}, nil, []exchange.Label{l("a", "piece", "spoon")}, nil, 0, 0, "said when it came in"},
		{"renamed", []exchange.Label{l("a", "piece", "ladle")}, nil, []exchange.Label{l("a", "piece", "spoon")}, nil, 1, 0, "what is here stays"},
		{"other class", []exchange.Label{l("b", hand, "spoon")}, nil, []exchange.Label{l("a", "piece", "spoon")}, []string{"spoon"}, 0, 0, "a hand may be called so"},
		{"forgotten", nil, []schedule.Row{note(idOne, "one")}, []exchange.Label{l(idPiece, hand, "kw")}, nil, 0, 1, "its entries are here without a name"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			p, err := exchange.Union(shelf{c.here, c.rows}.side(), shelf{labels: c.in}.side())
			require.NoError(t, err, c.reason)
			var stored []string
			for _, l := range p.Labels {
				stored = append(stored, l.Text)
			}
			require.Equal(t, c.stored, stored, c.reason)
			require.Len(t, p.Stayed, c.stayed, c.reason)
			require.Equal(t, c.forgotten, p.Forgotten, c.reason)
		})
	}
}

func TestUnionGivesTheErrorOfASide(t *testing.T) {
	failed := errors.New("the disk is wet")
	bad := exchange.Side{Rows: iter.Seq2[schedule.Row, error](func(yield func(schedule.Row, error) bool) {
		_ = yield(note(idOne, "one"), nil) && yield(schedule.Row{}, failed)
	})}
	for name, sides := range map[string][2]exchange.Side{
		"here":              {bad, shelf{rows: []schedule.Row{note(idTwo, "two")}}.side()},
		"here, at the end":  {bad, shelf{}.side()},
		"incoming":          {shelf{}.side(), bad},
		"both, at the same": {bad, bad},
	} {
		_, err := exchange.Union(sides[0], sides[1])
		require.ErrorIs(t, err, failed, name)
	}
	unordered := exchange.Side{Rows: exchange.RowsOf([]schedule.Row{note(idTwo, "two"), note(idOne, "one")})}
	_, err := exchange.Union(shelf{}.side(), unordered)
	require.ErrorContains(t, err, "order")
	_, err = exchange.Union(shelf{}.side(), shelf{rows: []schedule.Row{{ID: "spoon"}}}.side())
	require.ErrorIs(t, err, schedule.ErrRow)
}
