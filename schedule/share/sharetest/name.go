package sharetest

import (
	"slices"
	"strings"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/schedule/exchange"
	"dullred/schedule/share"
)

// piece is a label of a piece.
func piece(id, text string) share.Label { return share.Label{ID: id, Class: "piece", Text: text} }

// named sends labels.
func (t *trial) named(s share.Store, labels ...share.Label) share.Receipt {
	t.Helper()
	return t.send(s, share.Batch{Labels: labels})
}

func names(t *trial) {
	bench := NewID()
	s := t.as(bench)
	labels := []share.Label{piece(NewID(), "spoon"), {ID: NewID(), Class: "hand", Text: "spoon"}, {ID: bench, Class: "bench", Text: "spoon"}}
	require.Equal(t, share.Receipt{}, t.named(s, labels...), "a hand may be called as a piece is")
	require.Equal(t, labels, t.labels(t.as(NewID())))
}

func takenName(t *trial) {
	bench, other := NewID(), NewID()
	a, b := t.as(bench), t.as(other)
	first, second, third := piece(NewID(), "spoon"), piece(NewID(), "spoon"), piece(NewID(), "spoon")
	t.named(a, first, piece(NewID(), "spoon 3"))
	again := share.Receipt{Renamed: []share.Label{piece(second.ID, "spoon 2"), piece(third.ID, "spoon 4")}}
	require.Equal(t, again, t.named(b, second, third), "the first number that is free")
	before := t.all(a, 0, 100)
	require.Equal(t, again, t.named(b, second, third), "the receipt of a repetition is the same")
	require.Equal(t, before, t.all(a, 0, 100))
}

func namesInAnyCase(t *trial) {
	bench := NewID()
	s := t.as(bench)
	for _, pair := range [][2]string{{"Spoon", "sPOON"}, {"Őrség", "őRSÉG"}, {"k", "K"}, {"ſ", "S"}, {"ΣΑΣ", "σας"}, {"ǅ", "ǆ"}, {"\u1c80", "В"}, {"𐐀", "𐐨"}} {
		require.True(t, strings.EqualFold(pair[0], pair[1]), "%q", pair)
		l := piece(NewID(), pair[1])
		t.named(s, piece(NewID(), pair[0]))
		require.Equal(t, share.Receipt{Renamed: []share.Label{piece(l.ID, pair[1]+" 2")}}, t.named(s, l), "%q", pair)
	}
	require.Equal(t, share.Receipt{}, t.named(s, piece(NewID(), "ß"), piece(NewID(), "ss"), piece(NewID(), "i"), piece(NewID(), "ı"), piece(NewID(), "İ")),
		"these are letters of their own, in whatever language")
}

func newName(t *trial) {
	bench := NewID()
	s, id := t.as(bench), NewID()
	t.named(s, piece(id, "spoon"), piece(NewID(), "ladle"))
	cursor := t.all(s, 0, 100).Next
	require.Equal(t, share.Receipt{}, t.named(s, piece(id, "Spoon")), "its own name in another case is not taken")
	require.Equal(t, []share.Label{piece(id, "Spoon")}, t.all(s, cursor, 100).Labels, "news to who had read all")
	require.Equal(t, share.Receipt{Renamed: []share.Label{piece(id, "Ladle 2")}}, t.named(s, piece(id, "Ladle")))
	require.Equal(t, share.Receipt{}, t.named(s, piece(NewID(), "spoon")), "the old name is free")
	require.Len(t, t.labels(s), 3, "each name once")
}

func nameOfAnother(t *trial) {
	bench, other := NewID(), NewID()
	a, b, id := t.as(bench), t.as(other), NewID()
	t.named(a, piece(id, "spoon"))
	require.Equal(t, share.Receipt{}, t.named(b, piece(id, "spoon")), "as it is there")
	stays := share.Receipt{Stayed: []share.Label{piece(id, "spoon")}}
	require.Equal(t, stays, t.named(b, piece(id, "ladle")))
	require.Equal(t, stays, t.named(b, share.Label{ID: id, Class: "hand", Text: "spoon"}))
	require.Equal(t, []share.Label{piece(id, "spoon")}, t.labels(b))
}

func benchName(t *trial) {
	bench, other := NewID(), NewID()
	a, b := t.as(bench), t.as(other)
	window := share.Label{ID: bench, Class: "bench", Text: "window"}
	t.named(a, window)
	for name, l := range map[string]share.Label{
		"its name":                   {ID: bench, Class: "bench", Text: "door"},
		"its name, as it is":         window,
		"of a bench nobody has":      {ID: NewID(), Class: "bench", Text: "door"},
		"as if it were a piece":      {ID: bench, Class: "piece", Text: "door"},
		"itself as if it were a cup": {ID: other, Class: "piece", Text: "cup"},
	} {
		_, err := b.Send(t.ctx, share.Batch{Labels: []share.Label{l}})
		require.ErrorIs(t, err, share.ErrForged, name)
	}
	require.Equal(t, []share.Label{{ID: other, Class: "bench", Text: "WINDOW 2"}},
		t.named(b, share.Label{ID: other, Class: "bench", Text: "WINDOW"}).Renamed, "nor by calling itself so")
	require.Len(t, t.labels(a), 2)
}

func namesOfAnyText(t *trial) {
	bench := NewID()
	s, cursor := t.as(bench), int64(0)
	rapid.Check(t, func(rt *rapid.T) {
		l := piece(NewID(), anyText.Filter(func(s string) bool { return s != "" }).Draw(rt, "text"))
		receipt := t.named(s, l)
		p := t.all(s, cursor, 10)
		cursor = p.Next
		require.Len(rt, p.Labels, 1)
		if l != p.Labels[0] {
			require.Equal(rt, share.Receipt{Renamed: p.Labels}, receipt)
			require.True(rt, strings.HasPrefix(p.Labels[0].Text, l.Text+" "))
		}
	})
	all := t.labels(s)
	folded := make([]string, len(all))
	for i, l := range all {
		folded[i] = share.Fold(l.Text)
	}
	slices.Sort(folded)
	require.Len(t, slices.Compact(folded), len(all), "no two are alike")
	for _, text := range []string{"", "be\x00nd", "\xff"} {
		_, err := s.Send(t.ctx, share.Batch{Labels: []share.Label{piece(NewID(), text)}})
		require.ErrorIs(t, err, exchange.ErrLabel, "%q", text)
	}
}
