//go:build system && linux

package postgres_test

import (
	"context"
	"fmt"
	"sync"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/pgtest"
	"dullred/cmd/dullred-share/internal/postgres"
	"dullred/schedule/share"
	"dullred/schedule/share/sharetest"
)

// No question to a store goes through all entries or all labels: each goes by an index,
// and each index serves one.
func TestSystemIndexes(t *testing.T) {
	s := newSchool(t, pgtest.Common(t))
	bench, pieces := sharetest.NewID(), ids(400)
	c := s.Role(t, postgres.Writer)
	c.Bench = bench
	known := share.Batch{Rows: about(20, bench, pieces)} // of a table this small 200 would be looked for by reading it
	func() {
		st, err := postgres.Open(t.Context(), c)
		require.NoError(t, err)
		defer func() { require.NoError(t, st.Close()) }()
		for i := range 40 {
			b := share.Batch{Rows: about(500, bench, pieces)}
			for _, id := range pieces[i*10 : i*10+10] {
				b.Labels = append(b.Labels, share.Label{ID: id, Class: "piece", Text: "spoon " + id})
			}
			_, err := st.Send(t.Context(), b)
			require.NoError(t, err)
		}
		_, err = st.Send(t.Context(), known)
		require.NoError(t, err)
	}()
	s.Exec(t, s.Name, `ANALYZE`)
	cases := []struct {
		name   string
		ask    func(context.Context, *postgres.Store) error
		goes   []string
		reason string
	}{
		{"After", func(ctx context.Context, st *postgres.Store) error { _, err := st.After(ctx, 15_000, 200); return err },
			[]string{"entry_seq_key", "label_seq_key"}, "a page is a run of places"},
		{"Pieces", func(ctx context.Context, st *postgres.Store) error { _, err := st.Pieces(ctx, pieces[7]); return err },
			[]string{"entry_piece", "label_pkey"}, "a piece is forty entries of a million"},
		{"Sums", func(ctx context.Context, st *postgres.Store) error { _, err := st.Sums(ctx); return err },
			nil, "the sums are kept, and read as they lie"},
		{"Total", func(ctx context.Context, st *postgres.Store) error { _, err := st.Total(ctx); return err },
			nil, "it stands in the head"},
		{"Send of what is there", func(ctx context.Context, st *postgres.Store) error { _, err := st.Send(ctx, known); return err },
			[]string{"entry_pkey"}, "it is looked whether it is the same to the letter"},
		{"Send of a name", func(ctx context.Context, st *postgres.Store) error {
			_, err := st.Send(ctx, share.Batch{Labels: []share.Label{{ID: pieces[3], Class: "piece", Text: "ladle"}}})
			return err
		}, []string{"label_class_folded_key", "label_pkey"}, "the id has a name, and the name may have an id"},
	}
	for _, tc := range cases {
		t.Run(tc.name, func(t *testing.T) {
			indexes, through := s.scans(t, c, tc.ask)
			require.Equal(t, tc.goes, indexes, tc.reason)
			require.Empty(t, through, "these were read from end to end")
		})
	}
}

// scans are the indexes of entries and labels that a question to a store goes by, and
// which of the two tables it reads from end to end. A server counts what a connection did
// when it ends.
func (s school) scans(t testing.TB, c postgres.Config, ask func(context.Context, *postgres.Store) error) (indexes, through []string) {
	s.Exec(t, s.Name, `SELECT pg_stat_reset()`)
	st, err := postgres.Open(t.Context(), c)
	require.NoError(t, err)
	require.NoError(t, ask(t.Context(), st))
	require.NoError(t, st.Close())
	const counted = `SELECT
		(SELECT coalesce(sum(seq_scan) + sum(idx_scan), 0)::bigint FROM pg_stat_user_tables WHERE schemaname = 'dullred'),
		(SELECT array_agg(indexrelname::text ORDER BY indexrelname) FROM pg_stat_user_indexes WHERE relname IN ('entry', 'label') AND idx_scan > 0),
		(SELECT array_agg(relname::text ORDER BY relname) FROM pg_stat_user_tables WHERE relname IN ('entry', 'label') AND seq_scan > 0)`
	require.Eventually(t, func() bool {
		var scans int64
		s.As(t, s.Name, func(ctx context.Context, conn *pgx.Conn) error {
			return conn.QueryRow(ctx, counted).Scan(&scans, &indexes, &through)
		})
		return scans > 0
	}, 20*time.Second, 50*time.Millisecond)
	return indexes, through
}

// BenchmarkCommits stores small batches over several connections at once, each of a bench
// of its own. All of them wait for the one row that gives places in the line.
func BenchmarkCommits(b *testing.B) {
	for _, rows := range []int{1, 10, 100} {
		for _, benches := range []int{1, 4, 30} {
			b.Run(fmt.Sprintf("rows=%d/benches=%d", rows, benches), func(b *testing.B) { commits(b, rows, benches) })
		}
	}
}

func commits(b *testing.B, rows, benches int) {
	s := newSchool(b, pgtest.Common(b))
	batches := make([][]share.Batch, benches)
	stores := make([]*postgres.Store, benches)
	for i := range stores {
		bench, pieces := sharetest.NewID(), ids(2)
		stores[i] = s.bench(b, bench)
		for range max(b.N/benches, 1) {
			batches[i] = append(batches[i], share.Batch{Rows: about(rows, bench, pieces)})
		}
	}
	var all sync.WaitGroup
	b.ResetTimer()
	for i, st := range stores {
		all.Go(func() {
			for _, batch := range batches[i] {
				if _, err := st.Send(b.Context(), batch); err != nil {
					b.Error(err)
				}
			}
		})
	}
	all.Wait()
	done := float64(benches * len(batches[0]))
	b.ReportMetric(done/b.Elapsed().Seconds(), "commits/s")
	b.ReportMetric(done*float64(rows)/b.Elapsed().Seconds(), "entries/s")
}
