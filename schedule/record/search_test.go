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

// The values that entries and searches are drawn from: few, so that they meet.
var (
	someHands  = []string{"", "AB", "CD", "\xff"}
	somePieces = []string{"", "bowl", "cup", "ewer"}
	someKinds  = []string{"pass", "advice shown", "heat out", "note", "crack seen", "probe trace", "quenched"}
	someBodies = []string{"", `{"text":"Slipped in the vice"}`, `{"tool":"vice"}`, `{"text":"d\u00e9vice"}`, `{"text":"dévicé"}`, `{"text":"100% \"so\""}`}
)

// someRow is an entry of a few values and a few moments.
func someRow(t *rapid.T) Row {
	row := sample()
	row.At = rapid.Int64Range(0, 40).Draw(t, "at")
	row.Hand = rapid.SampledFrom(someHands).Draw(t, "hand")
	row.Piece = rapid.SampledFrom(somePieces).Draw(t, "piece")
	row.Kind = rapid.SampledFrom(someKinds).Draw(t, "kind")
	row.Body = rapid.SampledFrom(someBodies).Draw(t, "body")
	return row
}

// someSearch is any filter.
func someSearch(t *rapid.T) Search {
	q := Search{Newest: rapid.Bool().Draw(t, "newest")}
	q.From = rapid.Int64Range(0, 30).Draw(t, "from")
	q.Until = rapid.SampledFrom([]int64{0, q.From, q.From + 1, q.From + 9}).Draw(t, "until")
	q.Hand = rapid.SampledFrom(someHands).Draw(t, "of hand")
	q.Pieces = rapid.SampledFrom([][]string{nil, {}, {"bowl"}, {"cup", "bowl", "cup"}, {"", "nowhere"}, crowd(few, "bowl"), crowd(2*keysAtOnce, "cup")}).Draw(t, "pieces")
	q.Kinds = rapid.SampledFrom([][]string{nil, {}, {"note"}, {"note", "crack seen"}, {"pass"}, {"pass", "note"}, {"heat begun"}, {"heat out", "heat begun"}, {"probe trace"}}).Draw(t, "kinds")
	if rapid.Bool().Draw(t, "text") {
		q.Said = somethingSaid(t)
	}
	return q
}

// somethingSaid is a text, with any part of it, and pieces that are named so.
func somethingSaid(t *rapid.T) *Said {
	plain := strings.NewReplacer("é", "e", `\u00e9`, "e").Replace
	text := rapid.SampledFrom([]string{"vice", "device", "%", "slipped in the vice", "e", "_"}).Draw(t, "said")
	s := &Said{In: func(_, body string) bool { return strings.Contains(strings.ToLower(plain(body)), text) }}
	if !strings.ContainsAny(text, "%_") && rapid.Bool().Draw(t, "part") {
		s.Part = strings.ToUpper(text[:rapid.IntRange(0, len(text)).Draw(t, "of it")])
	}
	s.Pieces = rapid.SampledFrom([][]string{nil, {"cup"}, {"bowl", "ewer"}, {"nowhere"}, crowd(2*keysAtOnce, "cup")}).Draw(t, "named")
	return s
}

// crowd is more than so many ids, one of them of a piece that is there.
func crowd(more int, piece string) []string {
	ids := []string{piece}
	for i := range more {
		ids = append(ids, fmt.Sprint("nowhere ", i))
	}
	return ids
}

// lookedFor is what a search finds by looking at every entry.
func lookedFor(rows []Row, q Search) []Row {
	found := []Row{}
	for _, row := range rows {
		in := func(texts []string, text string) bool { return slices.Contains(texts, text) }
		switch {
		case row.At < q.From || q.Until != 0 && row.At >= q.Until:
		case q.Hand != "" && q.Hand != row.Hand:
		case q.Pieces != nil && !in(q.Pieces, row.Piece), q.Kinds != nil && !in(q.Kinds, row.Kind):
		case q.Said != nil && !in(q.Said.Pieces, row.Piece) &&
			(in([]string{"advice shown", "probe trace"}, row.Kind) || row.Body == "" || !q.Said.In(row.Kind, row.Body)):
		default:
			found = append(found, row)
		}
	}
	slices.SortFunc(found, func(a, b Row) int { return cmp.Or(cmp.Compare(a.At, b.At), cmp.Compare(a.ID, b.ID)) })
	if q.Newest {
		slices.Reverse(found)
	}
	return found
}

