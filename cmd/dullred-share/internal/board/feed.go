package board

import (
	"context"
	"errors"
	"math/rand/v2"
	"sync"
	"time"

	"dullred/schedule/board"
	"dullred/schedule/share"
)

// Picture is what is known of the benches. It is not changed once it was given.
type Picture struct {
	Rows  []board.Row
	Read  time.Time // when it was read; zero before it first was
	Alone time.Time // since when the shared record cannot be read; zero while it can
	Why   string    // why not
}

// Feed reads a shared record and gives pictures of it. It may be looked at by several
// goroutines.
type Feed struct {
	open func(context.Context) (share.Store, error)
	now  func() time.Time

	board  *board.Board // nil before it was read from the start
	record string       // id of the shared record
	cursor int64
	tries  int // that failed, one after the other

	renew time.Duration // after which all is read again
	begun time.Time     // when it last was

	mu      sync.Mutex
	picture *Picture
	changed chan struct{} // closed when there is another picture
}

// NewFeed is a feed of what open opens, for one who only reads.
func NewFeed(open func(context.Context) (share.Store, error), now func() time.Time) *Feed {
	return &Feed{open: open, now: now, renew: renewal, picture: &Picture{}, changed: make(chan struct{})}
}

// renewal is after how long all is read again: that a name was erased is in no line of
// news, and it is not to stand on a wall for long.
const renewal = 10 * time.Minute

// Look gives the picture of this moment, and a channel that is closed when there is
// another.
func (f *Feed) Look() (*Picture, <-chan struct{}) {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.picture, f.changed
}

func (f *Feed) show(p *Picture) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.picture = p
	close(f.changed)
	f.changed = make(chan struct{})
}

// Back-off after a failure: soonest, twice as long each time, at most latest.
const (
	soonest = 100 * time.Millisecond
	latest  = 5 * time.Second
)

// Run reads until ctx ends. When the shared record cannot be read it says so in the
// picture, and tries again.
func (f *Feed) Run(ctx context.Context) {
	for ctx.Err() == nil {
		err := f.follow(ctx)
		if ctx.Err() != nil {
			return
		}
		if errors.Is(err, share.ErrRewound) && f.board != nil {
			f.board = nil // what was put back to an earlier state is read again
		} else {
			f.alone(err)
		}
		f.rest(ctx)
	}
}

// rest waits before another try. All that lost a server at one moment come back at
// different ones.
func (f *Feed) rest(ctx context.Context) {
	long := min(soonest<<min(f.tries, 10), latest)
	f.tries++
	select {
	case <-time.After(time.Duration((0.5 + rand.Float64()/2) * float64(long))):
	case <-ctx.Done():
	}
}

// alone keeps what was known, and says that it is no longer of now.
func (f *Feed) alone(err error) {
	last, _ := f.Look()
	p := *last
	p.Why = err.Error()
	if p.Alone.IsZero() {
		p.Alone = f.now()
	}
	if p.Why != last.Why || last.Alone.IsZero() {
		f.show(&p)
	}
}

// follow reads until something fails.
func (f *Feed) follow(ctx context.Context) (err error) {
	s, err := f.open(ctx)
	if err != nil {
		return err
	}
	defer func() { _ = s.Close() }() // there is nothing to be lost
	for err == nil {
		if f.board == nil || time.Since(f.begun) >= f.renew {
			err = f.begin(ctx, s)
		}
		if err == nil {
			err = f.catchUp(ctx, s)
		}
		if err == nil {
			f.publish()
			err = f.wait(ctx, s)
		}
	}
	return err
}

// wait waits for news, or until all is to be read again.
func (f *Feed) wait(ctx context.Context, s share.Store) error {
	within, cancel := context.WithDeadline(ctx, f.begun.Add(f.renew))
	defer cancel()
	err := s.Wait(within, f.cursor)
	if within.Err() != nil && ctx.Err() == nil {
		return nil
	}
	return err
}

// publish makes a picture of the board.
func (f *Feed) publish() {
	f.tries = 0
	now := f.now()
	f.show(&Picture{Rows: f.board.Rows(now), Read: now})
}
