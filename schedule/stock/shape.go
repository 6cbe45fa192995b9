package stock

import (
	"errors"
	"fmt"

	"dullred/alloys/unit"
)

// Station is the section at a place along the piece, in mm from its start.
type Station struct {
	At      unit.Millimetre
	Section Section
}

// Shape is a finished piece before it is bent: its stations, between which it
// tapers straight, and the ends that are drawn out to wire. Two stations at one
// place are a shoulder.
type Shape struct {
	Stations []Station
	Tangs    []Tang
}

// MaxStations is the most stations of a shape.
const MaxStations = 200

// Check verifies a shape: two stations at least, the first at 0, in ascending
// order, no more than two at one place, only straight tapers between sections of
// one kind, and tangs that their ends can be drawn to.
func (s Shape) Check() error {
	switch n := len(s.Stations); {
	case n < 2:
		return errors.New("a shape needs at least two stations, such as 0:6x3 190:6x3")
	case n > MaxStations:
		return fmt.Errorf("a shape of %d stations is longer than the %d that are read", n, MaxStations)
	case s.Stations[0].At != 0:
		return fmt.Errorf("the first station stands at %v, expected 0", s.Stations[0].At)
	case !(s.Length() >= unit.MinLength && s.Length() <= unit.MaxLength):
		return fmt.Errorf("the shape is %v long, expected 0.001 mm to 100 m", s.Length())
	}
	for i, st := range s.Stations {
		if err := st.Section.check(); err != nil {
			return err
		}
		if err := s.checkStep(i); err != nil {
			return err
		}
	}
	return s.checkTangs()
}

// checkStep looks at a station and the one before it.
func (s Shape) checkStep(i int) error {
	if i == 0 {
		return nil
	}
	a, b := s.Stations[i-1], s.Stations[i]
	switch {
	case !(b.At >= a.At):
		return fmt.Errorf("the station at %v stands behind the one at %v, expected ascending places", b.At, a.At)
	case b.At == a.At && (i == 1 || i == len(s.Stations)-1 || s.Stations[i-2].At == a.At):
		return fmt.Errorf("a shoulder is two stations at one place inside the piece, and the one at %v is not", b.At)
	case b.At > a.At && !a.Section.Kind.tapers(b.Section.Kind):
		return fmt.Errorf("there is no straight taper from %v to %v, expected one kind of section up to a shoulder (two stations at one place)",
			a.Section, b.Section)
	}
	return nil
}

// Length is the length of the piece without its tangs, in mm.
func (s Shape) Length() unit.Millimetre {
	if len(s.Stations) == 0 {
		return 0
	}
	return s.Stations[len(s.Stations)-1].At
}

// Body is the volume without the tangs, in mm³.
func (s Shape) Body() unit.CubicMillimetre {
	var v unit.CubicMillimetre
	for _, t := range s.tapers() {
		v += t.volume()
	}
	return v
}

// Volume is the volume of the piece with its tangs, in mm³.
func (s Shape) Volume() unit.CubicMillimetre {
	v := s.Body()
	for _, t := range s.Tangs {
		v += t.Volume()
	}
	return v
}

// At is the section at a place, in mm from the start; at a shoulder the one that
// follows. Places outside the piece give its nearest end.
func (s Shape) At(place unit.Millimetre) Section {
	if len(s.Stations) == 0 {
		return Section{}
	}
	at := s.Stations[0].Section
	for _, t := range s.tapers() {
		if place >= t.from.At {
			at = t.at(place)
		}
	}
	return at
}

// Largest is the largest area from one place to another, both included, and
// where it is first met. At a shoulder both its sides count.
func (s Shape) Largest(from, to unit.Millimetre) (unit.SquareMillimetre, unit.Millimetre) {
	return s.extreme(from, to, func(a, best unit.SquareMillimetre) bool { return a > best })
}

// Smallest is the smallest area from one place to another, both included, and
// where it is first met.
func (s Shape) Smallest(from, to unit.Millimetre) (unit.SquareMillimetre, unit.Millimetre) {
	return s.extreme(from, to, func(a, best unit.SquareMillimetre) bool { return a < best })
}

func (s Shape) extreme(from, to unit.Millimetre, better func(a, best unit.SquareMillimetre) bool) (unit.SquareMillimetre, unit.Millimetre) {
	from, to = s.inside(from), s.inside(to)
	best, where, found := unit.SquareMillimetre(0), from, false
	for _, t := range s.tapers() {
		if t.to.At < from || t.from.At > to {
			continue
		}
		for _, place := range t.turning(max(from, t.from.At), min(to, t.to.At)) {
			if a := t.at(place).Area(); !found || better(a, best) {
				best, where, found = a, place, true
			}
		}
	}
	return best, where
}

// inside brings a place into the piece.
func (s Shape) inside(place unit.Millimetre) unit.Millimetre {
	return max(0, min(place, s.Length()))
}
