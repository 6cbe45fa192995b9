package stock

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"dullred/alloys/unit"
)

// Ring is a ring or a bangle of one section, closed or with a gap, in mm.
type Ring struct {
	Inside, Thick, Width unit.Millimetre
	Gap                  unit.Millimetre // 0 for closed
}

// The trade adds to the blank of a wide ring (common practice of craft pages).
const (
	WideRing unit.Millimetre = 4   // wider than this
	WideAdds unit.Millimetre = 0.5 // this much
)

// Blank is the length of the bar in mm, at mid-thickness: π (inside + thickness)
// less the gap. That the middle of the thickness keeps its length in bending is
// assumed.
func (r Ring) Blank() unit.Millimetre {
	return unit.Millimetre(math.Pi*float64(r.Inside+r.Thick)) - r.Gap
}

// TradeBlank is Blank with what the trade adds to a wide ring.
func (r Ring) TradeBlank() unit.Millimetre {
	if r.Width > WideRing {
		return r.Blank() + WideAdds
	}
	return r.Blank()
}

// Check refuses a gap that leaves nothing, or less than nothing.
func (r Ring) Check() error {
	z := unit.Size{Shape: unit.Ring, Diameter: r.Inside, Thick: r.Thick, Width: r.Width}
	switch err := z.Check(); {
	case err != nil:
		return err
	case !(r.Gap >= 0):
		return fmt.Errorf("a gap of %v is no gap", r.Gap)
	case r.Blank() < unit.MinLength:
		return fmt.Errorf("a gap of %v leaves nothing of a ring %v round", r.Gap, roundTo(r.Blank()+r.Gap))
	}
	return nil
}

func roundTo(l unit.Millimetre) unit.Millimetre {
	return unit.Millimetre(math.Round(float64(l)*100) / 100)
}

// Shape is the blank as a shape.
func (r Ring) Shape() Shape {
	s := Section{Rectangular, r.Width, r.Thick}
	return Shape{Stations: []Station{{0, s}, {r.Blank(), s}}}
}

// GapOf is the gap left when a piece is bent round an inside diameter, at half
// its greatest thickness; it is negative where the ends would pass each other.
func (s Shape) GapOf(inside unit.Millimetre) unit.Millimetre {
	return Ring{Inside: inside, Thick: s.thickest()}.Blank() - s.Length()
}

func (s Shape) thickest() (t unit.Millimetre) {
	for _, st := range s.Stations {
		t = max(t, st.Section.Thick)
	}
	return t
}

// ringSize is the size of a finger ring and its band. Both scales are from
// memory of the standards: the number of ISO 8653 is the inside circumference in
// mm; size n of the United States is 0.458 + 0.032 n inches across.
var ringSize = pattern(`(?i)^\s*(iso|us)\s*([0-9]+(?:[.,][0-9]+)?)\s*[x×*]\s*(.+)$`)

// ParseRing reads a ring as INSIDExTHICKNESSxWIDTH, such as 62x3x8; the inside
// may be a ring size: iso 54 x1.5x4 or us 7 x1.5x4.
func ParseRing(text string) (Ring, error) {
	if m := ringSize().FindStringSubmatch(text); m != nil {
		return sizedRing(text, m)
	}
	z, err := unit.ParseSize(text, unit.Ring)
	if err != nil {
		return Ring{}, err
	}
	if z.Shape != unit.Ring {
		return Ring{}, fmt.Errorf("ring %.40q: expected inside diameter x thickness x width, such as 62x3x8", text)
	}
	return Ring{Inside: z.Diameter, Thick: z.Thick, Width: z.Width}, nil
}

func sizedRing(text string, m []string) (Ring, error) {
	n, err := strconv.ParseFloat(strings.Replace(m[2], ",", ".", 1), 64)
	z, errBand := unit.ParseSize(m[3], unit.Unshaped)
	if err != nil || errBand != nil || z.Shape != unit.Rectangular {
		return Ring{}, fmt.Errorf("ring %.40q: expected a size, thickness and width, such as iso 54 x1.5x4", text)
	}
	r := Ring{Inside: unit.Millimetre(n / math.Pi), Thick: z.Thick, Width: z.Width}
	if strings.EqualFold(m[1], "us") {
		r.Inside = unit.Millimetre(25.4 * (0.458 + 0.032*n))
	}
	if r.Inside < 5 || r.Inside > 40 {
		return Ring{}, fmt.Errorf("ring %.40q: no finger is %v across, expected a size such as iso 54 or us 7", text, roundTo(r.Inside))
	}
	return r, nil
}
