package stock

import "dullred/alloys/unit"

// taper is the piece between two stations that are not at one place.
type taper struct{ from, to Station }

func (s Shape) tapers() []taper {
	var all []taper
	for i := 1; i < len(s.Stations); i++ {
		if a, b := s.Stations[i-1], s.Stations[i]; b.At > a.At {
			all = append(all, taper{a, b})
		}
	}
	return all
}

func (t taper) length() unit.Millimetre { return t.to.At - t.from.At }

// at is the section at a place; outside the taper that of its nearest end.
func (t taper) at(place unit.Millimetre) Section {
	switch {
	case place <= t.from.At:
		return t.from.Section
	case place >= t.to.At:
		return t.to.Section
	}
	return t.share((place - t.from.At) / t.length())
}

// share is the section at a share of the way. A square that becomes a rectangle
// is a rectangle on the way.
func (t taper) share(x unit.Millimetre) Section {
	a, b := t.from.Section, t.to.Section
	s := Section{a.Kind, a.Width + x*(b.Width-a.Width), a.Thick + x*(b.Thick-a.Thick)}
	if a.Kind != b.Kind {
		s.Kind = Rectangular
	}
	return s
}

// volume is the prismoidal rule, L/6 (A1 + 4 Am + A2).
func (t taper) volume() unit.CubicMillimetre {
	sum := t.from.Section.Area() + 4*t.share(0.5).Area() + t.to.Section.Area()
	return unit.CubicMillimetre(float64(t.length()) / 6 * float64(sum))
}

// turning are the places between two of the taper where the area may be
// extreme: both, and the top of the area where one side grows as the other
// shrinks.
func (t taper) turning(from, to unit.Millimetre) []unit.Millimetre {
	places := []unit.Millimetre{from, to}
	a, b := t.from.Section, t.to.Section
	w, h := b.Width-a.Width, b.Thick-a.Thick
	if w*h >= 0 {
		return places
	}
	top := t.from.At - t.length()*(a.Width*h+a.Thick*w)/(2*w*h)
	if top > from && top < to {
		places = append(places, top)
	}
	return places
}
