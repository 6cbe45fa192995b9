//go:build system && linux

package postgres_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/pgtest"
	"dullred/schedule"
	"dullred/schedule/share"
	"dullred/schedule/share/sharetest"
)

// BenchmarkSend stores batches of the size that a carrier sends, about twenty pieces.
func BenchmarkSend(b *testing.B) {
	for _, n := range []int{1, 500} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			s := newSchool(b, pgtest.Common(b))
			bench, pieces := sharetest.NewID(), ids(20)
			st := s.bench(b, bench)
			for b.Loop() {
				b.StopTimer()
				rows := about(n, bench, pieces)
				b.StartTimer()
				_, err := st.Send(b.Context(), share.Batch{Rows: rows})
				require.NoError(b, err)
			}
		})
	}
}

// BenchmarkSendKnown stores a batch again, whose receipt was lost.
func BenchmarkSendKnown(b *testing.B) {
	s := newSchool(b, pgtest.Common(b))
	bench := sharetest.NewID()
	st, rows := s.bench(b, bench), about(500, bench, ids(20))
	for b.Loop() {
		_, err := st.Send(b.Context(), share.Batch{Rows: rows})
		require.NoError(b, err)
	}
}

// BenchmarkMillion reads 1,000,000 entries about 20,000 pieces.
func BenchmarkMillion(b *testing.B) {
	const entries, each = 1_000_000, 2_000
	s := newSchool(b, pgtest.Common(b))
	bench, pieces := sharetest.NewID(), ids(20_000)
	st := s.bench(b, bench)
	for n := 0; n < entries; n += each {
		_, err := st.Send(b.Context(), share.Batch{Rows: about(each, bench, pieces[n/50%len(pieces):][:each/50])})
		require.NoError(b, err)
	}
	s.Exec(b, s.Name, `ANALYZE`)
	for _, limit := range []int{500, 5000} {
		b.Run(fmt.Sprintf("After/%d", limit), func(b *testing.B) {
			for b.Loop() {
				n := 0
				for cursor, more := int64(0), true; more; {
					p, err := st.After(b.Context(), cursor, limit)
					require.NoError(b, err)
					n, cursor, more = n+len(p.Rows), p.Next, p.More
				}
				require.Equal(b, entries, n)
			}
		})
	}
	b.Run("Sums", func(b *testing.B) {
		for b.Loop() {
			sums, err := st.Sums(b.Context())
			require.NoError(b, err)
			require.Len(b, sums, len(pieces))
		}
	})
	b.Run("Total", func(b *testing.B) {
		for b.Loop() {
			total, err := st.Total(b.Context())
			require.NoError(b, err)
			require.EqualValues(b, entries, total.Count)
		}
	})
	b.Run("Piece", func(b *testing.B) {
		for b.Loop() {
			p, err := st.Pieces(b.Context(), pieces[777])
			require.NoError(b, err)
			require.NotEmpty(b, p.Rows)
		}
	})
	b.Run("Send/500", func(b *testing.B) {
		for b.Loop() {
			_, err := st.Send(b.Context(), share.Batch{Rows: about(500, bench, pieces)})
			require.NoError(b, err)
		}
	})
}

func ids(n int) (all []string) {
	for range n {
		all = append(all, sharetest.NewID())
	}
	return all
}

// about are some entries of a bench, dealt out to pieces in turn.
func about(n int, bench string, pieces []string) []schedule.Row {
	rows := sharetest.Notes(n, bench, bench)
	for i := range rows {
		rows[i].Piece = pieces[i%len(pieces)]
	}
	return rows
}
