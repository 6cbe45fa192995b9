//go:build system && linux

package main

import (
	"cmp"
	"fmt"
	"os"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/record"
	"dullred/schedule/share"
)

// drop is how long a link is dropped.
const drop = 20 * time.Second

// ticks is what lies between two entries of a bench meanwhile.
const ticks = 100 * time.Millisecond

// dropped is a bench whose link is dropped while it logs, or for comparison is not.
type dropped struct {
	*station
	kind    string
	appends []time.Duration // what each took
	noticed time.Duration   // until its beacon said that it is alone
	healed  time.Duration   // until it had everything, once all links were back
}

// Benches whose links drop everything without a word, in two ways, or are pulled, for
// twenty seconds: they notice it within ten, log on as if nothing was, and have shared
// everything within five of the link being back (ten where this machine is loaded).
func TestSystemDroppedLink(t *testing.T) {
	t.Parallel()
	kinds := []string{whole, frozen, frozen, lost, lost, pulled, pulled, slow}
	f := newFleet(t, len(kinds), 1)
	f.start(t)
	rows := len(f.written(t))
	f.converge(t, rows)
	var all []*dropped
	for n, kind := range kinds {
		d := &dropped{station: f.stations[n], kind: kind}
		all = append(all, d)
	}
	logged := int(drop / ticks)
	back := make(chan struct{})
	var logging, watching sync.WaitGroup
	for _, d := range all {
		d.set(d.kind)
		begun := time.Now()
		watching.Go(func() { d.noticed = d.alone(begun, back) })
		logging.Go(func() { d.appends = d.log(t, logged, time.NewTicker(ticks)) })
		rows += logged
	}
	logging.Wait() // every one is acknowledged, and no link is back
	close(back)
	watching.Wait()
	for _, d := range all {
		require.Equal(t, d.kind, d.state, "it is still dropped")
	}
	healed := time.Now()
	for _, d := range all {
		d.set(whole)
	}
	var counting sync.WaitGroup
	for _, d := range all {
		counting.Go(func() { d.healed = d.holds(t, rows, healed) })
	}
	counting.Wait()
	f.converge(t, rows)
	f.sound(t)
	for _, d := range all {
		t.Log(d)
		d.require(t)
		d.stop(t)
	}
	slices.SortFunc(all, func(a, b *dropped) int { return cmp.Compare(a.healed, b.healed) })
	require.Less(t, all[len(all)/2].healed, onThisMachine(healWithin), "at the median")
}

// require holds what was measured against what is promised.
func (d *dropped) require(t *testing.T) {
	t.Helper()
	require.Less(t, d.healed, 2*healWithin, d.kind)
	require.Eventually(t, func() bool {
		standing, err := share.ReadBeacon(d.record)
		return err == nil && !standing.Shared.IsZero()
	}, patience, 10*time.Millisecond, "it says that it is with the others again")
	if d.kind == whole || d.kind == slow {
		return
	}
	require.Less(t, d.noticed, noticeWithin, d.kind)
	require.Contains(t, d.said(), `"event":"alone"`)
	require.Eventually(t, func() bool { return strings.Contains(d.said(), `"event":"together"`) }, patience, 10*time.Millisecond, "%s, it said: %s", d.kind, d.said())
}

// What the pauses and the patience of a carrier add up to.
const (
	noticeWithin = 10 * time.Second
	healWithin   = 5 * time.Second
)

// onThisMachine is a limit of time, and twice that on a machine that has more to do than
// it can.
func onThisMachine(limit time.Duration) time.Duration {
	text, _ := os.ReadFile("/proc/loadavg") // without it nothing is granted
	first, _, _ := strings.Cut(string(text), " ")
	if load, err := strconv.ParseFloat(first, 64); err == nil && load > float64(2*runtime.NumCPU()) {
		return 2 * limit
	}
	return limit
}

// String is what was measured.
func (d *dropped) String() string {
	middle := func(all []time.Duration, part float64) time.Duration {
		return slices.Sorted(slices.Values(all))[int(part*float64(len(all)-1))].Round(10 * time.Microsecond)
	}
	return fmt.Sprintf("%q: alone after %v; everything %v after all links were back; an append took %v at the median, %v at the 99th percentile, %v at most",
		d.kind, d.noticed.Round(time.Millisecond), d.healed.Round(time.Millisecond), middle(d.appends, 0.5), middle(d.appends, 0.99), middle(d.appends, 1))
}

// log appends entries at a bench, one with each tick, and says what each append took.
func (d *dropped) log(t *testing.T, entries int, beat *time.Ticker) (took []time.Duration) {
	defer beat.Stop()
	r, err := record.Open(d.record)
	require.NoError(t, err)
	defer r.Close()
	w := &writer{r: r}
	w.bench, w.hand, err = ownOf(r)
	require.NoError(t, err)
	for i := range entries {
		<-beat.C
		row := w.entry(piecesOfClass()[i%ofClass], schedule.Note{Text: fmt.Sprint("note ", i)})
		begun := time.Now()
		require.NoError(t, r.Append(row...))
		took = append(took, time.Since(begun))
	}
	return took
}

// alone waits until the beacon says that the bench is alone, and gives how long that took
// since the link was dropped: the whole time if it never said so.
func (d *dropped) alone(begun time.Time, back <-chan struct{}) time.Duration {
	for {
		if standing, err := share.ReadBeacon(d.record); err == nil && !standing.AloneSince.IsZero() {
			return time.Since(begun)
		}
		select {
		case <-back:
			return time.Since(begun)
		case <-time.After(10 * time.Millisecond):
		}
	}
}

// holds waits until the record has so many entries, and gives how long that took.
func (d *dropped) holds(t *testing.T, entries int, since time.Time) time.Duration {
	r, err := record.Open(d.record)
	require.NoError(t, err)
	defer r.Close()
	require.Eventually(t, func() bool { n, err := r.Count(); return err == nil && n == entries }, time.Minute, 10*time.Millisecond)
	return time.Since(since)
}
