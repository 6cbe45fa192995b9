package main

import (
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/record"
)

// tangled is a piece in any order of steps, as two benches and a clock that was set may
// leave one, with its end mostly at its end.
func tangled(r *rand.Rand, n int, end time.Time) (entries []schedule.Entry) {
	size := schedule.Reading{Size: unit.Size{Shape: unit.Square, Thick: 8, Width: 8}}
	steps := []schedule.Body{schedule.Pass{Process: coldwork.Lengthen, Count: 1}, schedule.Begun{}, schedule.Reached{}, schedule.Out{}, schedule.Quenched{},
		schedule.FoundCool{}, schedule.Pickled{}, schedule.Rinsed{}, schedule.Soft{}, schedule.Springy{}, schedule.Note{Text: "dull"}, schedule.Finished{}}
	at := end.Add(-time.Duration(r.IntN(72)) * time.Hour)
	log := func(b schedule.Body) {
		at = at.Add(time.Duration(r.IntN(120)-10) * time.Second)
		e := schedule.Entry{ID: schedule.NewID(), At: at, Written: at, Bench: growthID(0, r.IntN(2)), Hand: growthID(1, 0), Piece: growthID(2, n), Version: 1, Body: b}
		if k := e.Kind(); k != schedule.KindStarted && k != schedule.KindFinished && r.IntN(5) == 0 {
			e.Zones = []string{"tip"}
		}
		entries = append(entries, e)
	}
	log(schedule.Started{Alloy: "AG925", Reading: size, Calliper: 0.1, Zones: []string{"tip", "bowl"}})
	for range r.IntN(12) {
		log(steps[r.IntN(len(steps))])
	}
	if r.IntN(3) > 0 {
		log(schedule.Finished{})
	}
	if r.IntN(4) == 0 {
		at = at.Add(-5 * time.Minute) // by a clock that is behind
		log(schedule.Void{Target: entries[r.IntN(len(entries))].ID})
	}
	return entries
}

// What is left off the bench is what a full replay calls finished, cold and without a
// timer, a day ago or earlier.
func TestOverIsOver(t *testing.T) {
	const pieces = 600
	now := time.Date(2026, time.March, 3, 19, 0, 0, 0, time.UTC)
	r := rand.New(rand.NewPCG(4, 2))
	rec, err := record.Open(filepath.Join(t.TempDir(), "record.db"))
	require.NoError(t, err)
	defer rec.Close()
	var rows []record.Row
	states := map[schedule.ID]schedule.State{}
	for n := range pieces {
		entries := tangled(r, n, now)
		states[growthID(2, n)] = schedule.FoldIn(alloys.Default(), entries)
		for _, e := range entries {
			rows = append(rows, encoded(t, e))
		}
	}
	require.NoError(t, rec.Append(rows...))
	d := desk{&bench{rec: rec, book: alloys.Default()}, func() time.Time { return now }}
	left, done := 0, 0
	for id, s := range states {
		over, err := d.over(string(id))
		require.NoError(t, err)
		if s.Done() {
			done++
		}
		if !over {
			continue
		}
		left++
		require.True(t, s.Done(), id)
		require.False(t, s.Last.After(now.Add(-leftFor)), id)
		require.Empty(t, s.Timers(now), id)
		for _, z := range s.Zones {
			require.False(t, z.Heat.Phase.Hot(), fmt.Sprint(id, z.Heat.Phase))
		}
	}
	t.Logf("%d of %d pieces are left off the bench, %d are finished", left, pieces, done)
	require.Greater(t, left, pieces/20, "the test would show nothing")
	everything := desk{bench: d.bench}
	over, err := everything.over(string(growthID(2, 0)))
	require.NoError(t, err)
	require.False(t, over)
}
