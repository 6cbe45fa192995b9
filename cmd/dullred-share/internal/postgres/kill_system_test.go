//go:build system && linux

package postgres_test

import (
	"context"
	"math/rand/v2"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/pgtest"
	"dullred/cmd/dullred-share/internal/postgres"
	"dullred/schedule"
	"dullred/schedule/share"
	"dullred/schedule/share/sharetest"
)

const (
	killedBenches = 4
	killedRows    = 2000 // of each
	kills         = 5
)

// stubborn sends rows in batches until each was acknowledged, as a carrier does. It
// counts what was acknowledged.
func stubborn(ctx context.Context, st share.Store, rows []schedule.Row, acknowledged *atomic.Int64) error {
	for from := 0; from < len(rows); {
		to := min(from+1+rand.IntN(20), len(rows))
		if _, err := st.Send(ctx, share.Batch{Rows: rows[from:to]}); err == nil {
			acknowledged.Add(int64(to - from))
			from = to
			continue
		}
		select {
		case <-time.After(5 * time.Millisecond):
		case <-ctx.Done():
			return ctx.Err()
		}
	}
	return nil
}

// TestServerIsKilled kills the server with all its processes (SIGKILL) while benches
// send. What was acknowledged is never sent again, and so must be there by itself; what
// was not is sent again, though it may have been stored.
func TestServerIsKilled(t *testing.T) {
	s := newSchool(t, pgtest.Start(t))
	ctx, cancel := context.WithTimeout(t.Context(), 3*time.Minute)
	defer cancel()
	var sending sync.WaitGroup
	var acknowledged atomic.Int64
	var all []schedule.Row
	failed := make([]error, killedBenches)
	for i := range killedBenches {
		bench := sharetest.NewID()
		st, rows := s.bench(t, bench), sharetest.Notes(killedRows, bench, sharetest.NewID())
		all = append(all, rows...)
		sending.Go(func() { failed[i] = stubborn(ctx, st, rows, &acknowledged) })
	}
	reader := s.Role(t, postgres.Reader)
	for n := range kills {
		part := int64(n+1) * killedBenches * killedRows / (kills + 1)
		for acknowledged.Load() < part && ctx.Err() == nil {
			time.Sleep(time.Millisecond)
		}
		s.Kill()
		before := acknowledged.Load() // of what is under way nothing more can come
		s.Restart(t)
		total, err := pgtest.Opened(t, reader).Total(ctx)
		require.NoError(t, err)
		require.GreaterOrEqual(t, total.Count, before, "all that was acknowledged")
	}
	sending.Wait()
	for _, err := range failed {
		require.NoError(t, err)
	}
	require.EqualValues(t, len(all), acknowledged.Load())
	requireExactly(t, pgtest.Opened(t, reader), all)
}

// requireExactly reads all that is there: these rows, each once, and sums that say so.
func requireExactly(t *testing.T, st share.Store, rows []schedule.Row) {
	t.Helper()
	want := map[string]schedule.Row{}
	for _, r := range rows {
		want[r.ID] = r
	}
	for cursor, more := int64(0), true; more; {
		p, err := st.After(t.Context(), cursor, 500)
		require.NoError(t, err)
		for _, r := range p.Rows {
			is, there := want[r.ID]
			require.True(t, there, "once, and none that was not sent")
			require.Equal(t, is, r)
			delete(want, r.ID)
		}
		cursor, more = p.Next, p.More
	}
	require.Empty(t, want, "every one")
	sums, err := st.Sums(t.Context())
	require.NoError(t, err)
	require.Equal(t, share.SumsOf(rows), sums)
}

// TestServerIsRestarted in good order: a Store that was opened before goes on.
func TestServerIsRestarted(t *testing.T) {
	s := newSchool(t, pgtest.Start(t))
	bench := sharetest.NewID()
	st := s.bench(t, bench)
	heard := make(chan error, 1)
	go func() { heard <- st.Wait(t.Context(), 0) }()
	_, err := st.Total(t.Context())
	require.NoError(t, err)
	s.Stop()
	require.ErrorIs(t, <-heard, share.ErrUnreachable)
	_, err = st.Send(t.Context(), share.Batch{})
	require.ErrorIs(t, err, share.ErrUnreachable)
	s.Restart(t)
	rows := sharetest.Notes(3, bench, bench)
	_, err = st.Send(t.Context(), share.Batch{Rows: rows})
	require.NoError(t, err)
	require.NoError(t, st.Wait(t.Context(), 0))
	requireExactly(t, st, rows)
}
