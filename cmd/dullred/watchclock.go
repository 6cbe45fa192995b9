package main

import (
	"slices"
	"time"

	"dullred/schedule"
	"dullred/schedule/alert"
)

// grace is how long a jump waits for another program of this bench to write it: a
// screen on which something runs does so within a second.
const grace = 3 * time.Second

// clockStep is a jump that is not yet in the record. Until it is, this program
// reckons with it alone.
type clockStep struct {
	entry schedule.Entry
	until time.Duration // boot time when it is written, if nobody else did
}

// keepTime goes on with the line of time of the bench, and tells of jumps of the
// wall clock.
func (w *watcher) keepTime(at schedule.Clocks) (out []line) {
	jump := w.jump(at)
	w.now = w.at(at)
	switch behind := w.latest.Sub(w.now); {
	case jump != 0 && w.recorded(jump):
		out = append(out, w.clockLine(jump))
	case jump != 0:
		w.write(at)
		w.set(jump, at)
		out = append(out, w.clockLine(jump))
	case w.pending != nil && w.recorded(w.pending.jump()):
		w.pending, w.dirty = nil, true
		w.ahead = schedule.Ahead(w.clocks, w.id(), at.Wall)
	case w.pending != nil && at.Boot >= w.pending.until:
		w.write(at)
	case w.pending == nil && behind > schedule.LeastJump: // it was set back while nobody looked
		w.set(-behind, at)
		out = append(out, w.clockLine(-behind))
	}
	w.now = w.at(at)
	if w.pending == nil {
		w.steps = w.clocks
	}
	if w.from.IsZero() || w.planned > 0 && at.OK && at.Boot-w.planned >= alert.LateFrom {
		w.from = w.now // nobody could look: the machine slept
	}
	return out
}

func (w *watcher) at(l schedule.Clocks) time.Time { return schedule.Moment(l.Wall.Add(w.ahead)) }

// jump is how far the wall clock was set since the last look, 0 for not at all.
func (w *watcher) jump(at schedule.Clocks) time.Duration {
	before := w.last
	w.last = at
	return at.Jump(before)
}

// recorded reports whether another program of this bench has written a jump that
// was not in the record when the clocks were last in order.
func (w *watcher) recorded(jump time.Duration) bool {
	for _, e := range w.clocks {
		step, ok := e.Body.(schedule.ClockStep)
		old := slices.ContainsFunc(w.steps, func(s schedule.Entry) bool { return s.ID == e.ID })
		if ok && !old && e.Bench == w.id() && (step.Wall-jump).Abs() < schedule.LeastJump {
			return true
		}
	}
	return false
}

func (c clockStep) jump() time.Duration { return c.entry.Body.(schedule.ClockStep).Wall }

// set takes a jump onto the line of time.
func (w *watcher) set(jump time.Duration, at schedule.Clocks) {
	step, ahead := schedule.NewStep(jump, w.ahead)
	w.ahead, w.dirty = ahead, true
	bench, hand := w.desk.Who()
	w.pending = &clockStep{entry: schedule.Entry{ID: schedule.NewID(), At: w.at(at), Written: w.at(at), Bench: bench, Hand: hand,
		Piece: bench, Version: 1, Body: step}}
	if at.OK {
		w.pending.until = at.Boot + grace
	}
}

// write puts the jump that waits on disk. If that cannot be done, it waits on.
func (w *watcher) write(at schedule.Clocks) {
	if w.pending == nil {
		return
	}
	if err := w.desk.Write(w.pending.entry); err != nil {
		w.pending.until = at.Boot + grace
		return
	}
	w.clocks = append(slices.Clip(w.clocks), w.pending.entry)
	w.bench = append(slices.Clip(w.bench), w.pending.entry)
	w.pending, w.dirty = nil, true
}

func (w *watcher) clockLine(jump time.Duration) line {
	return w.line("CLOCK", "clock set").sentence("%v, what runs is not changed by it", schedule.ClockStep{Wall: jump})
}

// longest is how long a watcher sleeps while something runs: a clock that is set
// and a machine that slept wake nobody.
const longest = 10 * time.Second

// wait is how long there is nothing to tell, unless the record changes; ok is
// false when nothing becomes due by itself.
func (w *watcher) wait() (d time.Duration, ok bool) {
	sooner := func(after time.Duration) {
		if after > 0 && (!ok || after < d) {
			d, ok = after, true
		}
	}
	for _, after := range slices.Concat(w.dueAfter(), w.soundAfter()) {
		sooner(after)
	}
	if w.pending != nil {
		sooner(max(w.pending.until-w.last.Boot, time.Millisecond))
	}
	w.planned = 0
	if !ok {
		return 0, false
	}
	d = min(d+time.Millisecond, longest) // past the moment, never just before it
	if w.last.OK {
		w.planned = w.last.Boot + d
	}
	return d, true
}

// dueAfter is when what runs may next be due, as far as it is still to come.
func (w *watcher) dueAfter() (all []time.Duration) {
	timers := w.hearth.Timers(w.now)
	for _, p := range w.pieces {
		timers = append(timers, p.state.Timers(w.now)...)
	}
	l := w.limits
	for _, t := range timers {
		all = append(all, longest)
		for _, after := range []time.Duration{t.Target, l.TorchLeft, l.HotLeft, l.AirHotLeft, l.FlameOverrun, l.SoakOverrun, l.PickleOverdue} {
			all = append(all, after-t.Elapsed)
		}
	}
	if out := w.hearth.TorchOut; w.hearth.Torch.IsZero() && !out.IsZero() {
		all = append(all, l.FireWatch-w.hearth.Elapsed(out, w.now))
	}
	if allowed := w.hearth.Noise.Allowed(); allowed > 0 {
		all = append(all, allowed-w.hearth.Elapsed(w.hearth.NoiseAt, w.now))
	}
	return all
}

// soundAfter is when what was told sounds again.
func (w *watcher) soundAfter() (all []time.Duration) {
	for _, t := range w.sounding {
		switch {
		case t.alert.Over:
		case t.acked.IsZero():
			if _, next, more := alert.Sounds(t.alert.Priority(), w.now.Sub(t.at)); more {
				all = append(all, next)
			}
		case t.alert.Priority() == alert.Danger:
			all = append(all, alert.Pause-w.now.Sub(t.acked)%alert.Pause)
		}
	}
	if len(w.unwritten) > 0 {
		all = append(all, longest)
	}
	return all
}
