package term

import (
	"fmt"
	"runtime/debug"
	"sync"
	"time"
)

// patience is how long a panic waits for the screen to end before it is told
// all the same: the terminal may have stopped taking what is written to it.
const patience = 2 * time.Second

// Screen is what a Guard gives back; every tcell.Screen is one.
type Screen interface {
	Fini()
}

// Panic is the error a Guard makes of a panic.
type Panic struct {
	Value any
	Stack []byte // of the goroutine that panicked, as debug.Stack gives it
}

// Error tells the value and the stack, over several lines.
func (p *Panic) Error() string {
	return fmt.Sprintf("panic: %v\n\n%s", p.Value, p.Stack)
}

// Unwrap returns the value if it is an error, else nil.
func (p *Panic) Unwrap() error {
	err, _ := p.Value.(error)
	return err
}

// Guard ends the screen when a function it runs panics, and keeps the first
// panic for Wait. A panic outside the functions it runs is not its own.
type Guard struct {
	screen Screen

	mu      sync.Mutex
	change  sync.Cond
	running int
	caught  bool   // a panic was met; it is told once the screen ended
	first   *Panic // what Wait returns
	then    []func()
}

// NewGuard guards a screen.
func NewGuard(screen Screen) *Guard {
	g := &Guard{screen: screen}
	g.change.L = &g.mu
	return g
}

// OnPanic adds a function to be called, in a goroutine of its own, after the
// first panic ended the screen; the Stop of an event loop, so that it returns.
func (g *Guard) OnPanic(f func()) {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.then = append(g.then, f)
}

// Go runs a function in a goroutine of its own.
func (g *Guard) Go(f func()) {
	g.start()
	go g.run(f)
}

// Do runs a function and returns when it ended or panicked. It does not end
// because another one panicked: OnPanic is for that.
func (g *Guard) Do(f func()) {
	g.start()
	g.run(f)
}

// Wait returns the first panic as a *Panic as soon as the screen ended for it,
// whatever else still runs; or nil when all functions ended without one.
func (g *Guard) Wait() error {
	g.mu.Lock()
	defer g.mu.Unlock()
	for g.running > 0 && g.first == nil {
		g.change.Wait()
	}
	if g.first == nil {
		return nil
	}
	return g.first
}

// start counts a function in.
func (g *Guard) start() {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.running++
}

// run calls a function that was counted in, and counts it out.
func (g *Guard) run(f func()) {
	defer g.end()
	defer func() {
		if value := recover(); value != nil {
			g.report(&Panic{Value: value, Stack: debug.Stack()})
		}
	}()
	f()
}

// end counts a function out.
func (g *Guard) end() {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.running--
	g.change.Broadcast()
}

// report ends the screen and then lets Wait return, for the first panic only.
func (g *Guard) report(p *Panic) {
	if !g.take() {
		return
	}
	g.giveBack()
	g.mu.Lock()
	defer g.mu.Unlock()
	g.first = p
	g.change.Broadcast()
	for _, f := range g.then {
		go try(f)
	}
}

// take is true for the first caller.
func (g *Guard) take() bool {
	g.mu.Lock()
	defer g.mu.Unlock()
	first := !g.caught
	g.caught = true
	return first
}

// giveBack ends the screen, and waits for that no longer than patience.
func (g *Guard) giveBack() {
	done := make(chan struct{})
	go func() {
		defer close(done)
		try(g.screen.Fini)
	}()
	timer := time.NewTimer(patience)
	defer timer.Stop()
	select {
	case <-done:
	case <-timer.C:
	}
}

// try calls a function on the way out: a second panic must not hide the first.
func try(f func()) {
	defer func() { _ = recover() }()
	f()
}
