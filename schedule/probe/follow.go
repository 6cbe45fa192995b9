package probe

import (
	"context"
	"errors"
	"io"
	"sync"
	"time"
)

// How long a lost source is left alone: first so long, then twice that each time.
const (
	firstWait = 100 * time.Millisecond
	lastWait  = 5 * time.Second
)

// linger is how long a closed source has to end its Read.
const linger = time.Second

// Follow gives the events of a source until ctx is done or the source ends with
// ErrEnd; then the channel is closed and the source with it. It opens a source
// that fails again, after 100 ms and then after twice as long each time, up to
// 5 s. Events want to be taken promptly: while nobody does, nothing is read.
//
// Close of a source must end a Read that waits, in another goroutine; one that
// does not within a second is left behind. Times are by now, which is asked from
// two goroutines; waiting is by the clock of the machine.
func Follow(ctx context.Context, open func() (io.ReadCloser, error), now func() time.Time) <-chan Event {
	f := &follower{open: open, now: now, events: make(chan Event, 16)}
	f.silence, f.hush = time.NewTimer(SilentAfter), time.NewTimer(NoiseEvery)
	f.silence.Stop()
	f.hush.Stop()
	go f.run(ctx)
	return f.events
}

type follower struct {
	open   func() (io.ReadCloser, error)
	now    func() time.Time
	events chan Event
	judge  judge

	silence *time.Timer // runs while a source is open
	hush    *time.Timer // runs while no noise is told
	hushed  bool
	lost    bool
	wait    time.Duration
}

func (f *follower) run(ctx context.Context) {
	defer close(f.events)
	defer f.hush.Stop()
	for f.wait = firstWait; ; f.wait = min(2*f.wait, lastWait) {
		err := f.session(ctx)
		f.silence.Stop()
		if ctx.Err() != nil || errors.Is(err, ErrEnd) {
			return
		}
		if !f.lost {
			f.lost = true
			f.send(ctx, Lost{f.now(), err})
		}
		select {
		case <-ctx.Done():
			return
		case <-time.After(f.wait):
		}
	}
}

// session is one opening of the source, from then until it fails.
func (f *follower) session(ctx context.Context) error {
	ctx, cancel := context.WithCancel(ctx)
	p := &pump{lines: make(chan heard), opened: make(chan struct{}), ended: make(chan error, 1)}
	go p.run(ctx, f.open, f.now)
	defer cancel()
	return f.hear(ctx, p)
}

// hear gives the events of a session until it ends.
func (f *follower) hear(ctx context.Context, p *pump) error {
	opened := p.opened
	for {
		select {
		case <-opened:
			opened = nil
			f.silence.Reset(SilentAfter)
		case l := <-p.lines:
			f.take(ctx, l)
		case <-f.silence.C:
			f.judge.afresh()
			f.send(ctx, Silent{f.now()})
		case <-f.hush.C:
			f.hushed = false
			f.noise(ctx)
		case err := <-p.ended:
			return f.end(ctx, err)
		case <-ctx.Done():
			return p.finish()
		}
	}
}

// end tells what a source has left behind.
func (f *follower) end(ctx context.Context, err error) error {
	f.judge.afresh()
	f.tellNoise(ctx)
	return err
}

func (f *follower) take(ctx context.Context, l heard) {
	events, talks := f.judge.take(l)
	if talks {
		f.silence.Reset(SilentAfter)
		f.wait = firstWait
	}
	if talks && f.lost {
		f.lost = false
		f.send(ctx, Back{l.at})
	}
	for _, e := range events {
		f.send(ctx, e)
	}
	f.noise(ctx)
}

// noise tells of noise unless that was done a short while ago.
func (f *follower) noise(ctx context.Context) {
	if !f.hushed {
		f.tellNoise(ctx)
	}
}

func (f *follower) tellNoise(ctx context.Context) {
	if f.judge.noise > 0 {
		f.hushed = true
		f.hush.Reset(NoiseEvery)
		f.send(ctx, f.judge.noises(f.now()))
	}
}

func (f *follower) send(ctx context.Context, e Event) {
	select {
	case f.events <- e:
	case <-ctx.Done():
	}
}

// pump reads lines in a goroutine of its own, since both opening and reading wait.
type pump struct {
	lines  chan heard
	opened chan struct{}
	ended  chan error
}

func (p *pump) run(ctx context.Context, open func() (io.ReadCloser, error), now func() time.Time) {
	source, err := open()
	if err != nil {
		p.ended <- err
		return
	}
	shut := sync.OnceFunc(func() { _ = source.Close() }) // nothing was written to it
	defer context.AfterFunc(ctx, shut)()
	close(p.opened)
	err = p.read(ctx, source, now)
	shut()
	p.ended <- err
}

func (p *pump) read(ctx context.Context, source io.Reader, now func() time.Time) error {
	s := scanner{from: source}
	for {
		line, long, err := s.next()
		if err != nil {
			return err
		}
		select {
		case p.lines <- heard{now(), line, long}:
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

// finish waits for a pump whose context is done.
func (p *pump) finish() error {
	select {
	case err := <-p.ended:
		return err
	case <-time.After(linger):
		return context.Canceled
	}
}
