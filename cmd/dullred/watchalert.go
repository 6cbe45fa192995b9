package main

import (
	"maps"
	"slices"
	"strings"
	"time"

	"dullred/schedule"
	"dullred/schedule/alert"
)

// sounding is an alert that was told.
type sounding struct {
	alert   alert.Standing // as it was told first
	at      time.Time
	n       int       // how often it has sounded
	courses int       // of its zone when it was told last
	acked   time.Time // zero for not yet
}

// alertLines raise what is due, and tell what is new, what sounds again, what was
// seen and what is over.
func (w *watcher) alertLines(due []alert.Alert) (out []line) {
	entries := w.raise(due)
	all := w.standing(due, entries)
	acked := alert.Acknowledged(entries)
	out = w.overLines(all, acked)
	var loud []alert.Standing
	for _, s := range all {
		t, known := w.sounding[s.Raised.ID]
		if !known {
			t = &sounding{at: w.now, n: 1, courses: w.courses(s)}
			w.sounding[s.Raised.ID] = t
		}
		seen := t.seen(acked[s.Raised.ID], w.now)
		again := known && w.again(t, s)
		t.alert = s
		switch {
		case seen:
			out = append(out, w.alertLine(s.Alert).as("SEEN", calm(s.Alert, s.Text())))
		case !known, again:
			loud = append(loud, s)
		}
	}
	return append(out, w.loudLines(all, loud)...)
}

func (l line) as(word, text string) line {
	l.word = word
	return l.sentence("%s", text)
}

// seen takes the moment of an acknowledgement, and reports whether it is new.
func (t *sounding) seen(at, now time.Time) bool {
	if at.IsZero() || !t.acked.IsZero() {
		return false
	}
	t.acked, t.n = at, int(now.Sub(at)/alert.Pause)
	return true
}

// again reports whether an alert that was told sounds again: by the clock, and a
// call to anneal after that with every course. One that is over is silent.
func (w *watcher) again(t *sounding, s alert.Standing) bool {
	n, worked := t.n, w.courses(s) > t.courses
	switch {
	case s.Over:
		return false
	case !t.acked.IsZero():
		if s.Priority() != alert.Danger {
			return false
		}
		t.n = max(t.n, int(w.now.Sub(t.acked)/alert.Pause))
		return t.n > n
	}
	sounds, _, more := alert.Sounds(s.Priority(), w.now.Sub(t.at))
	t.n, t.courses = max(t.n, sounds), max(t.courses, w.courses(s))
	return t.n > n || worked && !more && s.Priority() == alert.Call
}

// courses are those since the last anneal, for an alert that work calls for.
func (w *watcher) courses(s alert.Standing) int {
	if s.Cause != alert.AnnealNow || len(s.Zones) == 0 {
		return 0
	}
	for _, p := range w.pieces {
		if z, ok := p.state.Zone(s.Zones[0]); ok && p.ID == s.Piece {
			return z.Courses
		}
	}
	return 0
}

// raise writes the alerts that nobody has raised, and gives all entries. What
// cannot be written is told all the same, and tried again with the next step.
func (w *watcher) raise(due []alert.Alert) (entries []schedule.Entry) {
	entries = slices.Clone(w.bench)
	for _, p := range w.told() {
		entries = append(entries, p.Entries...)
	}
	known := func(e schedule.Entry) bool {
		return slices.ContainsFunc(entries, func(k schedule.Entry) bool { return k.ID == e.ID })
	}
	w.unwritten = slices.DeleteFunc(w.unwritten, known) // another process raised it
	bench, hand := w.desk.Who()
	fresh := alert.Unraised(due, slices.Concat(entries, w.unwritten), alert.Writer{Bench: bench, Hand: hand, Now: w.now})
	w.unwritten = append(w.unwritten, fresh...)
	entries = append(entries, w.unwritten...)
	if len(w.unwritten) == 0 {
		return entries
	}
	if w.fault = w.desk.Write(w.unwritten...); w.fault == nil {
		w.keep(w.unwritten)
		w.unwritten = nil
	}
	return entries
}

// keep adds entries that change no state to those that were read.
func (w *watcher) keep(entries []schedule.Entry) {
	for _, e := range entries {
		if e.Piece == w.id() {
			w.bench = append(slices.Clip(w.bench), e)
			continue
		}
		for _, p := range w.pieces {
			if p.ID == e.Piece {
				p.Entries = append(slices.Clip(p.Entries), e)
			}
		}
	}
}

// standing are the alerts to be shown, each with the lateness it was told with first.
func (w *watcher) standing(due []alert.Alert, entries []schedule.Entry) []alert.Standing {
	all := alert.Stand(due, entries, w.from)
	for i := range all {
		s := &all[i]
		for _, p := range w.pieces {
			if p.ID == s.Piece {
				s.Name = p.Name // that of one which is over is not found any more
			}
		}
		if t, known := w.sounding[s.Raised.ID]; known {
			s.Late = t.alert.Late
		}
	}
	return all
}

// overLines tell what no longer holds. It stays until somebody has seen it, but
// for what the smith has answered by an act.
func (w *watcher) overLines(all []alert.Standing, acked map[schedule.ID]time.Time) (out []line) {
	for _, id := range slices.Sorted(maps.Keys(w.sounding)) {
		t := w.sounding[id]
		l, text := w.alertLine(t.alert.Alert), calm(t.alert.Alert, t.alert.Text())
		i := slices.IndexFunc(all, func(s alert.Standing) bool { return s.Raised.ID == id })
		if i >= 0 && all[i].Over && !t.alert.Over {
			out = append(out, l.as("OVER", text+", nobody has acknowledged it"))
		}
		if i >= 0 {
			continue
		}
		if t.seen(acked[id], w.now) {
			out = append(out, l.as("SEEN", text))
		}
		if !t.alert.Over {
			out = append(out, l.as("OVER", text))
		}
		delete(w.sounding, id)
	}
	return out
}

// loudLines are the alerts that sound, those that are late as one line when they
// are too many to be read one by one.
func (w *watcher) loudLines(all, loud []alert.Standing) (out []line) {
	flood, drowned := alert.Summary(all), false
	for _, s := range loud {
		if flood != "" && s.Late > 0 {
			drowned = true
			continue
		}
		l := w.alertLine(s.Alert)
		l.late, l.text = s.Late, l.plain(calm(s.Alert, w.noted(s.Sentence(), s.Raised.ID)))
		out = append(out, l)
	}
	if !drowned {
		return out
	}
	l := w.alertLine(all[0].Alert)
	l.late, l.what, l.text = all[0].Late, "flood", l.plain(l.word+": "+calm(all[0].Alert, w.noted(flood, all[0].Raised.ID)))
	return append([]line{l}, out...)
}

// noted is a sentence with why its alert is not on disk.
func (w *watcher) noted(sentence string, id schedule.ID) string {
	if !slices.ContainsFunc(w.unwritten, func(e schedule.Entry) bool { return e.ID == id }) {
		return sentence
	}
	return strings.TrimSuffix(sentence, ".") + " (not recorded: " + w.fault.Error() + ")."
}
