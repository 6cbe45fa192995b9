package tui

import (
	"errors"
	"os"
	"sync"
	"time"

	"github.com/gdamore/tcell/v2"
	"github.com/rivo/tview"

	"dullred/tui/term"
	"dullred/tui/view"
)

// Signalled is the error of Run when a signal ended it.
type Signalled struct{ Signal os.Signal }

func (s Signalled) Error() string { return "ended by " + s.Signal.String() }

// The events that no keyboard sends, as runes of one key.
const (
	ownKey = tcell.KeyF64

	evTick    = 't' // a figure may have changed
	evOthers  = 'o' // somebody may have written
	evSuspend = 's'
	evQuit    = 'q'
	evFault   = 'f'
	evRefresh = 'r'
	evProbe   = 'p'
	evSharing = 'h' // how the record is shared has changed
)

// program is a Bench on a screen.
type program struct {
	bench  *Bench
	screen tcell.Screen
	app    *tview.Application
	widget *widget
	guard  *term.Guard
	wake   *time.Timer
	stop   func() // the application, once
	heard  hearing

	done   chan struct{} // closed when the event loop has returned
	mutex  sync.Mutex
	signal os.Signal // that ended it
}

// Run shows a bench on the terminal until the smith quits, and gives the terminal
// back. It returns an error if there is no terminal that can be used, a Signalled
// if a signal ended it, or a *term.Panic.
func Run(b *Bench, c Channels) error {
	screen, err := term.Open()
	if err != nil {
		return err
	}
	return RunOn(b, screen, c)
}

// RunOn is Run on a screen that is open.
func RunOn(b *Bench, screen tcell.Screen, c Channels) error {
	p := &program{bench: b, screen: screen, app: tview.NewApplication(), guard: term.NewGuard(screen), done: make(chan struct{})}
	p.stop = sync.OnceFunc(p.app.Stop)
	p.wake = time.AfterFunc(time.Hour, func() { p.guard.Do(func() { p.post(evTick) }) })
	defer p.wake.Stop()
	screen.RegisterRuneFallback(view.Ticked, "*") // else "?", which asks where nothing is in doubt
	p.widget = newWidget(b, newStyles(term.Colours(screen)), p.schedule)
	p.app.SetScreen(screen).EnablePaste(true).SetRoot(p.widget, true).SetInputCapture(p.capture)
	p.guard.OnPanic(p.stop)
	stopSignals := term.Signals{
		Quit:    p.quitBy,
		Suspend: func() { p.post(evSuspend) },
		Resumed: func() { p.post(evRefresh) },
	}.Watch(p.guard)
	p.heard = p.hear(c)
	stopLooking := p.lookOut()
	stopWatch := p.watch()
	var err error
	p.guard.Do(func() {
		err = p.app.Run()
		p.bench.keepCurve()
	})
	close(p.done)
	p.wake.Stop()
	p.heard.close()
	err = errors.Join(err, stopWatch(), stopLooking())
	stopSignals()
	screen.Fini()
	if panicked := p.guard.Wait(); panicked != nil {
		return panicked
	}
	p.mutex.Lock()
	defer p.mutex.Unlock()
	if p.signal != nil {
		return Signalled{p.signal}
	}
	return err
}

// post brings something into the event loop, which answers it like a key.
func (p *program) post(what rune) {
	_ = p.screen.PostEvent(tcell.NewEventKey(ownKey, what, tcell.ModNone)) // full: the next one draws all the same
}

func (p *program) quitBy(sig os.Signal) {
	p.mutex.Lock()
	p.signal = sig
	p.mutex.Unlock()
	for p.screen.PostEvent(tcell.NewEventKey(ownKey, evQuit, tcell.ModNone)) != nil && !p.ended() {
		time.Sleep(10 * time.Millisecond) // too many keys wait; the loop is taking them
	}
}

// ended reports whether the event loop has returned.
func (p *program) ended() bool {
	select {
	case <-p.done:
		return true
	default:
		return false
	}
}

// schedule wakes the screen when it will no longer be right, and not before.
func (p *program) schedule() {
	p.wake.Stop()
	p.heard.tell(p.bench.Tell())
	p.heard.awake(p.bench.Timing())
	if wait, ok := p.bench.Wake(); ok {
		p.wake.Reset(wait)
	}
}

// capture takes every key; the screen is drawn after each.
func (p *program) capture(event *tcell.EventKey) *tcell.EventKey {
	switch {
	case event.Key() == ownKey:
		p.own(event.Rune())
	case event.Key() == tcell.KeyCtrlZ:
		p.suspend()
	default:
		p.widget.key(event)
	}
	if p.bench.Quit() {
		p.stop()
	}
	return nil
}

func (p *program) own(what rune) {
	switch what {
	case evTick:
		p.bench.checkClock()
	case evQuit:
		p.stop()
	case evFault:
		p.bench.mention(p.heard.fault())
	case evOthers:
		p.reload()
	case evProbe:
		for _, e := range p.heard.events() {
			p.bench.Hear(e)
		}
	case evSuspend:
		p.suspend()
	case evRefresh:
		_ = term.Refresh(p.screen) // a terminal that is lost ends the loop by itself
	}
}

func (p *program) suspend() {
	if err := term.Suspend(p.screen); err != nil {
		p.bench.refuse(err)
	}
	p.bench.checkClock()
	p.reload()
}

// reload reads the desk again if others wrote to it.
func (p *program) reload() {
	shared, ok := p.bench.desk.(Shared)
	if !ok {
		return
	}
	changed, err := shared.Changed()
	if err != nil {
		p.bench.refuse(err)
		return
	}
	if changed {
		p.bench.Reload()
	}
}

// watch lets the entries of others appear.
func (p *program) watch() (stop func() error) {
	shared, ok := p.bench.desk.(Shared)
	if !ok {
		return func() error { return nil }
	}
	return Listen(shared, p.guard.Go, func() { p.post(evOthers) })
}
