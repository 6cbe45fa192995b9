//go:build system && linux

package board_test

import (
	"context"
	"fmt"
	"os"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/cmd/dullred-share/internal/board"
	"dullred/cmd/dullred-share/internal/pgtest"
	"dullred/cmd/dullred-share/internal/postgres"
	"dullred/schedule"
	"dullred/schedule/share"
	"dullred/schedule/share/sharetest"
)

func TestMain(m *testing.M) { os.Exit(pgtest.Main(m)) }

// school is a prepared database with benches.
type school struct{ pgtest.School }

func newSchool(t testing.TB, s *pgtest.Server) school {
	t.Helper()
	return school{pgtest.NewSchool(t, s)}
}

// bench opens the school as a bench with a role of its own.
func (s school) bench(t testing.TB, name string) share.Store {
	t.Helper()
	c := s.Role(t, postgres.Writer)
	c.Bench = id(name)
	return pgtest.Opened(t, c)
}

// feed reads the school as a role that may only read, until the test has ended.
func (s school) feed(t testing.TB) *board.Feed {
	t.Helper()
	c := s.Role(t, postgres.Reader)
	f := board.NewFeed(func(ctx context.Context) (share.Store, error) {
		st, err := postgres.Open(ctx, c)
		if err != nil {
			return nil, err
		}
		return st, nil
	}, now)
	ctx, cancel := context.WithCancel(context.Background())
	over := make(chan struct{})
	go func() { defer close(over); f.Run(ctx) }()
	t.Cleanup(func() { cancel(); <-over })
	return f
}

func send(t testing.TB, st share.Store, b share.Batch) {
	t.Helper()
	_, err := st.Send(t.Context(), b)
	require.NoError(t, err)
}

// An entry that a bench sends is in the stream of events; a server that is killed is told
// of in words, and what comes after it is there again.
func TestSystemBoard(t *testing.T) {
	s := newSchool(t, pgtest.Start(t))
	bench := s.bench(t, "bench 3")
	send(t, bench, batch("bench 3", "spoon", rod(), to(7)))
	f := s.feed(t)
	until(t, f, shows(1))
	events := serve(t, f).listen()
	hears(t, events, "board", "carry on")
	send(t, bench, batch("bench 3", "spoon", to(5)))
	hears(t, events, "board", "anneal now")
	hears(t, events, "news", "bench 3: spoon: anneal now")

	begun := time.Now()
	s.Kill()
	hears(t, events, "board", "OLD since 18:31")
	t.Logf("that the server was killed was told after %v", time.Since(begun))
	s.Restart(t)
	begun = time.Now()
	hears(t, events, "news", "The board is with the shared record again.")
	t.Logf("it was read again %v after the server was back", time.Since(begun))
	require.Eventually(t, func() bool {
		_, err := bench.Send(t.Context(), batch("bench 3", "bowl", rod()))
		return err == nil
	}, 20*time.Second, 100*time.Millisecond, "the bench finds that its connection was lost")
	hears(t, events, "board", "bowl")
}

// benches are how many work at a time in a large class.
const benches = 30

// BenchmarkSystemEntryToBoard is how long it takes from when a bench begins to send an entry
// until it is in the stream of events of a page, while 30 benches send one each second.
func BenchmarkSystemEntryToBoard(b *testing.B) {
	s := newSchool(b, pgtest.Common(b))
	var all []share.Store
	for n := range benches {
		name := fmt.Sprint("bench ", n)
		all = append(all, s.bench(b, name))
		send(b, all[n], batch(name, fmt.Sprint("spoon ", n), rod()))
	}
	f := s.feed(b)
	until(b, f, shows(benches))
	events := serve(b, f).listen()
	hears(b, events, "board", "spoon 0")
	ctx, stop := context.WithCancel(context.Background())
	over := make(chan struct{}, benches)
	for n := 1; n < benches; n++ {
		go func() { defer func() { over <- struct{}{} }(); chatter(ctx, b, all[n], n) }()
	}
	var took []time.Duration
	for b.Loop() {
		piece := fmt.Sprint("ring ", len(took))
		begun := time.Now()
		send(b, all[0], batch("bench 0", piece, rod()))
		hears(b, events, "board", `<th scope="row">`+piece+",")
		took = append(took, time.Since(begun))
	}
	stop()
	for range benches - 1 {
		<-over
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)/2].Microseconds())/1e3, "ms-median")
	b.ReportMetric(float64(took[len(took)*95/100].Microseconds())/1e3, "ms-p95")
}

// chatter has a bench send an entry each second.
func chatter(ctx context.Context, b *testing.B, st share.Store, n int) {
	tick := time.NewTicker(time.Second)
	defer tick.Stop()
	for {
		select {
		case <-tick.C:
			_, _ = st.Send(ctx, share.Batch{Rows: []schedule.Row{sharetest.Row(id(fmt.Sprint("bench ", n)), id(fmt.Sprint("spoon ", n)), to(7.9))}})
		case <-ctx.Done():
			return
		}
	}
}

// BenchmarkSystemMillion is how long it takes until a board shows what stands, of 1,000,000
// entries of 100 evenings about 20,000 pieces.
func BenchmarkSystemMillion(b *testing.B) {
	s := newSchool(b, pgtest.Common(b))
	bench := s.bench(b, "bench 1")
	for evening := range 100 {
		for part := range 10 {
			send(b, bench, night(evening, part))
		}
	}
	s.Exec(b, s.Name, `ANALYZE`)
	c := s.Role(b, postgres.Reader)
	for b.Loop() {
		f := board.NewFeed(func(ctx context.Context) (share.Store, error) { return postgres.Open(ctx, c) }, now)
		ctx, cancel := context.WithCancel(context.Background())
		over := make(chan struct{})
		go func() { defer close(over); f.Run(ctx) }()
		until(b, f, shows(200))
		cancel()
		<-over
	}
}

// night is a tenth of an evening of 10,000 entries about 200 pieces of their own, counted
// from 100 evenings ago.
func night(evening, part int) (all share.Batch) {
	for i := range 20 {
		one := batch("bench 1", fmt.Sprintf("bar %d of evening %d", part*20+i, evening), rod())
		all.Labels = append(all.Labels, one.Labels[1])
		for k := range 49 {
			one.Rows = append(one.Rows, sharetest.Row(one.Rows[0].Bench, one.Rows[0].Piece, to(7.9-0.05*unit.Millimetre(k))))
		}
		for k := range one.Rows {
			at := one.Rows[k].At - int64(99-evening)*24*time.Hour.Microseconds() - int64(50-k)*time.Minute.Microseconds()
			one.Rows[k].At, one.Rows[k].Written = at, at
		}
		all.Rows = append(all.Rows, one.Rows...)
	}
	return all
}
