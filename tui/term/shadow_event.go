package term

import "github.com/gdamore/tcell/v2"

// PollEvent waits for an event; nil after Fini.
func (s *Shadow) PollEvent() tcell.Event {
	return s.queue.get()
}

// HasPendingEvent reports whether PollEvent would return at once.
func (s *Shadow) HasPendingEvent() bool {
	return s.queue.len() > 0
}

// PostEvent adds an event without waiting: tcell.ErrEventQFull when 1024 wait
// already, or after Fini.
func (s *Shadow) PostEvent(ev tcell.Event) error {
	return s.queue.offer(ev)
}

// PostEventWait adds an event and waits for room. It must not be called from
// the loop that polls.
func (s *Shadow) PostEventWait(ev tcell.Event) {
	s.queue.put(ev)
}

// ChannelEvents sends events to ch until quit is closed or the screen ends, and
// then closes ch. When quit is closed while it waits, it ends with the next event.
func (s *Shadow) ChannelEvents(ch chan<- tcell.Event, quit <-chan struct{}) {
	defer close(ch)
	for {
		ev := s.PollEvent()
		if ev == nil {
			return
		}
		select {
		case <-quit:
			return
		case <-s.queue.done:
			return
		case ch <- ev:
		}
	}
}
