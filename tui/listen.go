package tui

import "time"

// Watched is what others may write to at any time.
type Watched interface {
	// Watch calls notify whenever somebody may have written, until stop.
	Watch(notify func()) (stop func() error, err error)
}

// Shared is what others write entries to at the same time, as a Desk may be.
type Shared interface {
	Watched

	// Changed reports whether others have written since the last call.
	Changed() (bool, error)
}

// Listen calls notify when others may have written: at once where the system tells
// of it, else every second from a function that spawn runs. Stop ends it.
func Listen(s Watched, spawn func(func()), notify func()) (stop func() error) {
	stop, err := s.Watch(notify)
	if err == nil {
		return stop
	}
	ticker, done := time.NewTicker(time.Second), make(chan struct{})
	spawn(func() {
		for {
			select {
			case <-ticker.C:
				notify()
			case <-done:
				return
			}
		}
	})
	return func() error {
		ticker.Stop()
		close(done)
		return nil
	}
}
