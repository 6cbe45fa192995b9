package share_test

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/record"
	"dullred/schedule/share"
)

// recordIn opens a record in a new folder.
func recordIn(tb testing.TB, dir string) *record.Record {
	r, err := record.Open(filepath.Join(dir, "record.db"))
	require.NoError(tb, err)
	tb.Cleanup(func() { require.NoError(tb, r.Close()) })
	return r
}

// beside is a carrier between a record on disk and a shared one.
func beside(tb testing.TB, dir string, m *share.Memory) *share.Carrier {
	ledger, err := share.OpenLedger(filepath.Join(dir, "ledger"), "memory")
	require.NoError(tb, err)
	tb.Cleanup(func() { require.NoError(tb, ledger.Close()) })
	return &share.Carrier{Local: share.Beside(recordIn(tb, dir)), Ledger: ledger,
		Dial: func(_ context.Context, bench string) (share.Store, error) { return m.As(bench), nil }}
}

// A record on disk: entries go there when the bench writes them, and others come.
func TestCarrierBesideARecord(t *testing.T) {
	m := share.NewMemory(named("shared"))
	dir := t.TempDir()
	bench := recordIn(t, dir) // as dullred has it open
	c := beside(t, dir, m)
	var p post
	p.t, p.bench = t, named("bench here")
	own := []record.Label{{ID: p.bench, Class: record.BenchClass, Text: share.OwnBench}, {ID: p.hand(), Class: record.HandClass, Text: "AB"}}
	require.NoError(t, bench.AppendNamed(own, record.Row(p.row(named("piece")))))

	other := post{t: t, bench: named("bench there")}
	_, err := m.As(other.bench).Send(t.Context(), share.Batch{Labels: other.labels(), Rows: []schedule.Row{other.row(named("piece")), other.row(named("piece"))}})
	require.NoError(t, err)

	carried := make(chan share.News, 10)
	c.Tell = func(n share.News) { carried <- n }
	ctx, cancel := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() { ended <- c.Run(ctx) }()
	require.True(t, (<-carried).First)
	first := <-carried
	require.Equal(t, [2]int{1, 2}, [2]int{first.Sent, first.Collected})
	require.NoError(t, bench.Append(record.Row(p.row(named("piece")))))
	require.Equal(t, 1, (<-carried).Sent, "it is heard of, and carried")
	cancel()
	require.NoError(t, <-ended)

	n, err := bench.Count()
	require.NoError(t, err)
	require.Equal(t, 4, n)
	label, found, err := bench.LabelNamed(record.BenchClass, "bench 2")
	require.NoError(t, err)
	require.True(t, found)
	require.Equal(t, other.bench, label.ID)
	total, err := m.As("").Total(t.Context())
	require.NoError(t, err)
	require.Equal(t, int64(4), total.Count)
	found2, err := c.Compare(t.Context(), true)
	require.NoError(t, err)
	require.Empty(t, found2.Differ, "what comes from a record is to the letter what went in")
}

// bulk is a shared record with many entries of many benches, 50 of each piece.
func bulk(tb testing.TB, rows int) *share.Memory {
	m := share.NewMemory(named("shared"))
	others := []post{{bench: named("bench 1")}, {bench: named("bench 2")}, {bench: named("bench 3")}}
	for i := 0; i < rows; i += 500 {
		p := &others[i/500%3]
		p.clock.Store(int64(time.Duration(i-rows)*time.Second - time.Hour))
		b := share.Batch{Labels: []share.Label{{ID: p.bench, Class: "bench", Text: share.OwnBench}}}
		for j := range 500 {
			b.Rows = append(b.Rows, p.row(named(fmt.Sprint("piece ", (i+j)/50))))
		}
		_, err := m.As(p.bench).Send(tb.Context(), b)
		require.NoError(tb, err)
	}
	return m
}

// BenchmarkAppendBeside is how long an entry of the bench takes until it is on disk,
// without a carrier and while one brings 100,000 entries, every 5 ms one.
func BenchmarkAppendBeside(b *testing.B) {
	m := bulk(b, 100_000)
	b.Run("alone", func(b *testing.B) {
		for b.Loop() {
			stop := make(chan struct{})
			time.AfterFunc(10*time.Second, func() { close(stop) })
			b.StopTimer()
			report(b, appending(b, recordIn(b, b.TempDir()), stop))
			b.StartTimer()
		}
	})
	b.Run("collecting", func(b *testing.B) {
		for b.Loop() {
			dir := b.TempDir()
			c, stop := beside(b, dir, m), make(chan struct{})
			b.StopTimer()
			begun := time.Now()
			go func() {
				defer close(stop)
				if _, err := c.Once(context.Background(), false, true); err != nil {
					b.Error(err)
				}
			}()
			report(b, appending(b, recordIn(b, dir), stop))
			b.ReportMetric(time.Since(begun).Seconds(), "s-collect")
			b.StartTimer()
		}
	})
}

// appending writes an entry every 5 ms until stop, and gives how long each took.
func appending(b *testing.B, r *record.Record, stop chan struct{}) (took []time.Duration) {
	p := post{bench: named("bench here")}
	for {
		select {
		case <-stop:
			slices.Sort(took)
			return took
		case <-time.After(5 * time.Millisecond):
		}
		row := record.Row(p.row(named("piece")))
		begun := time.Now()
		require.NoError(b, r.Append(row))
		took = append(took, time.Since(begun))
	}
}

func report(b *testing.B, took []time.Duration) {
	for _, q := range []struct {
		name  string
		share float64
	}{{"ms-median", 0.5}, {"ms-p99", 0.99}, {"ms-max", 1}} {
		i := min(int(q.share*float64(len(took))), len(took)-1)
		b.ReportMetric(took[i].Seconds()*1000, q.name)
	}
	b.ReportMetric(float64(len(took)), "entries")
}

// BenchmarkLargeRecord is what a carrier does beside a record of a million entries that
// the shared one has too: its first look at all of them, comparing, and carrying one more.
func BenchmarkLargeRecord(b *testing.B) {
	const rows = 1_000_000
	m, dir := bulk(b, rows), b.TempDir()
	r := recordIn(b, dir)
	for cursor, more := int64(0), true; more; {
		p, err := m.As("").After(b.Context(), cursor, 20_000)
		require.NoError(b, err)
		batch := make([]record.Row, len(p.Rows))
		for i, row := range p.Rows {
			batch[i] = record.Row(row)
		}
		require.NoError(b, r.Append(batch...))
		cursor, more = p.Next, p.More
	}
	own := post{bench: named("bench here")}
	require.NoError(b, r.AppendNamed([]record.Label{{ID: own.bench, Class: record.BenchClass, Text: share.OwnBench}}, record.Row(own.row(named("piece")))))
	c := beside(b, dir, m)
	timed := func(name string, do func() error) {
		begun := time.Now()
		require.NoError(b, do())
		b.ReportMetric(time.Since(begun).Seconds(), name)
	}
	for b.Loop() {
		timed("s-first-look", func() error { _, err := c.Once(b.Context(), true, false); return err })
		timed("s-compare", func() error { _, err := c.Compare(b.Context(), true); return err })
		require.NoError(b, r.Append(record.Row(own.row(named("piece")))))
		timed("s-send-one", func() error { _, err := c.Once(b.Context(), true, false); return err })
	}
}
