package board_test

import (
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/schedule"
	"dullred/schedule/alert"
	"dullred/schedule/board"
	"dullred/schedule/demo"
)

// What the board says of a piece is what its entries fold to.
func TestRowsAreFolds(t *testing.T) {
	rows, n := class(t).shown(evening), 0
	for _, p := range demo.Class(evening) {
		state := schedule.Fold(p.Entries)
		i := slices.IndexFunc(rows, func(r board.Row) bool { return r.Piece == p.Name })
		if state.Done() {
			require.Negative(t, i, "%s is finished", p.Name)
			continue
		}
		require.GreaterOrEqual(t, i, 0, p.Name)
		a := state.Advise(evening, nil)
		require.Equal(t, a.Verdict, rows[i].Verdict, p.Name)
		require.Equal(t, a.Courses, rows[i].Courses, p.Name)
		require.Equal(t, state.Alloy.Name, rows[i].Alloy)
		if a.Limit.Known() {
			require.InDelta(t, a.Spent, rows[i].Spent, 1e-12)
		}
		n++
	}
	require.Len(t, rows, n)
	require.Greater(t, n, 4)
}

// Danger comes first, then what is past its limit, then what is hot, then what is nearer to
// splitting.
func TestNearestFirst(t *testing.T) {
	a, b, c, d := newStory(t, 1).log(rod(), to(6.3)), newStory(t, 2).log(rod(), to(5)), newStory(t, 3).log(rod(), to(7.5)), newStory(t, 4).log(rod(), to(7), schedule.Begun{})
	lit := newStory(t, 5)
	lit.piece = lit.bench
	lit.log(schedule.TorchLit{})
	lit.made = append(lit.made, alert.Alert{Cause: alert.TorchLeft, Key: string(lit.bench) + "/left", Piece: lit.bench, Due: lit.at}.Entry(idOf(3, 1), lit.bench, lit.at))
	s := of(a, b, c, d, lit)
	s.labels = []board.Label{{ID: string(lit.bench), Class: "bench", Text: "by the window"}}
	var got []schedule.ID
	rows := s.shown(evening.Add(time.Hour))
	for _, r := range rows {
		got = append(got, r.ID)
	}
	require.Equal(t, []schedule.ID{lit.bench, b.piece, d.piece, a.piece, c.piece}, got, "danger, past the limit, hot, then by share")
	require.Equal(t, "by the window", rows[0].Bench)
	require.Equal(t, "", rows[0].State())
	require.Equal(t, "HOT, heating", rows[2].State())
	require.Equal(t, evening.Add(2*time.Minute), rows[2].Hot)
}

// In whatever order and however often entries come, and wherever the board begins to
// read, it shows the same.
func TestOrderDoesNotMatter(t *testing.T) {
	s := class(t)
	for _, one := range []*story{newStory(t, 1).log(rod(), to(5)).raise(), newStory(t, 2).log(rod(), to(7), schedule.Begun{})} {
		s.rows = append(s.rows, one.rows()...)
	}
	want := s.shown(evening)
	rapid.Check(t, func(rt *rapid.T) {
		b, rows := board.New(), slices.Clone(s.rows)
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(rt, "seed"), 1))
		r.Shuffle(len(rows), func(i, j int) { rows[i], rows[j] = rows[j], rows[i] })
		from := rapid.IntRange(0, len(rows)).Draw(rt, "from")
		b.Take(s.labels, rows[from:])
		shelf{s.labels, rows[rapid.IntRange(0, from).Draw(rt, "stored"):]}.fill(b, evening)
		for from := 0; from < len(rows); {
			n := min(len(rows)-from, rapid.IntRange(1, 40).Draw(rt, "page"))
			b.Take(nil, rows[from:from+n])
			from += n
		}
		s.fill(b, evening)
		require.Equal(rt, plain(want), plain(b.Rows(evening)))
	})
}

// plain are rows as text, so that two can be compared.
func plain(rows []board.Row) (all []string) {
	for _, r := range rows {
		text := r.Bench + "|" + r.Title() + "|" + r.State() + "|" + r.Share() + "|" + r.Left() + "|" + r.Hot.String() + "|" + r.Last.String()
		for _, a := range r.Alerts {
			text += "|" + a.Sentence()
		}
		all = append(all, text)
	}
	return all
}

func TestWhichPieces(t *testing.T) {
	old := newStory(t, 1).log(rod(), to(7))
	hot := newStory(t, 2).log(rod(), to(7), schedule.Begun{})
	later := newStory(t, 3)
	later.at = evening.Add(25 * time.Hour)
	later.log(rod())
	b, now := board.New(), evening.Add(26*time.Hour)
	first := of(old, hot)
	b.Take(nil, first.rows)
	first.fill(b, now)
	require.Len(t, b.Rows(now), 2, "nothing is newer")

	b.Take(nil, later.rows())
	of(old, hot, later).fill(b, now)
	require.Equal(t, []string{string(hot.piece), string(later.piece)}, ids(b.Rows(now)), "a day later the hot one stays")
	require.Empty(t, b.Wants(now), "and the old one is not asked for again")

	b.Take(nil, old.log(schedule.Note{Text: "the edge is warm"}).rows()[2:])
	require.Empty(t, b.Wants(now), "an entry that is as old")
	old.at = now
	b.Take(nil, old.log(to(6.9)).rows()[3:])
	require.Equal(t, []string{string(old.piece)}, b.Wants(now), "it is worked at again")
}

func ids(rows []board.Row) (all []string) {
	for _, r := range rows {
		all = append(all, string(r.ID))
	}
	return all
}

// A bench whose clock is a year ahead does not empty the board.
func TestAClockAhead(t *testing.T) {
	a, wrong := newStory(t, 1).log(rod()), newStory(t, 2)
	wrong.at = evening.AddDate(1, 0, 0)
	wrong.log(rod())
	require.Len(t, of(a, wrong).shown(evening.Add(time.Hour)), 2)
}

func TestMostPieces(t *testing.T) {
	var all []*story
	for n := range 250 {
		s := newStory(t, n+1)
		s.at = evening.Add(time.Duration(n) * time.Minute)
		all = append(all, s.log(rod()))
	}
	rows := of(all...).shown(evening.Add(6 * time.Hour))
	require.Len(t, rows, 200)
	require.NotContains(t, ids(rows), string(all[49].piece))
	require.Contains(t, ids(rows), string(all[50].piece), "the 200 that were touched last")
}

// An entry about a bench that comes before the bench is known is no piece.
func TestABenchIsNoPiece(t *testing.T) {
	about, other := newStory(t, 1), newStory(t, 2)
	other.piece = about.bench
	other.log(schedule.Note{Text: "the torch of bench 1 hisses"})
	b := board.New()
	b.Take(nil, other.rows())
	of(other).fill(b, evening)
	require.Len(t, b.Rows(evening), 1, "it may be a piece")
	about.log(rod())
	b.Take(nil, about.rows())
	of(about, other).fill(b, evening)
	require.Equal(t, []string{string(about.piece)}, ids(b.Rows(evening)))
}
