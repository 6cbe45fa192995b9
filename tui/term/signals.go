package term

import (
	"os"
	"os/signal"
	"sync"
)

// Signals says what to do when the system calls. Each function is called in a
// goroutine of its own, guarded, and may be nil.
type Signals struct {
	// Quit is called for every SIGTERM, SIGHUP, SIGINT and SIGPIPE; elsewhere
	// than on Unix for an interrupt and SIGTERM.
	Quit func(os.Signal)

	// Suspend is called for SIGTSTP. It makes the event loop call the function
	// Suspend, and must not wait for it there.
	Suspend func()

	// Resumed is called for a SIGCONT that Suspend did not await: the process
	// was stopped with SIGSTOP, and the terminal may be in any state. It makes
	// the event loop call Refresh.
	Resumed func()
}

// Watch takes the signals until stop is called. With stop they get back their
// usual meaning, unless another Watch still runs.
func (s Signals) Watch(g *Guard) (stop func()) {
	w := &watch{
		caught: make(chan os.Signal, 8),
		done:   make(chan struct{}),
		ended:  make(chan struct{}),
	}
	w.join()
	go w.loop(g, s)
	return sync.OnceFunc(w.leave)
}

// watch is one Watch that runs.
type watch struct {
	caught      chan os.Signal
	done, ended chan struct{}
}

// loop hands the signals to their functions.
func (w *watch) loop(g *Guard, s Signals) {
	defer close(w.ended)
	for {
		select {
		case <-w.done:
			return
		case sig := <-w.caught:
			if f := s.answer(sig); f != nil {
				g.Go(f)
			}
		}
	}
}

// answer is what to do for a signal, nil for nothing.
func (s Signals) answer(sig os.Signal) func() {
	switch {
	case sig == stopSignal:
		return s.Suspend
	case sig == continueSignal:
		return s.Resumed
	case s.Quit != nil:
		return func() { s.Quit(sig) }
	}
	return nil
}

// watches are those that run. The lock also keeps them still while Suspend has
// taken their signals away.
var watches = struct {
	sync.Mutex
	all map[*watch]bool
}{all: map[*watch]bool{}}

// join starts taking signals.
func (w *watch) join() {
	watches.Lock()
	defer watches.Unlock()
	watches.all[w] = true
	signal.Notify(w.caught, append(quitSignals(), jobSignals()...)...)
}

// leave ends the watch and waits until its loop ended.
func (w *watch) leave() {
	watches.Lock()
	delete(watches.all, w)
	signal.Stop(w.caught)
	watches.Unlock()
	close(w.done)
	<-w.ended
}

// Refresh takes the terminal anew and sends every cell. It is for the event
// loop, after something else may have changed the terminal. If the terminal is
// lost the screen gives a tcell.EventError, which ends the loop: the system sends
// SIGCONT together with SIGHUP when a window is closed.
func Refresh(screen Suspender) error {
	if err := screen.Suspend(); err != nil {
		return err
	}
	if err := screen.Resume(); err != nil {
		return err
	}
	screen.Sync()
	return nil
}

// Suspender is a screen that can let go of the terminal for a while; every
// tcell.Screen is one.
type Suspender interface {
	Suspend() error
	Resume() error
	Sync()
}

// ExitCode is what shells expect of a program that a signal ended: 128 and the
// number of the signal, or 1 if it has none.
func ExitCode(sig os.Signal) int {
	if n := number(sig); n > 0 {
		return 128 + n
	}
	return 1
}
