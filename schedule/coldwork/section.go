package coldwork

import (
	"errors"
	"fmt"
	"math"

	"dullred/alloys/unit"
)

// Section is a measured cross-section. A bar (Rectangular, Square, Round) is
// followed by its two sides, a Tube by its wall and mean circumference, a Ring
// by thickness and width, a Sheet by its thickness alone (no spread: plane
// strain). A Sheet with a Diameter is the wall of a vessel, read at a ring of
// that diameter.
type Section unit.Size

// ErrGrew is returned when a section came out larger in every direction, which
// no hammer or roll does.
var ErrGrew = errors.New("grew in every direction")

// ErrShape is returned when two sections cannot be compared, such as a sheet and a bar.
var ErrShape = errors.New("cannot be compared")

// String prints the section as it is typed, to 0.01 mm; the wall of a vessel
// names its ring.
func (s Section) String() string {
	s.Thick, s.Width, s.Diameter = hundredth(s.Thick), hundredth(s.Width), hundredth(s.Diameter)
	if !s.vessel() {
		return unit.Size(s).String()
	}
	wall := s
	wall.Diameter = 0
	return fmt.Sprintf("%v at a ring of %v", unit.Size(wall), s.Diameter)
}

// hundredth rounds a length to what a calliper shows. A length too small for
// that is kept.
func hundredth(l unit.Millimetre) unit.Millimetre {
	if r := unit.Millimetre(math.Round(float64(l)*100) / 100); r > 0 {
		return r
	}
	return l
}

// Known reports whether the section has been measured at all.
func (s Section) Known() bool { return s.Shape != unit.Unshaped }

func (s Section) vessel() bool { return s.Shape == unit.Sheet && s.Diameter > 0 }

func (s Section) bar() bool {
	return s.Shape == unit.Rectangular || s.Shape == unit.Square || s.Shape == unit.Round
}

// Area is the area of the section in mm². It is not known (false) for a sheet,
// whose width is not followed.
func (s Section) Area() (unit.SquareMillimetre, bool) {
	if s.Shape == unit.Sheet || !s.Known() {
		return 0, false
	}
	t, w := s.sides()
	return unit.SquareMillimetre(t * w), true
}

// BlankLength is the length of bar or wire that closes to a Ring, measured at
// mid-thickness: π (inside diameter + thickness). It is 0 for other shapes.
func (s Section) BlankLength() unit.Millimetre {
	if s.Shape != unit.Ring {
		return 0
	}
	return math.Pi * (s.Diameter + s.Thick)
}

// Depth is the thickness that bends when the section is bent the easy way: its
// smaller side, or its diameter.
func (s Section) Depth() unit.Millimetre {
	switch s.Shape {
	case unit.Round, unit.Tube:
		return s.Diameter
	case unit.Rectangular, unit.Ring:
		return min(s.Thick, s.Width)
	}
	return s.Thick
}

// Comparable reports whether the change from s to b can be reckoned. Sections
// that are not known cannot.
func (s Section) Comparable(b Section) bool {
	return s.bar() && b.bar() || s.Known() && s.Shape == b.Shape && s.vessel() == b.vessel()
}

// After completes a reading b with what s already knows: a bar's size read on
// a ring keeps the ring's diameter, a thickness read on a vessel its ring.
func (s Section) After(b Section) Section {
	switch {
	case s.Shape == unit.Ring && b.Shape == unit.Rectangular:
		b.Shape, b.Diameter = unit.Ring, s.Diameter
	case s.vessel() && b.Shape == unit.Sheet && b.Diameter == 0:
		b.Diameter = s.Diameter
	}
	return b
}

// AtRing is the section once a ring of diameter d is read and nothing else: the
// wall of a vessel keeps its thickness, since raising barely changes it; a
// closed ring that is stretched or shrunk keeps its volume. Only sheet and rings
// have a ring to read.
func (s Section) AtRing(d unit.Millimetre) (Section, error) {
	switch s.Shape {
	case unit.Sheet:
		s.Diameter = d
		return s, nil
	case unit.Ring:
		before := s.BlankLength()
		s.Diameter = d
		k := unit.Millimetre(math.Sqrt(float64(before / s.BlankLength())))
		s.Thick, s.Width = s.Thick*k, s.Width*k
		return s, nil
	}
	return s, fmt.Errorf("a ring diameter says nothing about a %v section: %w", s.Shape, ErrShape)
}