// Whatever is asked, the same is found by looking at every entry, and counted.
func TestSearchFindsWhatReadingEverythingFinds(t *testing.T) {
	r := openNew(t)
	var rows []Row
	rapid.Check(t, func(rt *rapid.T) {
		more := rapid.SliceOfN(rapid.Custom(someRow), 0, 8).Draw(rt, "rows")
		require.NoError(rt, r.Append(more...))
		rows = append(rows, more...)
		q := someSearch(rt)
		want := lookedFor(rows, q)
		found, err := collect(r.Search(q))
		require.NoError(rt, err)
		require.Equal(rt, want, append([]Row{}, found...))
		n, err := r.Found(q)
		require.NoError(rt, err)
		require.Equal(rt, len(want), n)
	})
}

// More of one key than is read at a time, and many at one moment.
func TestSearchReadsOn(t *testing.T) {
	r := openNew(t)
	rows := samples(5*mostChunk + 3)
	for i := range rows {
		rows[i].At = int64(i / 200)
	}
	require.NoError(t, r.Append(rows...))
	for _, newest := range []bool{false, true} {
		q := Search{Hand: hand, Newest: newest}
		found, err := collect(r.Search(q))
		require.NoError(t, err)
		require.Equal(t, lookedFor(rows, q), found)
	}
}

// A search that is broken off lets go of the record: the next one finds a connection.
func TestSearchBrokenOff(t *testing.T) {
	r := openNew(t)
	require.NoError(t, r.Append(samples(20)...))
	all := func(string, string) bool { return true }
	for _, q := range []Search{{}, {Kinds: []string{"work"}}, {Said: &Said{In: all}}, {Said: &Said{In: all, Pieces: []string{bowl}}}} {
		for range 50 {
			for _, err := range r.Search(q) {
				require.NoError(t, err)
				break
			}
		}
	}
	require.LessOrEqual(t, r.db.Stats().InUse, 1, "the pen alone stays out")
}

func TestSearchOfWhatIsClosed(t *testing.T) {
	r := openNew(t)
	require.NoError(t, r.Append(sample()))
	require.NoError(t, r.Close())
	for _, q := range []Search{{}, {Kinds: []string{"pass"}}, {Hand: hand}, {Pieces: []string{bowl}}, {Said: &Said{}}} {
		_, err := collect(r.Search(q))
		require.ErrorContains(t, err, "read "+r.Path())
		_, err = r.Found(q)
		require.ErrorContains(t, err, "read "+r.Path())
	}
	_, err := r.Between(Span{})
	require.ErrorContains(t, err, "read "+r.Path())
	_, err = collect(r.Outlines("pass"))
	require.ErrorContains(t, err, "read "+r.Path())
	_, err = collect(r.Bodies("note"))
	require.ErrorContains(t, err, "read "+r.Path())
}

// Each way goes by an index of its own. The order comes from it, so that nothing is
// sorted before the first entry is given.
func TestSearchUsesTheIndexes(t *testing.T) {
	r := openNew(t)
	cases := []struct{ name, query, want, reason string }{
		{"piece", byPiece.next(false), "SEARCH entry USING INDEX entry_piece (piece=? AND (at,id)>(?,?) AND at<?)", "as reading a piece does"},
		{"hand", byHand.next(true), "SEARCH entry USING INDEX entry_hand (hand=? AND at>? AND (at,id)<(?,?))", "a date has no index: it is looked up in each hand"},
		{"kind", byKind.next(false), "SEARCH entry USING INDEX entry_kind (kind=? AND (at,id)>(?,?) AND at<?)", "of the rarer kinds"},
		{"text", saying + partly + `ORDER BY at DESC, id DESC`, "SEARCH entry USING COVERING INDEX entry_said (at>? AND at<?)", "the bodies stand in it"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			args := make([]any, strings.Count(c.query, "?"))
			rows, err := r.db.Query("EXPLAIN QUERY PLAN "+c.query, args...)
			require.NoError(t, err)
			defer rows.Close()
			var steps []string
			for rows.Next() {
				var id, parent, unused int
				var detail string
				require.NoError(t, rows.Scan(&id, &parent, &unused, &detail))
				steps = append(steps, detail)
			}
			require.Equal(t, []string{c.want}, steps, c.reason)
		})
	}
}

func TestFrequentKindsAreNotRare(t *testing.T) {
	r := openNew(t)
	for _, kind := range append(frequent, "note", "to come") {
		var is bool
		require.NoError(t, r.db.QueryRow(`SELECT `+rare+` FROM (SELECT ? AS kind)`, kind).Scan(&is))
		require.Equal(t, !isFrequent(kind), is, kind)
	}
}
