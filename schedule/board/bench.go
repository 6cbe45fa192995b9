package board

import (
	"time"

	"dullred/schedule"
	"dullred/schedule/alert"
)

// bench is what was logged about a bench as a whole.
type bench struct {
	id      schedule.ID
	whole   bool // its history is known
	ids     map[string]bool
	entries []schedule.Entry
	state   schedule.Bench
	last    time.Time
}

// add takes entries and gives the clock steps among those that are new.
func (b *bench) add(rows []schedule.Row) (steps []schedule.Entry) {
	before := len(b.entries)
	for _, r := range rows {
		if b.ids[r.ID] {
			continue
		}
		b.ids[r.ID] = true
		e := schedule.DecodeAll([]schedule.Row{r})[0]
		b.entries = append(b.entries, e)
		if e.At.After(b.last) {
			b.last = e.At
		}
	}
	if len(b.entries) > before {
		b.state = schedule.FoldBench(b.id, b.entries)
	}
	return schedule.ClockSteps(b.entries[before:])
}

// latched are the alerts of the bench that were raised and not acknowledged. Which of
// them are over goes by the torch, the watch and the ears as the bench logged them.
func (b *bench) latched(now time.Time) []alert.Standing {
	due := alert.Find(nil, alert.Bench{ID: b.id, State: b.state, Limits: alert.Usual()}, now)
	return unseen(alert.Stand(due, b.entries, time.Time{}))
}