// readings are the figures that were read, each with an error of its own. The
// wall of a vessel is seldom read again, so its ring alone counts.
func (s Section) readings() []float64 {
	switch s.Shape {
	case unit.Rectangular, unit.Ring:
		return []float64{float64(s.Thick), float64(s.Width)}
	case unit.Tube:
		return []float64{float64(s.Diameter), float64(s.Thick)}
	case unit.Round:
		return []float64{float64(s.Diameter)}
	case unit.Sheet:
		if s.vessel() {
			return []float64{float64(s.Diameter)}
		}
	case unit.Unshaped:
		return nil
	}
	return []float64{float64(s.Thick)}
}

// with is s with its readings replaced.
func (s Section) with(r []float64) Section {
	switch s.Shape {
	case unit.Rectangular, unit.Ring:
		s.Thick, s.Width = unit.Millimetre(r[0]), unit.Millimetre(r[1])
	case unit.Tube:
		s.Diameter, s.Thick = unit.Millimetre(r[0]), unit.Millimetre(r[1])
	case unit.Round:
		s.Diameter = unit.Millimetre(r[0])
	case unit.Square:
		s.Thick, s.Width = unit.Millimetre(r[0]), unit.Millimetre(r[0])
	case unit.Sheet:
		if s.vessel() {
			s.Diameter = unit.Millimetre(r[0])
			break
		}
		s.Thick = unit.Millimetre(r[0])
	}
	return s
}

// sides are the two lengths, in mm, whose logarithms make the strain. A round
// bar stands as the square of equal area, a tube as its unrolled wall, a vessel
// as its wall and its ring. A sheet has one side; the second stays 1.
func (s Section) sides() (t, w float64) {
	switch s.Shape {
	case unit.Round:
		side := float64(s.Diameter) * math.Sqrt(math.Pi) / 2
		return side, side
	case unit.Tube:
		return float64(s.Thick), math.Pi * float64(s.Diameter-s.Thick)
	case unit.Sheet:
		if s.vessel() {
			return float64(s.Thick), float64(s.Diameter)
		}
		return float64(s.Thick), 1
	}
	return float64(s.Thick), float64(s.Width)
}

// sideErrors are what a calliper with the given error (mm) leaves in the two
// sides: the square that stands for a round bar is narrower than its diameter,
// and a circumference has π times the error of its diameter.
func (s Section) sideErrors(calliper unit.Millimetre) (t, w float64) {
	u := float64(calliper)
	switch s.Shape {
	case unit.Round:
		side := u * math.Sqrt(math.Pi) / 2
		return side, side
	case unit.Tube:
		return u, math.Pi * u
	}
	return u, u
}

// Seen reports whether b differs from s by more than a calliper with the given
// error (mm) can be wrong, in any side.
func (s Section) Seen(b Section, calliper unit.Millimetre) bool {
	t0, w0 := s.sides()
	t1, w1 := b.sides()
	ut, uw := s.sideErrors(calliper)
	return math.Abs(t1-t0) > ut || math.Abs(w1-w0) > uw
}

// Grown reports whether any side of b is larger than in s by more than the
// calliper's error (mm).
func (s Section) Grown(b Section, calliper unit.Millimetre) bool {
	t0, w0 := s.sides()
	t1, w1 := b.sides()
	ut, uw := s.sideErrors(calliper)
	return t1 > t0+ut || w1 > w0+uw
}

// CheckChange refuses a change that no tool makes: sections that cannot be
// compared (ErrShape), or growth in every direction beyond the calliper's error
// (ErrGrew). A closed ring may grow in both sides when its diameter shrinks.
func (s Section) CheckChange(b Section, calliper unit.Millimetre) error {
	if !s.Comparable(b) {
		return fmt.Errorf("%v and %v %w", s, b, ErrShape)
	}
	t0, w0 := s.sides()
	t1, w1 := b.sides()
	ut, uw := s.sideErrors(calliper)
	shrunk := s.Shape == unit.Ring && b.Diameter < s.Diameter
	if t1 > t0+ut && !shrunk && (w1 > w0+uw || s.Shape == unit.Sheet && !s.vessel()) {
		return fmt.Errorf("from %v to %v the section %w", s, b, ErrGrew)
	}
	return nil
}
