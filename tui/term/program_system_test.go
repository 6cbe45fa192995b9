//go:build system

package term

import (
	"fmt"
	"os"
	"strconv"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/gdamore/tcell/v2"
	"github.com/rivo/tview"
)

// asProgram is the variable that makes the test binary the small program which
// the tests watch through a terminal. Its value is how the program behaves.
const asProgram = "TERM_TEST_PROGRAM"

const (
	plain = "plain" // as the package comment says
	deaf  = "deaf"  // the signals that quit are taken and not answered
)

// The codes the program ends with, beside ExitCode: like Go's own for a panic.
const (
	codeError = 1
	codePanic = 2
)

// The keys that mean something to the program, and those that no keyboard sends.
const (
	quitKey      = 'q'
	crackLoop    = 'p'
	crackRoutine = 'g'
	suspendKey   = tcell.KeyF63
	refreshKey   = tcell.KeyF64
)

func TestMain(m *testing.M) {
	if how := os.Getenv(asProgram); how != "" {
		os.Exit(program(how))
	}
	os.Exit(m.Run())
}

// pad is a screen of three lines: how many keys came, the last of them, and the
// number of the process.
type pad struct {
	*tview.Box
	screen *Shadow
	app    *tview.Application
	stop   func() // app.Stop, once
	guard  *Guard
	keys   int
	typed  []rune
	signal atomic.Pointer[os.Signal] // the first that ended it
}

func (p *pad) Draw(screen tcell.Screen) {
	p.DrawForSubclass(screen, p)
	screen.PutStr(0, 0, fmt.Sprintf("keys %d.", p.keys))
	screen.PutStr(0, 1, "typed "+string(p.typed)+"|")
	screen.PutStr(0, 2, "process "+strconv.Itoa(os.Getpid())+".")
}

// capture answers a key; tview draws after it.
func (p *pad) capture(event *tcell.EventKey) *tcell.EventKey {
	switch event.Key() {
	case tcell.KeyCtrlC:
		return event
	case tcell.KeyCtrlZ, suspendKey:
		if err := Suspend(p.screen); err != nil {
			p.stop()
		}
	case refreshKey:
		_ = Refresh(p.screen) // a lost terminal ends the loop by itself
	case tcell.KeyRune:
		p.press(event.Rune())
	}
	return nil
}

func (p *pad) press(key rune) {
	p.keys++
	p.typed = append(p.typed, key)
	p.typed = p.typed[max(0, len(p.typed)-20):]
	switch key {
	case quitKey:
		p.stop()
	case crackLoop:
		panic("the loop cracked")
	case crackRoutine:
		p.guard.Go(func() { panic("the goroutine cracked") })
	}
}

func (p *pad) quit(sig os.Signal) {
	p.signal.CompareAndSwap(nil, &sig)
	p.stop()
}

// program runs a pad as the package comment says, and returns its exit code.
func program(how string) int {
	screen, err := Open()
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return codeError
	}
	p := &pad{Box: tview.NewBox(), screen: screen, app: tview.NewApplication(), guard: NewGuard(screen)}
	p.app.SetScreen(screen).EnablePaste(true).SetRoot(p, true).SetInputCapture(p.capture)
	p.stop = sync.OnceFunc(p.app.Stop)
	p.guard.OnPanic(p.stop)
	unwatch := p.signals(how).Watch(p.guard)
	p.guard.Do(func() { err = p.app.Run() })
	unwatch()
	screen.Fini()
	return p.code(err)
}

func (p *pad) signals(how string) Signals {
	s := Signals{
		Quit:    p.quit,
		Suspend: func() { _ = p.screen.PostEvent(tcell.NewEventKey(suspendKey, 0, tcell.ModNone)) },
		Resumed: func() { _ = p.screen.PostEvent(tcell.NewEventKey(refreshKey, 0, tcell.ModNone)) },
	}
	if how == deaf {
		s.Quit = nil
	}
	return s
}

// code tells what went wrong and returns the exit code.
func (p *pad) code(err error) int {
	if cracked := p.guard.Wait(); cracked != nil {
		fmt.Fprintln(os.Stderr, cracked)
		return codePanic
	}
	if sig := p.signal.Load(); sig != nil {
		return ExitCode(*sig)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return codeError
	}
	return 0
}
