package desktop

import (
	"context"
	"errors"
	"fmt"
)

// worker empties the queue of its Channel, one call at a time.
type worker struct {
	*Channel
	told bool // Fault was called
}

func (w *worker) run() {
	for {
		select {
		case <-w.closing.Done():
			return
		case <-w.full:
			w.report(crowded)
		case n := <-w.queue:
			if w.closing.Err() == nil { // select may prefer the queue
				w.deliver(n)
			}
		}
	}
}

// deliver shows one notice. It comes back when the call has ended, even if that
// is long after the patience, or when the Channel is closed.
func (w *worker) deliver(n Notice) {
	ctx, cancel := context.WithTimeout(w.closing, w.options.Patience)
	defer cancel()
	done := make(chan error, 1) // so that a late answer finds a place
	go func() { done <- guarded(ctx, w.options.send, n.clean()) }()
	for {
		select {
		case err := <-done:
			w.report(err)
			return
		case <-w.full:
			w.report(crowded)
		case <-ctx.Done():
			w.report(ctx.Err())
			w.discard(done)
			return
		}
	}
}

// discard drops notices until the call that hangs returns.
func (w *worker) discard(done <-chan error) {
	for {
		select {
		case <-w.closing.Done():
			return
		case <-done:
			return
		case <-w.full:
		case <-w.queue:
		}
	}
}

// report calls Fault with the first failure; nil is none, and a call that ended
// because the Channel was closed has not failed.
func (w *worker) report(err error) {
	if err == nil || w.told || w.options.Fault == nil || w.closing.Err() != nil {
		return
	}
	w.told = true
	if errors.Is(err, context.DeadlineExceeded) {
		err = reason(fmt.Sprintf("the desktop has not answered for %g s", w.options.Patience.Seconds()))
	}
	w.options.Fault(noNotice(err))
}

// guarded is send with a panic made an error: one in a goroutine of its own
// would leave the terminal raw.
func guarded(ctx context.Context, send sender, n Notice) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("panic: %v", p)
		}
	}()
	return send(ctx, n)
}
