package tui

import (
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/tui/view"
)

// holding is what a program holds on to.
type holding struct {
	heap       int64 // bytes that are in use after a collection
	goroutines int
}

func held() holding {
	var m runtime.MemStats
	runtime.GC()
	runtime.GC() // what the first one handed to finalizers
	runtime.ReadMemStats(&m)
	return holding{int64(m.HeapAlloc), runtime.NumGoroutine()}
}

// hour is one at a screen whose count-down has run out and counts on: each second is
// drawn, and every ten minutes the smith looks about, comes back to the first page and has
// seen what flashes.
func (e *evening) hour() {
	for range 6 {
		e.keys("vvzz?\x1ba")
		e.wait(10*time.Minute - 7*keyGap)
	}
}

// Eight hours of a screen that is drawn each second hold no more memory at their end than
// after the first, and no more goroutines. Some kilobytes are the tables of Go itself.
func TestEightHours(t *testing.T) {
	const slack = 64 << 10
	inEvening(t, newRecordDesk, func(e *evening) {
		e.resize(view.LeastWidth, view.LeastHeight)
		e.keys(square + "hc")
		e.hour()
		first, draws := held(), e.canvas.draws.Load()
		for range 7 {
			e.hour()
		}
		last := held()
		draws = e.canvas.draws.Load() - draws
		t.Logf("after an hour %d bytes and %d goroutines, after eight and %d drawings %d and %d",
			first.heap, first.goroutines, draws, last.heap, last.goroutines)
		require.Greater(t, draws, int64(7*3600), "each second is drawn")
		require.Equal(t, schedule.StepSoak, e.bench.Scene().Piece.Timer.Step)
		require.Equal(t, first.goroutines, last.goroutines)
		require.Less(t, last.heap-first.heap, int64(slack))
	})
}
