package board_test

import (
	"context"
	"errors"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/cmd/dullred-share/internal/board"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/share"
	"dullred/schedule/share/sharetest"
)

// evening is when the entries that sharetest makes happen.
var evening = time.Date(2031, 3, 5, 18, 30, 0, 0, time.UTC)

func now() time.Time { return evening.Add(time.Minute) }

func id(name string) string { return uuid.NewSHA1(uuid.UUID{}, []byte(name)).String() }

// rod is a wrought bar of sterling silver, 8 mm square.
func rod() schedule.Started {
	return schedule.Started{Alloy: "AG925", Reading: square(8), Calliper: 0.05}
}

func square(side unit.Millimetre) schedule.Reading {
	return schedule.Reading{Size: unit.Size{Shape: unit.Square, Thick: side, Width: side}}
}

// to is a course that brings the bar to a side.
func to(side unit.Millimetre) schedule.Pass {
	return schedule.Pass{Process: coldwork.Lengthen, Count: 1, Reading: square(side)}
}

// shop is a shared record in memory whose link can be cut.
type shop struct {
	t testing.TB

	mu     sync.Mutex
	shared *share.Memory
	cut    context.CancelCauseFunc
	fault  error
}

func newShop(t testing.TB) *shop { return &shop{t: t, shared: share.NewMemory(id("shared"))} }

// open is the record for one who reads, until the link is cut.
func (s *shop) open(context.Context) (share.Store, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fault != nil {
		return nil, s.fault
	}
	ctx, cut := context.WithCancelCause(context.Background())
	s.cut = cut
	return &linked{s.shared.As(""), ctx}, nil
}

// lose cuts the link with a reason; nil mends it.
func (s *shop) lose(why error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.fault = why
	if why != nil && s.cut != nil {
		s.cut(why)
	}
}

// replace puts another record in the place of this one.
func (s *shop) replace(m *share.Memory) {
	s.lose(errors.New("the server starts anew"))
	s.mu.Lock()
	s.shared = m
	s.mu.Unlock()
	s.lose(nil)
}

// linked is a store whose Wait ends when the link is cut.
type linked struct {
	share.Store
	link context.Context
}

func (l *linked) Wait(ctx context.Context, cursor int64) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	defer context.AfterFunc(l.link, stop)()
	err := l.Store.Wait(ctx, cursor)
	if cause := context.Cause(l.link); cause != nil {
		return cause
	}
	return err
}

// send stores bodies about a piece, each in an entry, with the names of both.
func (s *shop) send(bench, piece string, bodies ...schedule.Body) {
	s.t.Helper()
	s.mu.Lock()
	m := s.shared
	s.mu.Unlock()
	_, err := m.As(id(bench)).Send(s.t.Context(), batch(bench, piece, bodies...))
	require.NoError(s.t, err)
}

func batch(bench, piece string, bodies ...schedule.Body) share.Batch {
	b := share.Batch{Labels: []share.Label{{ID: id(bench), Class: "bench", Text: bench}, {ID: id(piece), Class: "piece", Text: piece}}}
	for _, body := range bodies {
		b.Rows = append(b.Rows, sharetest.Row(id(bench), id(piece), body))
	}
	return b
}

// feed runs until the test has ended.
func (s *shop) feed() *board.Feed { return s.feedBy(now) }

// feedBy is a feed by a clock.
func (s *shop) feedBy(clock func() time.Time) *board.Feed {
	f := board.NewFeed(s.open, clock)
	ctx, cancel := context.WithCancel(context.Background())
	over := make(chan struct{})
	go func() { defer close(over); f.Run(ctx) }()
	s.t.Cleanup(func() { cancel(); <-over })
	return f
}

// until waits for a picture.
func until(t testing.TB, f *board.Feed, want func(*board.Picture) bool) *board.Picture {
	t.Helper()
	late := time.After(time.Minute)
	for {
		p, changed := f.Look()
		if want(p) {
			return p
		}
		select {
		case <-changed:
		case <-late:
			require.Fail(t, "the picture did not come", "%+v", p)
		}
	}
}

// shows is a picture with so many rows, of now.
func shows(n int) func(*board.Picture) bool {
	return func(p *board.Picture) bool { return len(p.Rows) == n && p.Alone.IsZero() && !p.Read.IsZero() }
}
