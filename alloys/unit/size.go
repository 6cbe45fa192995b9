package unit

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// Size is a cross-section as a person types it. Which fields count depends on
// Shape; the others are zero. Rectangular readings keep the order in which they
// were typed, so the same side is always compared with itself.
type Size struct {
	Shape    Shape
	Thick    Millimetre // Rectangular, Square, Sheet, Ring: thickness; Tube: wall
	Width    Millimetre // Rectangular, Ring: width; Square: equal to Thick
	Diameter Millimetre // Round, Tube: outside; Ring: inside
}

// measures points at the fields that are typed, in the order of typing.
func (z *Size) measures() []*Millimetre {
	switch z.Shape {
	case Rectangular:
		return []*Millimetre{&z.Thick, &z.Width}
	case Square, Sheet:
		return []*Millimetre{&z.Thick}
	case Round:
		return []*Millimetre{&z.Diameter}
	case Tube:
		return []*Millimetre{&z.Diameter, &z.Thick}
	case Ring:
		return []*Millimetre{&z.Diameter, &z.Thick, &z.Width}
	}
	return nil
}

// newSize fills the measures in; there must be as many as the shape takes.
func newSize(shape Shape, values []Millimetre) Size {
	z := Size{Shape: shape}
	for i, field := range z.measures() {
		*field = values[i]
	}
	if shape == Square {
		z.Width = z.Thick
	}
	return z
}

// values are the measures in the order of typing.
func (z Size) values() []Millimetre {
	var out []Millimetre
	for _, field := range z.measures() {
		out = append(out, *field)
	}
	return out
}

// Valid reports whether Check finds nothing.
func (z Size) Valid() bool { return z.Check() == nil }

// Check verifies a size that was not typed: it has a shape, every measure is
// finite and within MinLength to MaxLength, the fields that its shape does not
// use are zero, and the wall of a tube is below half its outside diameter.
func (z Size) Check() error {
	values := z.values()
	if len(values) == 0 {
		return errors.New("size has no shape")
	}
	for _, l := range values {
		if err := l.check(); err != nil {
			return err
		}
	}
	if z != newSize(z.Shape, values) {
		return fmt.Errorf("%v has a measure that its shape does not use", z)
	}
	if z.Shape == Tube && z.Thick >= z.Diameter/2 {
		return fmt.Errorf("wall %v is not below half the outside diameter %v", z.Thick, z.Diameter)
	}
	return nil
}

// String prints the shortest text that ParseSize reads back to the same size,
// such as "6.4x7.2 mm", "3 mm round" or "62x3x8 mm ring". It is "unshaped"
// without a shape.
func (z Size) String() string {
	if z.Shape.count() == 0 {
		return z.Shape.String()
	}
	var text []string
	for _, l := range z.values() {
		text = append(text, strconv.FormatFloat(float64(l), 'f', -1, 64))
	}
	out := strings.Join(text, "x") + " mm"
	if z.Shape == Rectangular {
		return out
	}
	return out + " " + z.Shape.String()
}

var errSize = errors.New("expected a size such as 8x8, 8 x 6.5mm, 3 round, 1.2 sheet or 20ga round")

// ParseSize reads a cross-section such as 8x8, 8 x 6.5mm, 0.5in x 8mm, ø3, round
// 3, 3 dia, 8 square, 1.2 sheet, 20ga round, tube 12x1 (outside diameter x
// wall) or 62x3x8 ring (inside diameter x thickness x width).
//
// The shape word stands first or last. Two numbers with no word are
// Rectangular. One number with no word takes the shape like, when that is
// Round, Square or Sheet; three take it when it is Ring. Words in the text
// always win over like.
//
// Numbers are lengths as in ParseLength. A single unit behind the last number
// holds for all, but a gauge only for its own. Otherwise a number with no unit
// is in mm, and is refused beside one that is not: 0.5in x 0.25 is not guessed.
func ParseSize(s string, like Shape) (Size, error) {
	return parse(s, func(words []string) (Size, error) { return readSize(words, like) })
}

func readSize(words []string, like Shape) (Size, error) {
	shape, words := affix(words, shapes)
	values, err := readMeasures(words)
	if err != nil {
		return Size{}, err
	}
	if shape == Unshaped {
		shape, err = implied(len(values), like)
	}
	if err != nil {
		return Size{}, err
	}
	if len(values) != shape.count() {
		return Size{}, fmt.Errorf("expected a %v size such as %s", shape, shape.example())
	}
	z := newSize(shape, values)
	return z, z.Check()
}
