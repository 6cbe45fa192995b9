package class

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"dullred/alloys"
	"dullred/schedule"
)

// Shop is what lessons are counted from.
type Shop struct {
	Book    *alloys.Book       // of the metals; nil is the embedded one
	Pieces  [][]schedule.Entry // all entries of each piece, in any order
	Drilled []schedule.Entry   // lessons at a simulated bar, under the ids that the hands have at the pieces
	Place   *time.Location     // where days begin; nil is UTC
	Span    Span               // only this counts; the zero Span is all time
}

// Span is from a moment on and before another. A zero moment is no bound.
type Span struct{ From, Until time.Time }

func (s Span) holds(t time.Time) bool {
	return !t.Before(s.From) && (s.Until.IsZero() || t.Before(s.Until))
}

// DayOf is the day of a moment by the clock of the moment's own location.
func DayOf(t time.Time) Span {
	y, m, d := t.Date()
	from := time.Date(y, m, d, 0, 0, 0, 0, t.Location())
	return Span{From: from, Until: time.Date(y, m, d+1, 0, 0, 0, 0, t.Location())}
}

// Lesson is one day with at least one hand at work.
type Lesson struct {
	Day  time.Time // its beginning
	Rows []Row     // one for each hand, in the order of their ids
}

// Row is one hand in a lesson.
type Row struct {
	Hand schedule.ID
	Counts
}

// Total is the sum of the rows. A piece that went from hand to hand is in it once
// for each.
func (l Lesson) Total() (all Counts) {
	for _, r := range l.Rows {
		all = all.Add(r.Counts)
	}
	return all
}

// Lessons are the days on which somebody logged something, the oldest first. It
// makes no difference in which order the pieces come, nor their entries.
func (s Shop) Lessons() []Lesson {
	l := ledger{place: cmp.Or(s.Place, time.UTC), span: s.Span, at: map[seat]*Counts{}}
	for _, entries := range s.Pieces {
		l.piece(s.Book, standing(entries))
	}
	for _, e := range standing(s.Drilled) {
		if b, ok := e.Body.(schedule.Drilled); ok && l.span.holds(e.At) {
			at := l.counts(e)
			at.Drill = at.Drill.add(drilled(b))
		}
	}
	return l.lessons()
}

// Newest is when the newest of the entries happened that makes a lesson; false
// where none does.
func Newest(entries []schedule.Entry) (newest time.Time, ok bool) {
	for _, e := range standing(entries) {
		if logs(e) {
			newest, ok = e.At, true
		}
	}
	return newest, ok
}

// standing are the entries that were not taken back, in the order of their time.
func standing(entries []schedule.Entry) []schedule.Entry {
	dead := schedule.Voided(entries)
	out := slices.DeleteFunc(slices.Clone(entries), func(e schedule.Entry) bool {
		return e.Kind() == schedule.KindVoid || dead[e.ID]
	})
	slices.SortStableFunc(out, func(a, b schedule.Entry) int {
		return cmp.Or(a.At.Compare(b.At), strings.Compare(string(a.ID), string(b.ID)))
	})
	return out
}

// logs reports whether a hand logged the entry itself: advice and alerts bear its
// id too, and entries of the bench are about no piece. A row that is damaged may
// have lost its hand.
func logs(e schedule.Entry) bool {
	switch e.Kind() {
	case schedule.KindShown, schedule.KindRaised, schedule.KindAcknowledged:
		return false
	}
	return e.Hand != "" && !e.Kind().OfBench()
}

// seat is a hand on a day.
type seat struct {
	day  time.Time
	hand schedule.ID
}

// ledger is the counts of every seat.
type ledger struct {
	place *time.Location
	span  Span
	at    map[seat]*Counts
}

// counts are those of the hand and the day of an entry.
func (l ledger) counts(e schedule.Entry) *Counts {
	at := seat{DayOf(e.At.In(l.place)).From, e.Hand}
	if l.at[at] == nil {
		l.at[at] = &Counts{}
	}
	return l.at[at]
}

func (l ledger) lessons() (all []Lesson) {
	var seats []seat
	for at := range l.at {
		seats = append(seats, at)
	}
	slices.SortFunc(seats, func(a, b seat) int {
		return cmp.Or(a.day.Compare(b.day), strings.Compare(string(a.hand), string(b.hand)))
	})
	for _, at := range seats {
		if len(all) == 0 || !all[len(all)-1].Day.Equal(at.day) {
			all = append(all, Lesson{Day: at.day})
		}
		last := &all[len(all)-1]
		last.Rows = append(last.Rows, Row{at.hand, *l.at[at]})
	}
	return all
}
