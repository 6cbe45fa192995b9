package unit

import "errors"

// Shape says how a cross-section is measured.
type Shape uint8

// The shapes a calliper meets. The zero Shape is unknown and has no area.
const (
	Unshaped    Shape = iota
	Rectangular       // thickness x width, two readings
	Square            // one reading serves for both sides
	Round             // diameter
	Sheet             // thickness only; the width is not followed
	Tube              // outside diameter and wall
	Ring              // a closed band: inside diameter, thickness, width
)

// String is the word that names the shape in a typed size, or "unshaped".
func (s Shape) String() string {
	switch s {
	case Rectangular:
		return "rectangular"
	case Square:
		return "square"
	case Round:
		return "round"
	case Sheet:
		return "sheet"
	case Tube:
		return "tube"
	case Ring:
		return "ring"
	}
	return "unshaped"
}

// example is a size of the shape, for errors.
func (s Shape) example() string {
	switch s {
	case Tube:
		return "12x1 tube (outside diameter x wall)"
	case Ring:
		return "62x3x8 ring (inside diameter x thickness x width)"
	case Rectangular:
		return "8x6.5"
	}
	return "3 " + s.String()
}

// shapes are the words and signs that name a shape, before or behind the numbers.
var shapes = map[string]Shape{
	"rectangular": Rectangular,
	"square":      Square,
	"round":       Round, "dia": Round, "diameter": Round, "ø": Round,
	"sheet": Sheet,
	"tube":  Tube,
	"ring":  Ring,
}

// ShapeNamed is the shape that a word names, the inverse of String; it is
// Unshaped for any other text.
func ShapeNamed(word string) Shape { return shapes[word] }

// count is how many measures are typed for the shape.
func (s Shape) count() int { return len((&Size{Shape: s}).measures()) }

var (
	errShapeless = errors.New("expected the word round, square or sheet with a single number, such as 3 round")
	errRing      = errors.New("expected the word ring with three numbers, such as 62x3x8 ring")
)

// implied is the shape of n numbers with no word.
func implied(n int, like Shape) (Shape, error) {
	switch {
	case n == 2:
		return Rectangular, nil
	case n == like.count():
		return like, nil
	case n == 1:
		return Unshaped, errShapeless
	case n == 3:
		return Unshaped, errRing
	}
	return Unshaped, errSize
}
