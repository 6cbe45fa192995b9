package term

import (
	"io"
	"sync"
	"sync/atomic"

	"github.com/gdamore/tcell/v2"
)

// Shadow is a tcell.Screen that keeps the drawing to itself and at Show hands
// the screen under it the cells that differ from those it handed on before. A
// Show that changes nothing sends nothing.
//
// Init counts once, so that it can be called and its error be checked before
// tview calls it again. Fini counts once as well. Before Init, after Fini and
// between Suspend and Resume nothing reaches the screen under it; drawing goes
// into the buffer and appears after Resume.
type Shadow struct {
	tcell.Screen // the screen under it

	mu      sync.Mutex
	state   state
	back    grid   // what the program drew
	front   []cell // what was handed on; the zero cell was not
	cursor  place  // where the program wants it
	shown   place  // where the screen under it has it
	pending bool   // the screen under it has something to show that is no cell
	resend  bool   // the next Show sends every cell
	cleared bool   // a Clear waits for what is drawn after it
	kept    bool   // but for patched, the buffer is what was handed on
	patched []int
	stale   atomic.Bool
	ending  atomic.Bool // by Fini, and not by itself
	queue   *queue
}

// place is a position of the cursor; the zero place was never set.
type place struct {
	x, y int
	set  bool
}

// state is what the screen under the shadow is ready for.
type state int

const (
	fresh     state = iota // before Init
	running                // draws
	suspended              // between Suspend and Resume
	finished               // after Fini
)

// Wrap lays a shadow over a screen that was not initialised. To give a
// SimulationScreen a size, call Init on the shadow first: it sets 80 by 25.
func Wrap(screen tcell.Screen) *Shadow {
	return &Shadow{Screen: screen, queue: newQueue()}
}

// Init takes the terminal, the first time it is called. After an error it can
// be tried again.
func (s *Shadow) Init() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.state != fresh {
		return nil
	}
	if err := s.Screen.Init(); err != nil {
		return err
	}
	s.state = running
	s.fit()
	go s.pump()
	return nil
}

// Fini gives the terminal back, once. Those who wait for an event get nil.
func (s *Shadow) Fini() {
	s.ending.Store(true)
	s.mu.Lock()
	defer s.mu.Unlock()
	was := s.state
	s.state = finished
	s.queue.setOpen(true)
	if was == running {
		_ = s.letGo() // tcell's Fini stops giving events, and would wait for room
	}
	if was == running || was == suspended {
		s.Screen.Fini()
	}
	s.queue.close()
}

// Suspend gives the terminal back until Resume.
func (s *Shadow) Suspend() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.state != running {
		return nil
	}
	s.queue.setOpen(true)
	defer s.queue.setOpen(false)
	if err := s.letGo(); err != nil {
		return err
	}
	s.state = suspended
	return nil
}

// letGo suspends the screen under it. The queue is open, so that tcell can
// finish what it has read.
func (s *Shadow) letGo() error {
	if tty, ok := s.Screen.Tty(); ok {
		if held, ok := tty.(*Tty); ok {
			held.hold()
		}
	}
	return s.Screen.Suspend()
}

// Resume takes the terminal again and shows all that was drawn meanwhile. After
// an error nobody reads the terminal any more, so that the error is also given
// as a tcell.EventError: it ends the event loop.
func (s *Shadow) Resume() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.state != suspended {
		return nil
	}
	if err := s.Screen.Resume(); err != nil {
		s.queue.urge(tcell.NewEventError(err))
		return err
	}
	s.state = running
	s.forget()
	s.show()
	return nil
}

// Show makes the drawing visible: the cells that changed, and all of them when
// the size of the terminal did.
func (s *Shadow) Show() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.show()
}

// Sync sends every cell, for a terminal on which something else wrote.
func (s *Shadow) Sync() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.resend = true
	s.show()
}

// show hands on what differs and lets the screen under it draw.
func (s *Shadow) show() {
	if s.state != running {
		return
	}
	s.fit()
	if s.cleared {
		s.settle()
	}
	if s.stale.Swap(false) || s.resend {
		s.forget()
	}
	changed := s.forward()
	switch {
	case s.resend:
		s.Screen.Sync()
	case changed || s.pending:
		s.Screen.Show()
	}
	s.pending, s.resend = false, false
}

// forward hands on the cells and the cursor that differ, and reports whether
// there were any.
func (s *Shadow) forward() bool {
	changed := false
	if s.kept {
		for _, i := range s.patched {
			changed = s.hand(i) || changed
		}
	} else {
		changed = s.forwardAll()
	}
	s.kept, s.patched = true, s.patched[:0]
	if s.cursor != s.shown {
		s.Screen.ShowCursor(s.cursor.x, s.cursor.y)
		s.shown, changed = s.cursor, true
	}
	return changed
}

func (s *Shadow) forwardAll() bool {
	changed := false
	for i := range s.back.cells {
		if c := &s.back.cells[i]; *c != s.front[i] || c.text == "" {
			changed = s.hand(i) || changed
		}
	}
	return changed
}

// hand gives one cell to the screen under it, and reports whether it differed.
func (s *Shadow) hand(i int) bool {
	c := s.back.cells[i]
	if c.text == "" {
		c.text, c.width = " ", 1
	}
	if c == s.front[i] {
		return false
	}
	s.Screen.Put(i%s.back.width, i/s.back.width, c.text, c.style)
	s.front[i] = c
	return true
}

// ended tells a program that would wait for more events that the screen under the
// shadow ended by itself.
func (s *Shadow) ended() {
	if !s.ending.Load() {
		s.queue.urge(tcell.NewEventError(io.EOF))
		return
	}
	s.queue.close()
}

// fit takes on the size of the screen under it.
func (s *Shadow) fit() {
	if s.state != running {
		return
	}
	width, height := s.Screen.Size()
	if width == s.back.width && height == s.back.height {
		return
	}
	s.back.resize(width, height)
	s.forget()
}

// forget makes the next Show hand on everything.
func (s *Shadow) forget() {
	s.front = make([]cell, len(s.back.cells))
	s.shown = place{}
	s.pending, s.kept = true, false
}

// pump moves events out of tcell until the screen ends. A change of size may
// have lost cells of the screen under it, so that all are handed on again.
func (s *Shadow) pump() {
	for {
		ev := s.Screen.PollEvent()
		if ev == nil {
			s.ended()
			return
		}
		if _, ok := ev.(*tcell.EventResize); ok {
			s.stale.Store(true)
		}
		if !s.queue.put(ev) {
			return
		}
	}
}
