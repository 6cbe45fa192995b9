package term

import (
	"errors"
	"fmt"
	"sync/atomic"
	"testing"
	"testing/synctest"

	"github.com/gdamore/tcell/v2"
	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"
)

// ending counts how often a screen is ended, and does what it is told then.
type ending struct {
	finis atomic.Int32
	do    func()
}

func (e *ending) Fini() {
	e.finis.Add(1)
	if e.do != nil {
		e.do()
	}
}

func TestGuardReportsAPanic(t *testing.T) {
	cause := errors.New("the cause")
	cases := []struct {
		name   string
		run    func(g *Guard)
		holds  string
		reason string
	}{
		{"in a goroutine", func(g *Guard) { g.Go(func() { panic("red short") }) }, "red short", "it would end the program as it is"},
		{"in the caller", func(g *Guard) { g.Do(func() { panic("red short") }) }, "red short", "the same"},
		{"an error", func(g *Guard) { g.Go(func() { panic(fmt.Errorf("it: %w", cause)) }) }, "the cause", "errors keep their text"},
		{"the stack", func(g *Guard) { g.Go(crack) }, "term.crack", "it names the function"},
		{"the run time", func(g *Guard) { g.Go(func() { var p *Panic; _ = p.Value }) }, "nil pointer", "a mistake is a panic"},
		{"a nil", func(g *Guard) { g.Go(func() { panic(nil) }) }, "nil", "Go makes an error of it"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			defer goleak.VerifyNone(t)
			require.NotEmpty(t, c.reason)
			screen := &ending{}
			g := NewGuard(screen)
			c.run(g)
			err := g.Wait()
			require.ErrorContains(t, err, c.holds, c.reason)
			require.EqualValues(t, 1, screen.finis.Load(), "the screen ended before the panic was told")
			var p *Panic
			require.ErrorAs(t, err, &p)
			require.NotEmpty(t, p.Stack)
		})
	}
	g := NewGuard(&ending{})
	g.Do(func() { panic(fmt.Errorf("it: %w", cause)) })
	require.ErrorIs(t, g.Wait(), cause)
}

func crack() { panic("cracked") }

func TestGuardWithoutAPanic(t *testing.T) {
	defer goleak.VerifyNone(t)
	screen := &ending{}
	g := NewGuard(screen)
	var ran atomic.Int32
	for range 10 {
		g.Go(func() { ran.Add(1) })
	}
	g.Do(func() { ran.Add(1) })
	require.NoError(t, g.Wait())
	require.EqualValues(t, 11, ran.Load())
	require.Zero(t, screen.finis.Load())
}

// Wait returns while another function never ends.
func TestGuardWaitsForNobodyAfterAPanic(t *testing.T) {
	release := make(chan struct{})
	defer close(release)
	g := NewGuard(&ending{})
	g.Go(func() { <-release })
	g.Go(func() { panic("red short") })
	require.ErrorContains(t, g.Wait(), "red short")
}

func TestGuardKeepsTheFirstPanic(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		second := make(chan struct{})
		screen := &ending{}
		g := NewGuard(screen)
		screen.do = func() {
			g.Do(func() { panic("second") })
			close(second)
			panic("third")
		}
		g.Go(func() { panic("first") })
		require.ErrorContains(t, g.Wait(), "first")
		<-second
		g.Do(func() { panic("fourth") })
		require.ErrorContains(t, g.Wait(), "first")
		require.EqualValues(t, 1, screen.finis.Load())
	})
}

func TestGuardDoesNotWaitForAStuckScreen(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		release := make(chan struct{})
		g := NewGuard(&ending{do: func() { <-release }})
		g.Go(func() { panic("red short") })
		require.ErrorContains(t, g.Wait(), "red short")
		close(release)
	})
}

// A loop that waits for events returns when another goroutine panics.
func TestGuardEndsTheLoop(t *testing.T) {
	defer goleak.VerifyNone(t)
	under := tcell.NewSimulationScreen("")
	s := Wrap(under)
	require.NoError(t, s.Init())
	g := NewGuard(s)
	stopped := make(chan struct{})
	g.OnPanic(func() { close(stopped); panic("on the way out") })
	g.Go(func() { panic("red short") })
	g.Do(func() {
		for s.PollEvent() != nil {
			continue
		}
	})
	require.ErrorContains(t, g.Wait(), "red short")
	<-stopped
}
