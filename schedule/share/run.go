package share

import (
	"context"
	"errors"
	"time"

	"dullred/schedule/record"
)

// How long the carrier waits before it tries again: after a link that broke so shortly
// that it heals within 5 s, after a refusal, which a person must mend, longer.
const (
	soonest   = 100 * time.Millisecond
	latest    = 1500 * time.Millisecond
	refusal   = 30 * time.Second
	auditBeat = 10 * time.Minute
	pollBeat  = time.Second // where the record has no events
)

// standing is how sharing stands, for telling when it changes.
type standing struct {
	since time.Time // alone or held since; zero is neither
	why   string
	tries int // that failed in a row
}

// Run carries until ctx ends, and then gives nil. It ends with an error only when the
// record is gone from its place or damaged; all else is told, and tried again.
func (c *Carrier) Run(ctx context.Context) error {
	if err := c.begin(); err != nil {
		return err
	}
	news := make(chan struct{}, 1)
	stop, err := c.Local.Watch(func() { ring(news) })
	if err != nil {
		ctx, cancel := context.WithCancel(ctx)
		defer cancel()
		go poll(ctx, news)
	} else {
		defer stop()
	}
	for ctx.Err() == nil {
		err := c.connected(ctx, news)
		if ctx.Err() != nil {
			return nil
		}
		if errors.Is(err, record.ErrGone) || errors.Is(err, record.ErrDamaged) {
			return err
		}
		if errors.Is(err, errAnew) {
			continue
		}
		c.stand(err, false)
		rest(ctx, c.pause(err))
	}
	return nil
}

func ring(bell chan struct{}) {
	select {
	case bell <- struct{}{}:
	default:
	}
}

// poll rings where the record has no events.
func poll(ctx context.Context, bell chan struct{}) {
	for ctx.Err() == nil {
		rest(ctx, pollBeat)
		ring(bell)
	}
}

// pause is how long to wait after a failure. All benches of a class lose a server at
// one moment; chance has them come back at different ones.
func (c *Carrier) pause(err error) time.Duration {
	if refused(err) {
		return refusal
	}
	longest := soonest << min(c.state.tries, 10)
	return time.Duration((0.5 + c.jitter()/2) * float64(min(longest, latest)))
}

// refused reports whether a person must do something before trying again is of use.
func refused(err error) bool {
	for _, kind := range []error{ErrPassword, ErrCertificate, ErrNotShared, ErrNewer, ErrOlder, ErrRights, ErrForged, ErrFull} {
		if errors.Is(err, kind) {
			return true
		}
	}
	return false
}

// connected carries over one connection, until it breaks.
func (c *Carrier) connected(ctx context.Context, news chan struct{}) (err error) {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	s, err := c.connect(ctx)
	if err != nil {
		return err
	}
	f := follower{session: s, news: news, stored: make(chan error, 1)}
	if s.barred != nil {
		f.held = time.Now().Add(refusal)
	}
	defer func() { _ = s.store.Close() }()
	defer f.quiet()
	if err := f.do(ctx, s.round(ctx, false, true), true); err != nil {
		return err
	}
	return f.follow(ctx)
}

// follower is a session that goes on.
type follower struct {
	*session
	news   chan struct{} // somebody wrote to the record
	stored chan error    // something was stored, or the connection broke
	ears   func()        // ends the waiting for the store; nil while nobody waits
	held   time.Time     // until when nothing is sent
	deaf   bool          // the store called and had nothing: it is not waited for until the next ping
}

// do is what follows a step that collected: sending, and on the first time and now and
// then an audit. A store that lets this bench read and not write is read on, and asked
// again after a while.
func (f *follower) do(ctx context.Context, err error, audit bool) error {
	if err == nil {
		err = f.try(ctx)
	}
	if err == nil && (audit || f.shrunk) {
		err = f.audit(ctx)
	}
	if err == nil && !f.mute {
		f.shared()
	}
	f.tellCounts()
	return err
}

// try sends, unless that was refused a short while ago.
func (f *follower) try(ctx context.Context) error {
	f.mute = time.Now().Before(f.held)
	if f.barred != nil {
		f.stand(f.barred, true)
	}
	if f.barred != nil && !f.mute {
		return errAnew
	}
	err := f.send(ctx)
	if err == nil || !refused(err) {
		return err
	}
	f.mute, f.held = true, time.Now().Add(refusal)
	f.stand(err, true)
	return nil
}

func (f *follower) follow(ctx context.Context) error {
	ping, audits := time.NewTicker(idle), time.NewTicker(auditBeat)
	defer ping.Stop()
	defer audits.Stop()
	for {
		f.listen(ctx)
		var step func(context.Context) error
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-f.news:
			step = f.local
		case err := <-f.stored:
			if f.quiet(); err != nil {
				return err
			}
			step = f.called
		case <-ping.C:
			step = f.pinged
		case <-audits.C:
			step = f.audited
		}
		if err := f.paced(ctx, step); err != nil {
			return err
		}
	}
}

// Between two steps the carrier rests for a multiple of what the last one took, up to a
// limit. A single entry is carried at once; where they come thick, as from thirty benches,
// more of them are carried in one step, and the machine is left to the bench. What the
// bench itself writes waits for a moment only.
const (
	restsFor    = 4
	longestRest = time.Second
	shortRest   = 30 * time.Millisecond
)

// paced takes a step and rests.
func (f *follower) paced(ctx context.Context, step func(context.Context) error) error {
	begun := time.Now()
	if err := step(ctx); err != nil {
		return err
	}
	long := min(restsFor*time.Since(begun), longestRest)
	short := min(long, shortRest)
	rest(ctx, short)
	select {
	case <-f.news:
		ring(f.news)
	case <-time.After(long - short):
	case <-ctx.Done():
	}
	return nil
}

// pinged looks whether the store is there.
func (f *follower) pinged(ctx context.Context) error {
	f.deaf = false
	return f.do(ctx, f.collect(ctx), false)
}

// audited compares all of both sides.
func (f *follower) audited(ctx context.Context) error { return f.do(ctx, f.collect(ctx), true) }

// called collects what the store called for.
func (f *follower) called(ctx context.Context) error {
	before := f.at
	err := f.do(ctx, f.collect(ctx), false)
	f.deaf = before == f.at
	return err
}

// local sends what was written to the record.
func (f *follower) local(ctx context.Context) error {
	changed, err := f.Local.Changed()
	if err != nil || !changed {
		return err
	}
	f.named = true
	return f.do(ctx, f.scan(), false)
}

// listen has somebody wait for the store, if nobody does.
func (f *follower) listen(ctx context.Context) {
	if f.ears != nil || f.deaf {
		return
	}
	cursor := f.at.cursor
	ctx, cancel := context.WithCancel(ctx)
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		err := f.store.Wait(ctx, cursor)
		if ctx.Err() == nil {
			f.stored <- err // nobody else waits, so there is room
		}
	}()
	f.ears = func() { cancel(); <-ended }
}

// quiet ends the waiting for the store.
func (f *follower) quiet() {
	if f.ears != nil {
		f.ears()
		f.ears = nil
	}
	select {
	case <-f.stored:
	default:
	}
}
