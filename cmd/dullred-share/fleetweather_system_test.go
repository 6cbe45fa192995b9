//go:build system && linux

package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// weather is what goes wrong around a fleet. It goes by how many entries have been
// acknowledged, and the writers wait for it, so that it is spread over the work however
// fast either is.
type weather struct {
	*fleet
	chance   *rand.Rand
	happened map[string]int
	heals    map[int][]*station // by the number of the event before which they do
}

// What happens between two kills of the server, and how often a whole room is meant.
const (
	betweenKills = 25
	roomEvery    = 10
	room         = 10 // benches on one cable that leads out
)

// events is how often something happens: with each hundred entries for a class of an
// evening, and less often when there are many.
func (f *fleet) events() int { return min(max(len(f.stations)*f.entries/100, 100), 600) }

// rage has things happen until all of them have.
func (w *weather) rage(t *testing.T) {
	w.heals = map[int][]*station{}
	all := w.events()
	for n := 1; n <= all; n++ {
		w.leave.Store(int64(w.part(n+ahead, all)))
		w.await(t, w.part(n, all))
		for _, s := range w.heals[n] {
			s.set(whole)
		}
		w.happen(t, n, all)
		if n%(all/4) == 0 {
			w.typeAtSome(n)
		}
	}
	w.leave.Store(math.MaxInt64)
}

// ahead is how many events of work the writers may be ahead: what they write while the
// server is away.
const ahead = 10

// part is how many entries are acknowledged when the nth of all events is due.
func (f *fleet) part(n, all int) int { return len(f.stations) * f.entries * n / (all + 1) }

// await waits until so many entries have been acknowledged.
func (w *weather) await(t *testing.T, entries int) {
	t.Helper()
	for w.acknowledged.Load() < int64(entries) {
		w.sound(t)
		time.Sleep(time.Millisecond)
	}
}

// happen has the nth of all events happen.
func (w *weather) happen(t *testing.T, n, all int) {
	if n%betweenKills == 0 {
		w.strike(t, n/betweenKills)
		return
	}
	s := w.stations[w.chance.IntN(len(w.stations))]
	kinds := []string{"writer killed", "carrier killed", pulled, frozen, lost, slow}
	kind := kinds[w.chance.IntN(len(kinds))]
	switch kind {
	case "writer killed":
		w.tally(kind, s.killWriter())
	case "carrier killed":
		w.tally(kind, s.killCarrier())
	default:
		for _, s := range w.struck(n, s) {
			s.set(kind)
			w.tally(kind, true)
			heal := min(n+1+w.chance.IntN(max(all/5, 1)), all)
			w.heals[heal] = append(w.heals[heal], s)
		}
	}
}

func (w *weather) tally(kind string, happened bool) {
	if happened {
		w.happened[kind]++
	}
}

// struck are the benches that a link failure is of: one, or now and then a room.
func (w *weather) struck(n int, s *station) []*station {
	if n%roomEvery != 0 {
		return []*station{s}
	}
	first := s.n / room * room
	return w.stations[first:min(first+room, len(w.stations))]
}

// strike ends the server, by turns with all its processes at once and as an owner in a
// hurry does, and starts it again.
func (w *weather) strike(t *testing.T, n int) {
	if n%2 == 1 {
		w.server.Kill()
		w.tally("server killed", true)
	} else {
		w.server.Quit()
		w.tally("server stopped at once", true)
	}
	w.server.Restart(t)
}

// typeAtSome has somebody type at three benches.
func (w *weather) typeAtSome(n int) {
	for i := range 3 {
		s := w.stations[(n+i*room)%len(w.stations)]
		s.typed("pass", s.byHandName())
		s.typed("note", s.byHandName(), fmt.Sprint("note ", n))
	}
}

// clear has all links up.
func (w *weather) clear(t *testing.T) {
	for _, s := range w.stations {
		s.set(whole)
	}
	require.Positive(t, w.happened["writer killed"])
	require.Positive(t, w.happened["carrier killed"])
	require.GreaterOrEqual(t, w.happened["server killed"], 2)
	require.GreaterOrEqual(t, w.happened["server stopped at once"], 1)
	for _, kind := range []string{pulled, frozen, lost, slow} {
		require.Positive(t, w.happened[kind], kind)
	}
}

// summary is what happened and what came of it, in one line.
func (w *weather) summary(c finding, converged time.Duration) string {
	h := w.happened
	return fmt.Sprintf("fleet: %d benches; %d entries acknowledged (%d of them by dullred itself), %d everywhere; "+
		"killed: %d writers, %d carriers, the server %d times, stopped at once %d times; "+
		"links: %d pulled, %d frozen, %d lost, %d slow; appends that had to be tried again: %d; "+
		"converged %v after the last heal; lost %d, doubled %d, from nowhere %d; largest carrier %d MB",
		len(w.stations), c.acknowledged, c.typed, c.all, h["writer killed"], h["carrier killed"], h["server killed"], h["server stopped at once"],
		h[pulled], h[frozen], h[lost], h[slow], w.busy.Load(), converged.Round(10*time.Millisecond), c.lost, c.doubled, c.unknown, w.most.Load()>>20)
}
