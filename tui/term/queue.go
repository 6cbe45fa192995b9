package term

import (
	"sync"

	"github.com/gdamore/tcell/v2"
)

// mostEvents is how many events wait for the program before tcell must wait as
// well. It is a judgement: a long paste, and no more memory than a screen.
const mostEvents = 1024

// queue holds events between tcell and the program.
type queue struct {
	mu     sync.Mutex
	change sync.Cond
	events []tcell.Event
	open   bool // takes events beyond the limit
	closed bool
	done   chan struct{} // closed with the queue
}

func newQueue() *queue {
	q := &queue{done: make(chan struct{})}
	q.change.L = &q.mu
	return q
}

// put adds an event, and waits while the queue is full. It reports false when
// the queue is closed.
func (q *queue) put(ev tcell.Event) bool {
	q.mu.Lock()
	defer q.mu.Unlock()
	for len(q.events) >= mostEvents && !q.open && !q.closed {
		q.change.Wait()
	}
	if q.closed {
		return false
	}
	q.events = append(q.events, ev)
	q.change.Broadcast()
	return true
}

// offer adds an event if there is room.
func (q *queue) offer(ev tcell.Event) error {
	q.mu.Lock()
	defer q.mu.Unlock()
	if len(q.events) >= mostEvents || q.closed {
		return tcell.ErrEventQFull
	}
	q.events = append(q.events, ev)
	q.change.Broadcast()
	return nil
}

// urge adds an event beyond the limit, without waiting.
func (q *queue) urge(ev tcell.Event) {
	q.mu.Lock()
	defer q.mu.Unlock()
	if q.closed {
		return
	}
	q.events = append(q.events, ev)
	q.change.Broadcast()
}

// get waits for an event; nil when the queue is closed.
func (q *queue) get() tcell.Event {
	q.mu.Lock()
	defer q.mu.Unlock()
	for len(q.events) == 0 && !q.closed {
		q.change.Wait()
	}
	if q.closed {
		return nil
	}
	ev := q.events[0]
	q.events[0] = nil
	q.events = q.events[1:]
	q.change.Broadcast()
	return ev
}

// len is how many events wait.
func (q *queue) len() int {
	q.mu.Lock()
	defer q.mu.Unlock()
	return len(q.events)
}

// setOpen lifts the limit or puts it back.
func (q *queue) setOpen(open bool) {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.open = open
	q.change.Broadcast()
}

// close wakes all who wait and drops what is left.
func (q *queue) close() {
	q.mu.Lock()
	defer q.mu.Unlock()
	if q.closed {
		return
	}
	q.closed, q.events = true, nil
	close(q.done)
	q.change.Broadcast()
}
