package share_test

import (
	"context"
	"fmt"
	"strings"
	"sync"
	"time"

	"dullred/schedule/share"
)

// wire is what lies between a carrier and a store.
type wire struct {
	mu     sync.Mutex
	store  func(bench string) share.Store
	bar    error         // whoever wants in as a bench gets it
	state  string        // "", "down", "hung"
	slow   time.Duration // each answer takes
	lose   int           // answers of Send that get lost though the store has the batch
	gone   int           // connections before this one are broken for good
	made   int
	change chan struct{} // closed when the state changes
	asked  map[string]int
}

func newWire(store func(bench string) share.Store) *wire {
	return &wire{store: store, change: make(chan struct{}), asked: map[string]int{}}
}

// be changes what the wire does.
func (w *wire) be(do func(*wire)) {
	w.mu.Lock()
	defer w.mu.Unlock()
	do(w)
}

// count is how often something was asked.
func (w *wire) count(what string) int {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.asked[what]
}

// set changes the state. Connections that are broken stay so.
func (w *wire) set(state string, breaks bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.state = state
	if breaks {
		w.gone = w.made
	}
	close(w.change)
	w.change = make(chan struct{})
}

func (w *wire) dial(ctx context.Context, bench string) (share.Store, error) {
	w.mu.Lock()
	w.made++
	c := connection{w, w.made, bench}
	bar := w.bar
	w.mu.Unlock()
	if err := c.pass(ctx, "dial"); err != nil || bench == "" {
		return c, err
	}
	return c, bar
}

// connection is a Store at the other end of a wire.
type connection struct {
	*wire
	number int
	bench  string
}

var errCut = fmt.Errorf("%w: the link is cut", share.ErrUnreachable)

// pass waits until a question is through, if it is.
func (c connection) pass(ctx context.Context, what string) error {
	c.mu.Lock()
	c.asked[what]++
	c.mu.Unlock()
	begun := time.Now()
	for {
		c.mu.Lock()
		state, broken, change, slow := c.state, c.number <= c.gone, c.change, c.slow-time.Since(begun)
		c.mu.Unlock()
		if strings.HasPrefix(what, "wait") {
			slow = 0
		}
		switch {
		case broken || state == "down":
			return errCut
		case state == "" && slow <= 0:
			return ctx.Err()
		case state != "":
			slow = time.Hour // until it heals
		}
		select {
		case <-time.After(slow):
		case <-change:
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

func (c connection) Send(ctx context.Context, b share.Batch) (share.Receipt, error) {
	if err := c.pass(ctx, "send"); err != nil {
		return share.Receipt{}, err
	}
	done, err := c.store(c.bench).Send(ctx, b)
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.lose > 0 && err == nil {
		c.lose--
		return share.Receipt{}, errCut
	}
	return done, err
}

func (c connection) After(ctx context.Context, cursor int64, limit int) (share.Page, error) {
	if err := c.pass(ctx, "after"); err != nil {
		return share.Page{}, err
	}
	return c.store(c.bench).After(ctx, cursor, limit)
}

func (c connection) Sums(ctx context.Context) (map[string]share.Sum, error) {
	if err := c.pass(ctx, "sums"); err != nil {
		return nil, err
	}
	return c.store(c.bench).Sums(ctx)
}

func (c connection) Total(ctx context.Context) (share.Sum, error) {
	if err := c.pass(ctx, "total"); err != nil {
		return share.Sum{}, err
	}
	return c.store(c.bench).Total(ctx)
}

func (c connection) Pieces(ctx context.Context, ids ...string) (share.Batch, error) {
	if err := c.pass(ctx, "piece"); err != nil {
		return share.Batch{}, err
	}
	return c.store(c.bench).Pieces(ctx, ids...)
}

// Wait hears of a link that is cut, and of nothing while it hangs.
func (c connection) Wait(ctx context.Context, cursor int64) error {
	if err := c.pass(ctx, "wait"); err != nil {
		return err
	}
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	heard := make(chan error, 1)
	go func() { heard <- c.store(c.bench).Wait(ctx, cursor) }()
	for {
		c.mu.Lock()
		change := c.change
		c.mu.Unlock()
		select {
		case err := <-heard:
			if passed := c.pass(ctx, "heard"); passed != nil {
				return passed
			}
			return err
		case <-change:
			if err := c.pass(ctx, "wait on"); err != nil {
				return err
			}
		}
	}
}

func (c connection) Close() error { return nil }
