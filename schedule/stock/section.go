package stock

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"dullred/alloys/unit"
)

// Kind says what a section of a finished piece looks like. The zero Kind is
// unknown and has no area.
type Kind uint8

// The kinds of section.
const (
	Unknown     Kind = iota
	Rectangular      // width x thickness
	Square           // one side
	Round            // diameter
	D                // flat below and round above, the half round of the trade: width x height
	Lozenge          // a square or flat rhomb on its corner: width x thickness, corner to corner
)

// word is what stands behind the numbers.
func (k Kind) word() string {
	return map[Kind]string{Square: " square", Round: " round", D: " D", Lozenge: " lozenge"}[k]
}

// String names the kind in a word.
func (k Kind) String() string {
	switch k {
	case Unknown:
		return "unknown"
	case Rectangular:
		return "rectangular"
	}
	return strings.TrimSpace(k.word())
}

// fill is the share of its box that a section fills. A D is taken as half an
// ellipse, π/4, which is exact for half a circle. The segment of a larger circle
// fills less, down to 2/3 when it is very flat, so that its metal is overstated
// by less than a fifth; a high D with straight sides below fills more.
func (k Kind) fill() float64 {
	switch k {
	case Rectangular, Square:
		return 1
	case Round, D:
		return math.Pi / 4
	case Lozenge:
		return 0.5
	}
	return 0
}

// box says whether the section is a square or a rectangle, between which a
// straight taper is no change of kind.
func (k Kind) box() bool { return k == Rectangular || k == Square }

// tapers says whether a straight taper leads from one kind to the other.
func (k Kind) tapers(to Kind) bool { return k == to || k.box() && to.box() }

// Section is a cross-section of a finished piece. Width is seen from above and
// Thick from the side, in mm; a square and a round have both alike.
type Section struct {
	Kind  Kind
	Width unit.Millimetre
	Thick unit.Millimetre
}

// Area is the area in mm², 0 for an unknown section.
func (s Section) Area() unit.SquareMillimetre {
	return unit.SquareMillimetre(s.Kind.fill() * float64(s.Width) * float64(s.Thick))
}

// Size is the section as a calliper reads it: thickness x width. It is false for
// a D and a lozenge, which alloys/unit does not know.
func (s Section) Size() (unit.Size, bool) {
	switch s.Kind {
	case Rectangular:
		return unit.Size{Shape: unit.Rectangular, Thick: s.Thick, Width: s.Width}, true
	case Square:
		return unit.Size{Shape: unit.Square, Thick: s.Thick, Width: s.Thick}, true
	case Round:
		return unit.Size{Shape: unit.Round, Diameter: s.Thick}, true
	}
	return unit.Size{}, false
}

// String prints the shortest text that ParseSection reads back to the same
// section, such as "18x3", "4 round" or "6x3 D".
func (s Section) String() string {
	if s.Kind == Square || s.Kind == Round {
		return plain(s.Width) + s.Kind.word()
	}
	return plain(s.Width) + "x" + plain(s.Thick) + s.Kind.word()
}

// Short prints the section to 0.1 mm, for a label.
func (s Section) Short() string {
	s.Width, s.Thick = tenth(s.Width), tenth(s.Thick)
	return s.String()
}

func plain(l unit.Millimetre) string { return strconv.FormatFloat(float64(l), 'f', -1, 64) }

func tenth(l unit.Millimetre) unit.Millimetre {
	if r := unit.Millimetre(math.Round(float64(l)*10) / 10); r > 0 {
		return r
	}
	return l
}

// check guards a section that was not typed.
func (s Section) check() error {
	if s.Kind == Unknown || s.Kind > Lozenge {
		return fmt.Errorf("%v has no kind of section", s)
	}
	for _, l := range []unit.Millimetre{s.Width, s.Thick} {
		if !(l >= unit.MinLength && l <= unit.MaxLength) {
			return fmt.Errorf("%v has a side that is not from 0.001 mm to 100 m", s)
		}
	}
	if (s.Kind == Square || s.Kind == Round) && s.Width != s.Thick {
		return fmt.Errorf("%v has one size, not two", s.Kind)
	}
	return nil
}

// own are the sections that alloys/unit does not read: two numbers and a word.
var own = pattern(`(?i)^(.*(?:[0-9\s]|mm|cm|in|"))(half[- ]?round|lozenge|d)$`)

// ParseSection reads a section such as 18x3 (width x thickness), 8 square, 4
// round, 6x3 D or 7x5 lozenge, with the numbers and units of unit.ParseSize. One
// number before D is half a circle: 6 D is 6x3 D.
func ParseSection(text string) (Section, error) {
	text = strings.TrimSpace(text)
	if m := own().FindStringSubmatch(text); m != nil {
		return parseOwn(m[1], strings.ToLower(m[2]))
	}
	z, err := unit.ParseSize(text, unit.Unshaped)
	if err != nil {
		return Section{}, err
	}
	switch z.Shape {
	case unit.Rectangular:
		return Section{Rectangular, z.Thick, z.Width}, nil // in the order of typing
	case unit.Square:
		return Section{Square, z.Thick, z.Thick}, nil
	case unit.Round:
		return Section{Round, z.Diameter, z.Diameter}, nil
	}
	return Section{}, fmt.Errorf("%.40q: expected a solid section such as 18x3, 8 square, 4 round, 6x3 D or 7x5 lozenge", text)
}

func parseOwn(numbers, word string) (Section, error) {
	z, err := unit.ParseSize(numbers, unit.Square)
	if err != nil {
		return Section{}, err
	}
	s := Section{D, z.Thick, z.Width}
	if word == "lozenge" {
		s.Kind = Lozenge
	}
	switch {
	case z.Shape == unit.Square && s.Kind == D:
		s.Thick /= 2
	case z.Shape != unit.Rectangular:
		return Section{}, fmt.Errorf("%.40q: expected two numbers before %v, such as 6x3 %v", numbers+word, s.Kind, s.Kind)
	}
	return s, s.check()
}
