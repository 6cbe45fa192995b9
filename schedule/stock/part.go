package stock

import (
	"fmt"

	"dullred/alloys/unit"
)

// Part is the piece between two places, with the first moved to 0. A tang goes
// with its end. It refuses an empty part.
func (s Shape) Part(from, to unit.Millimetre) (Shape, error) {
	if !(from >= 0 && to > from && to <= s.Length()) {
		return Shape{}, fmt.Errorf("from %v to %v is no part of a piece %v long", from, to, s.Length())
	}
	var p Shape
	for _, t := range s.tapers() {
		a, b := max(from, t.from.At), min(to, t.to.At)
		if b <= a {
			continue
		}
		p.join(Station{a - from, t.at(a)})
		p.join(Station{b - from, t.at(b)})
	}
	for _, t := range s.Tangs {
		if t.End == Start && from == 0 || t.End == Finish && to == s.Length() {
			p.Tangs = append(p.Tangs, t)
		}
	}
	return p, nil
}

// join adds a station unless it repeats the last.
func (s *Shape) join(st Station) {
	if n := len(s.Stations); n > 0 && s.Stations[n-1] == st {
		return
	}
	s.Stations = append(s.Stations, st)
}

// Lengthened is the shape with every length along it, its tangs included, times
// k; the sections stay. Its volume is k times as large.
func (s Shape) Lengthened(k float64) Shape { return s.scaled(unit.Millimetre(k), 1) }

// Scaled is the shape with every dimension times k. Its volume is k³ times as large.
func (s Shape) Scaled(k float64) Shape { return s.scaled(unit.Millimetre(k), unit.Millimetre(k)) }

func (s Shape) scaled(along, across unit.Millimetre) Shape {
	var out Shape
	for _, st := range s.Stations {
		st.At *= along
		st.Section.Width, st.Section.Thick = st.Section.Width*across, st.Section.Thick*across
		out.Stations = append(out.Stations, st)
	}
	for _, t := range s.Tangs {
		t.Length, t.Diameter = t.Length*along, t.Diameter*across
		out.Tangs = append(out.Tangs, t)
	}
	return out
}
