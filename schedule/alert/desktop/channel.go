// Package desktop shows alerts as notices of the desktop, and asks it not to
// blank the screen.
//
// A notice is a second messenger: the screen and the bell of the program do not
// wait for it, and it may fail. The desktop is another program, which can be
// slow, stopped or missing, and a call to it that hangs cannot be taken back. So
// Tell only puts the notice in a short queue; one worker takes it out and has
// one call under way, never two. A call that outlasts Options.Patience is left
// to itself, and until it returns every further notice is dropped: an alert
// that comes minutes late would be worse than none. Options.Fault hears once
// that the desktop fails.
//
//	c := desktop.Open(desktop.Options{Fault: log})
//	defer c.Close()
//	c.Tell(desktop.Notice{Title: "piece 3: soak is over", Body: "quench it"})
//
// The queue holds 8 and each may wait for Patience, so a notice can be late by
// nine times Patience: its text should say when it is from.
//
// Notices go through beeep.Notify. beeep.Alert is not used: where there is no
// PC speaker it writes the bell to standard output, into the drawn screen. An
// urgent notice is instead sent over D-Bus with urgency 2 (critical), which a
// desktop should keep until it is dismissed; where that fails, and on Windows
// and macOS, it is shown like the others. See the Desktop Notifications
// Specification of freedesktop.org, "Urgency Levels" and the message
// org.freedesktop.Notifications.Notify.
package desktop

import (
	"context"
	"time"
)

// Room is how many notices wait at most; one more is dropped.
const Room = 8

// Patience is how long a call to the desktop may take unless Options says
// otherwise. A judgement: a desktop that lives answers within a few
// milliseconds, and the alert is on the screen all the while.
const Patience = 3 * time.Second

// Options are how a Channel is opened. The zero Options are in order.
type Options struct {
	// Patience is the longest wait for one call; 0 or less is 3 s.
	Patience time.Duration

	// Fault is called from the worker, at most once in the life of the Channel,
	// with one plain sentence why no notice can be shown; errors.Unwrap has what
	// the desktop said. It may be nil. It must not wait for the caller of Close.
	Fault func(error)

	send sender // nil is show
}

// sender gives one clean notice to the desktop. It may ignore the context: the
// worker then stops waiting for it.
type sender func(context.Context, Notice) error

// Channel is the way to the desktop. Its methods can be called from any goroutine.
type Channel struct {
	options Options
	queue   chan Notice
	full    chan struct{} // the queue was found full
	closing context.Context
	stop    context.CancelFunc
}

// Open starts the worker; the desktop is first called at the first notice. The
// caller calls Close in the end.
func Open(o Options) *Channel {
	if o.Patience <= 0 {
		o.Patience = Patience
	}
	if o.send == nil {
		o.send = show
	}
	c := &Channel{options: o, queue: make(chan Notice, Room), full: make(chan struct{}, 1)}
	c.closing, c.stop = context.WithCancel(context.Background())
	w := worker{Channel: c}
	go w.run()
	return c
}

// Tell hands a notice over. It never blocks: with a full queue, and after Close,
// the notice is dropped.
func (c *Channel) Tell(n Notice) {
	if c.closing.Err() != nil {
		return
	}
	select {
	case c.queue <- n:
		return
	default:
	}
	select {
	case c.full <- struct{}{}:
	default: // the worker has yet to hear of the one before
	}
}

// Close stops the worker and drops what is in the queue. It waits for nothing: a
// call that hangs ends when the desktop lets go of it or the program ends. A
// Fault that is being called at that moment goes on. Close may be called again.
func (c *Channel) Close() { c.stop() }
