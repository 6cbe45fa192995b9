package board_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/board"
)

// school is 1,000,000 entries about 20,000 pieces over a year of evenings: 5,000 of one
// evening on a page. Only ids and times matter of pieces that are not on the board.
func school(b *testing.B) (pages int, page func(n int) []schedule.Row, stored func(id string) []schedule.Row) {
	const each = 5_000
	rows := make([]schedule.Row, each)
	begin := func(n, i int) *story {
		s := newStory(b, n*100+i+1)
		s.bench, s.at = idOf(4, i%30), evening.AddDate(0, 0, n)
		return s
	}
	of := make([]schedule.Row, 200*each/50) // one of each piece
	for i := range of {
		st := begin(i/100, i%100)
		of[i] = schedule.Row{At: st.at.UnixMicro(), Bench: string(st.bench), Piece: string(st.piece)}
	}
	page = func(n int) []schedule.Row {
		for i := range rows {
			rows[i] = of[n*100+i/50]
		}
		return rows
	}
	last := map[string][]schedule.Row{} // pieces of the last evening, 50 entries each
	for i := range 100 {
		s := begin(199, i).log(rod())
		for k := range 49 {
			s.log(to(8 - unit.Millimetre(k+1)*0.05))
		}
		last[string(s.piece)] = s.rows()
	}
	return 200, page, func(id string) []schedule.Row { return last[id] }
}

// BenchmarkMillion is a board that takes all of 1,000,000 entries.
func BenchmarkMillion(b *testing.B) {
	pages, page, stored := school(b)
	now := evening.AddDate(0, 0, 199).Add(time.Hour)
	for b.Loop() {
		on := board.New()
		for n := range pages {
			on.Take(nil, page(n))
		}
		for ids := on.Wants(now); len(ids) > 0; ids = on.Wants(now) {
			for _, id := range ids {
				on.Whole(id, nil, stored(id))
			}
		}
		require.Len(b, on.Rows(now), 100)
	}
}

// BenchmarkOneMore is one entry more on a board of 100 pieces with 50 entries each, and
// what then stands.
func BenchmarkOneMore(b *testing.B) {
	_, page, stored := school(b)
	now := evening.AddDate(0, 0, 199).Add(time.Hour)
	on := board.New()
	on.Take(nil, page(199))
	for ids := on.Wants(now); len(ids) > 0; ids = on.Wants(now) {
		for _, id := range ids {
			on.Whole(id, nil, stored(id))
		}
	}
	s := newStory(b, 199*100+1)
	s.at = now
	for b.Loop() {
		s.made = nil
		on.Take(nil, s.log(to(5.5)).rows())
		require.Len(b, on.Rows(now), 100)
	}
}
