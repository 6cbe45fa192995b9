package class_test

import (
	"fmt"
	"time"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/class"
	"dullred/schedule/coldwork"
)

// The invented evening class at Saltmarsh Quay, by the clock of an invented place.
var (
	quay    = time.FixedZone("quay", 2*60*60)
	evening = time.Date(2026, time.March, 3, 19, 0, 0, 0, quay)
)

// idOf is an id of a kind of thing: 1 entries, 2 pieces, 3 hands.
func idOf(kind, n int) schedule.ID {
	return schedule.ID(fmt.Sprintf("00000000-0000-7000-8000-%04d%08d", kind, n))
}

var kw, mb = idOf(3, 1), idOf(3, 2)

// story is a piece: each entry a minute after the one before.
type story struct {
	number  int
	entries []schedule.Entry
}

func piece(number int, start schedule.Started) *story {
	s := &story{number: number}
	return s.by(kw, start)
}

// rod is a wrought bar of sterling silver, 8 mm square.
func rod(zones ...string) schedule.Started {
	return schedule.Started{Alloy: "AG925", Reading: square(8), Calliper: 0.05, Zones: zones}
}

func square(side unit.Millimetre) schedule.Reading {
	return schedule.Reading{Size: unit.Size{Shape: unit.Square, Thick: side, Width: side}}
}

// to is a course that brings the bar to a side. The limit of 45 % of thickness is
// strain 0.690, and from 8 mm to a side it is 2 ln(8/side): 5.66 mm is at it.
func to(side unit.Millimetre) schedule.Pass {
	return schedule.Pass{Process: coldwork.Lengthen, Count: 1, Reading: square(side)}
}

// by logs bodies under a hand, on the whole piece.
func (s *story) by(hand schedule.ID, bodies ...schedule.Body) *story {
	return s.on(hand, nil, bodies...)
}

func (s *story) on(hand schedule.ID, zones []string, bodies ...schedule.Body) *story {
	for _, b := range bodies {
		n := len(s.entries)
		at := evening.Add(time.Duration(n) * time.Minute).UTC()
		s.entries = append(s.entries, schedule.Entry{ID: idOf(1, 1000*s.number+n), At: at, Written: at, Bench: idOf(4, 0),
			Hand: hand, Piece: idOf(2, s.number), Zones: zones, Version: 1, Body: b})
	}
	return s
}

// heated logs a heat up to the water.
func (s *story) heated(hand schedule.ID) *story {
	return s.by(hand, schedule.Begun{}, schedule.Reached{}, schedule.Out{}, schedule.Quenched{})
}

// later moves what is logged from here on to another day, at the same hour.
func (s *story) later(from, days int) *story {
	for i := from; i < len(s.entries); i++ {
		s.entries[i].At = s.entries[i].At.AddDate(0, 0, days)
	}
	return s
}

// lessonOf is the only lesson of some pieces.
func lessonsOf(stories ...*story) []class.Lesson {
	shop := class.Shop{Place: quay}
	for _, s := range stories {
		shop.Pieces = append(shop.Pieces, s.entries)
	}
	return shop.Lessons()
}

// countsOf are those of a hand, over all lessons.
func countsOf(lessons []class.Lesson, hand schedule.ID) (all class.Counts) {
	for _, l := range lessons {
		for _, r := range l.Rows {
			if r.Hand == hand {
				all = all.Add(r.Counts)
			}
		}
	}
	return all
}

// lesson is one at the simulated bar.
func lesson(n int, hand schedule.ID, d schedule.Drilled) schedule.Entry {
	return schedule.Entry{ID: idOf(5, n), At: evening.Add(time.Duration(n) * time.Minute).UTC(), Bench: idOf(4, 0), Hand: hand,
		Piece: idOf(6, n), Version: 1, Body: d}
}
