package stock

import (
	"fmt"
	"math"
	"strings"

	"dullred/alloys/unit"
)

// BowlForm is the form of a bowl raised or sunk from a disc.
type BowlForm string

// The forms.
const (
	FlatBottomed  BowlForm = "flat-bottomed" // straight upright wall
	Hemispherical BowlForm = "hemispherical" // a cap of a sphere, half of one at the deepest that is usual
	Conical       BowlForm = "conical"       // to a point
)

// Bowl is a bowl by its mouth and height in mm, measured at the middle of the wall.
type Bowl struct {
	Form             BowlForm
	Diameter, Height unit.Millimetre
}

// ParseBowl reads a bowl as FORM DIAMETERxHEIGHT, such as hemispherical 100x50.
func ParseBowl(text string) (Bowl, error) {
	words := strings.Fields(strings.ToLower(text))
	for _, f := range []BowlForm{FlatBottomed, Hemispherical, Conical} {
		if len(words) < 2 || words[0] != string(f) {
			continue
		}
		z, err := unit.ParseSize(strings.Join(words[1:], " "), unit.Unshaped)
		if err != nil {
			return Bowl{}, err
		}
		if z.Shape == unit.Rectangular {
			return Bowl{f, z.Thick, z.Width}, nil
		}
	}
	return Bowl{}, fmt.Errorf("bowl %.40q: expected flat-bottomed, hemispherical or conical and DIAMETERxHEIGHT, such as hemispherical 100x50", text)
}

// String prints a bowl as ParseBowl reads it.
func (b Bowl) String() string {
	return fmt.Sprintf("%s %gx%g", b.Form, float64(b.Diameter), float64(b.Height))
}

// Check refuses a bowl without a known form or without a size.
func (b Bowl) Check() error {
	_, err := ParseBowl(b.String())
	return err
}

// Area is the area of one side of the wall and bottom, in mm²: π/4 d² + π d h
// for the flat-bottomed, π (r² + h²) for the cap, π r √(r² + h²) for the cone.
func (b Bowl) Area() unit.SquareMillimetre {
	d, r, h := float64(b.Diameter), float64(b.Diameter)/2, float64(b.Height)
	switch b.Form {
	case FlatBottomed:
		return unit.SquareMillimetre(math.Pi * (r*r + d*h))
	case Hemispherical:
		return unit.SquareMillimetre(math.Pi * (r*r + h*h))
	case Conical:
		return unit.SquareMillimetre(math.Pi * r * math.Hypot(r, h))
	}
	return 0
}

// Disc is the diameter of the disc of equal area, in mm: right where the metal
// keeps its thickness.
func (b Bowl) Disc() unit.Millimetre {
	return unit.Millimetre(2 * math.Sqrt(float64(b.Area())/math.Pi))
}

// RuleDisc is the diameter by the rule of the bench, mouth and height added
// (common practice, from memory). It knows nothing of the form.
func (b Bowl) RuleDisc() unit.Millimetre { return b.Diameter + b.Height }
