package stock

import (
	"fmt"
	"math"
	"time"

	"dullred/alloys/unit"
)

// Effort is what a way to the piece takes. It is reckoned by a plan; this
// package knows no passes and only sets two side by side.
type Effort struct {
	Heats int
	Time  time.Duration
}

// Against says in a sentence what casting near the shape saves or costs beside
// drawing it from stock bar.
func (near Effort) Against(drawn Effort) string {
	return fmt.Sprintf("cast near the shape: %d heats, %.1f h; from stock bar: %d heats, %.1f h",
		near.Heats, near.Time.Hours(), drawn.Heats, drawn.Time.Hours())
}

// NearShape is the smallest bar of the usual make from which every section of
// the piece is reached without making any larger: a square of the largest area.
func (s Shape) NearShape() (side unit.Millimetre, where unit.Millimetre) {
	area, where := s.Largest(0, s.Length())
	return squareOf(area), where
}

// squareOf is the side of the square of an area.
func squareOf(a unit.SquareMillimetre) unit.Millimetre {
	return unit.Millimetre(math.Sqrt(float64(a)))
}
