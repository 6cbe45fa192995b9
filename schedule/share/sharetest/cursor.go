package sharetest

import (
	"context"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/share"
)

func pages(t *trial) {
	bench := NewID()
	s := t.as(bench)
	for i := range 7 {
		id := NewID()
		t.send(s, share.Batch{Rows: Notes(i+1, bench, id), Labels: []share.Label{piece(id, "piece "+id)}})
	}
	whole := t.all(s, 0, 1000)
	require.Len(t, whole.Rows, 28)
	require.Len(t, whole.Labels, 7)
	for _, limit := range []int{1, 2, 3, 7, 34, 35, 36} {
		require.Equal(t, whole, t.all(s, 0, limit), limit)
	}
	p, err := s.After(t.ctx, 0, 1)
	require.NoError(t, err)
	require.Equal(t, whole.Labels[:1], p.Labels, "a name comes before the entries that came with it")
	require.Empty(t, p.Rows)
	require.True(t, p.More)
	p, err = s.After(t.ctx, whole.Next, 1)
	require.NoError(t, err)
	require.Equal(t, share.Page{Record: whole.Record, Next: whole.Next}, p)
}

func beyondTheEnd(t *trial) {
	bench := NewID()
	s := t.as(bench)
	t.send(s, share.Batch{Rows: Notes(2, bench, NewID())})
	end := t.all(s, 0, 10).Next
	_, err := s.After(t.ctx, end+1, 10)
	require.ErrorIs(t, err, share.ErrRewound)
}

const (
	writers   = 6
	eachSends = 25 // batches
)

// writtenMeanwhile reads in small pages while several benches write: each entry comes
// once, and those of a bench in its order.
func writtenMeanwhile(t *trial) {
	var writing sync.WaitGroup
	sent := make([][]schedule.Row, writers)
	failed := make([]error, writers)
	for w := range sent {
		bench := NewID()
		s := t.as(bench)
		sent[w] = Notes(eachSends*4, bench, NewID())
		writing.Go(func() { failed[w] = sendAll(t.ctx, s, sent[w]) })
	}
	done := make(chan struct{})
	go func() { writing.Wait(); close(done) }()
	got := t.follow(t.as(""), done)
	for w, rows := range sent {
		require.NoError(t, failed[w])
		require.Equal(t, rows, slices.DeleteFunc(slices.Clone(got), func(r schedule.Row) bool { return r.Bench != rows[0].Bench }))
	}
	require.Len(t, got, writers*eachSends*4)
}

// sendAll sends rows in batches of any size, each of which begins with some that are
// known.
func sendAll(ctx context.Context, s share.Store, rows []schedule.Row) error {
	for from := 0; from < len(rows); {
		to := min(from+1+rand.IntN(8), len(rows))
		if _, err := s.Send(ctx, share.Batch{Rows: rows[max(0, from-2):to]}); err != nil {
			return err
		}
		from = to
	}
	return nil
}

// follow reads from the beginning until there is no more after the writers are done.
func (t *trial) follow(s share.Store, done <-chan struct{}) (rows []schedule.Row) {
	t.Helper()
	for cursor, last := int64(0), false; ; {
		p, err := s.After(t.ctx, cursor, 5)
		require.NoError(t, err)
		rows, cursor = append(rows, p.Rows...), p.Next
		if last && !p.More {
			return rows
		}
		select {
		case <-done:
			last = true
		default:
		}
	}
}

func waiting(t *trial) {
	bench := NewID()
	s, reader := t.as(bench), t.as("")
	for i := range 5 {
		cursor := t.all(reader, 0, 100).Next
		begun, heard := make(chan struct{}), make(chan error, 1)
		go func() { close(begun); heard <- reader.Wait(t.ctx, cursor) }()
		<-begun
		for range 50 { // most likely it waits by then
			_, err := reader.Total(t.ctx)
			require.NoError(t, err)
			runtime.Gosched()
		}
		if i == 4 {
			t.named(s, piece(NewID(), "spoon"))
		} else {
			t.send(s, share.Batch{Rows: Notes(1, bench, NewID())})
		}
		require.NoError(t, <-heard)
		require.NoError(t, reader.Wait(t.ctx, cursor), "it is there already")
	}
}

func givenUp(t *trial) {
	bench := NewID()
	s := t.as(bench)
	ctx, cancel := context.WithCancel(t.ctx)
	heard := make(chan error, 1)
	go func() { heard <- s.Wait(ctx, 0) }()
	_, err := s.Sums(t.ctx)
	require.NoError(t, err, "who waits holds up nobody")
	cancel()
	require.ErrorIs(t, <-heard, context.Canceled)
	_, err = s.Send(ctx, share.Batch{Rows: Notes(1, bench, NewID())})
	require.ErrorIs(t, err, context.Canceled)
	_, err = s.After(ctx, 0, 1)
	require.ErrorIs(t, err, context.Canceled)
	_, err = s.Sums(ctx)
	require.ErrorIs(t, err, context.Canceled)
	require.Equal(t, 1, t.send(s, share.Batch{Rows: Notes(1, bench, NewID())}).Fresh, "it goes on")
}
