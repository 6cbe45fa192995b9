package tui

import (
	"sync"

	"github.com/gdamore/tcell/v2"

	"dullred/schedule/probe"
	"dullred/tui/term"
)

// Channels are the ways beside the screen in which alerts are told. Each may be
// missing, and each may fail: what fails is said once, and the rest goes on.
type Channels struct {
	Bell bool // of the terminal

	// Herald opens what tells alerts elsewhere, on the desktop for instance. It
	// calls fault, from any goroutine, when it cannot. Nil for none.
	Herald func(fault func(error)) Herald

	// Probe is what a thermocouple says, until it is closed. Nil for none.
	Probe <-chan probe.Event

	// StayAwake keeps the screen from going blank, until release; it may take a
	// while and is called in a goroutine of its own. Nil for none.
	StayAwake func() (release func() error, err error)
}

// Herald tells an alert that is told for the first time. Tell must not block.
type Herald interface {
	Tell(t Telling)
	Close()
}

// hearing is the channels of a program that runs.
type hearing struct {
	screen tcell.Screen
	bell   bool
	herald Herald
	*vigil

	post  func(rune)
	mutex *sync.Mutex
	wrong *[]error       // faults that were not said yet
	read  *[]probe.Event // of the thermocouple, not taken yet
}

// hear opens the channels.
func (p *program) hear(c Channels) hearing {
	h := hearing{screen: p.screen, bell: c.Bell, post: p.post, mutex: new(sync.Mutex), wrong: new([]error), read: new([]probe.Event)}
	h.vigil = &vigil{ask: c.StayAwake, guard: p.guard, fault: h.fail}
	if c.Probe != nil {
		p.guard.Go(func() { h.follow(c.Probe, p.done) })
	}
	if c.Herald != nil {
		h.herald = c.Herald(h.fail)
	}
	return h
}

// follow brings what a thermocouple says into the event loop, until that has
// returned. The end of the readings is a loss for good.
func (h hearing) follow(events <-chan probe.Event, done <-chan struct{}) {
	for {
		select {
		case <-done:
			return
		case e, more := <-events:
			if !more {
				h.take(probe.Lost{Err: probe.ErrEnd})
				return
			}
			h.take(e)
		}
	}
}

func (h hearing) take(e probe.Event) {
	h.mutex.Lock()
	*h.read = append(*h.read, e)
	h.mutex.Unlock()
	h.post(evProbe)
}

// events are what the thermocouple said since they were asked for.
func (h hearing) events() []probe.Event {
	h.mutex.Lock()
	defer h.mutex.Unlock()
	all := *h.read
	*h.read = nil
	return all
}

// fail keeps a fault for the event loop to say.
func (h hearing) fail(err error) {
	h.mutex.Lock()
	*h.wrong = append(*h.wrong, err)
	h.mutex.Unlock()
	h.post(evFault)
}

// fault is the next fault to say; nil for none.
func (h hearing) fault() error {
	h.mutex.Lock()
	defer h.mutex.Unlock()
	if len(*h.wrong) == 0 {
		return nil
	}
	first := (*h.wrong)[0]
	*h.wrong = (*h.wrong)[1:]
	return first
}

// tell rings the bell once, and has the herald tell what is told first.
func (h hearing) tell(news []Telling) {
	if len(news) > 0 && h.bell {
		_ = h.screen.Beep() // a terminal without a bell has the bar
	}
	for _, t := range news {
		if h.herald != nil && t.First {
			h.herald.Tell(t)
		}
	}
}

func (h hearing) close() {
	if h.herald != nil {
		h.herald.Close()
	}
	h.vigil.awake(false)
}

// vigil keeps the screen of the machine from going blank while something is
// timing.
type vigil struct {
	ask   func() (func() error, error)
	guard *term.Guard
	fault func(error)

	mutex   sync.Mutex
	wanted  bool
	asking  bool
	failed  bool // it was asked once in vain
	release func() error
}

// awake begins or ends the vigil.
func (v *vigil) awake(wanted bool) {
	if v == nil || v.ask == nil {
		return
	}
	v.mutex.Lock()
	defer v.mutex.Unlock()
	v.wanted = wanted
	switch {
	case wanted && v.release == nil && !v.asking && !v.failed:
		v.asking = true
		v.guard.Go(v.begin)
	case !wanted && v.release != nil:
		release := v.release
		v.release = nil
		v.guard.Go(func() { _ = release() }) // a desktop that hangs holds up no key
	}
}

func (v *vigil) begin() {
	release, err := v.ask()
	v.mutex.Lock()
	defer v.mutex.Unlock()
	v.asking = false
	switch {
	case err != nil:
		v.failed = true
		v.fault(err)
	case !v.wanted:
		v.guard.Go(func() { _ = release() }) // nothing is timing any more
	default:
		v.release = release
	}
}
