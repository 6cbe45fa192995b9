package stock

import (
	"fmt"
	"math"
	"strings"

	"dullred/alloys/unit"
)

// End is an end of a piece.
type End uint8

// The ends. The zero End is the start, at 0 mm.
const (
	Start End = iota
	Finish
)

// String is the end as it is typed behind @.
func (e End) String() string {
	if e == Finish {
		return "end"
	}
	return "0"
}

// Tang is an end that is drawn out to round wire, beyond the last station.
type Tang struct {
	End      End
	Diameter unit.Millimetre
	Length   unit.Millimetre
}

// String prints the tang as ParseTang reads it, such as "2x120@end".
func (t Tang) String() string {
	return plain(t.Diameter) + "x" + plain(t.Length) + "@" + t.End.String()
}

// Wire is the section it is drawn to.
func (t Tang) Wire() Section { return Section{Round, t.Diameter, t.Diameter} }

// Volume is π/4 d² L in mm³.
func (t Tang) Volume() unit.CubicMillimetre {
	return unit.CubicMillimetre(math.Pi / 4 * float64(t.Diameter*t.Diameter) * float64(t.Length))
}

// Needs is how many mm of a section are drawn out to make the tang: its volume
// over the area. It is 0 for a section with no area.
func (t Tang) Needs(from Section) unit.Millimetre {
	if from.Area() <= 0 {
		return 0
	}
	return unit.Millimetre(float64(t.Volume()) / float64(from.Area()))
}

// EndSection is the section at an end, from which its tang is drawn.
func (s Shape) EndSection(e End) Section {
	switch {
	case len(s.Stations) == 0:
		return Section{}
	case e == Start:
		return s.Stations[0].Section
	}
	return s.Stations[len(s.Stations)-1].Section
}

func (s Shape) checkTangs() error {
	taken := map[End]bool{}
	for _, t := range s.Tangs {
		from := s.EndSection(t.End)
		err := t.Wire().check()
		switch {
		case err != nil:
			return err
		case t.End > Finish || taken[t.End]:
			return fmt.Errorf("a tang %v is one too many, expected one at each end", t)
		case !(t.Length >= unit.MinLength && t.Length <= unit.MaxLength):
			return fmt.Errorf("a tang %v has no length from 0.001 mm to 100 m", t)
		case t.Wire().Area() > from.Area():
			return fmt.Errorf("a tang %v cannot be drawn from %v: the wire has %v and the end %v", t, from, t.Wire().Area(), from.Area())
		}
		taken[t.End] = true
	}
	return nil
}

// WithTang adds a tang that was typed: 2x120 (diameter x length), 2x120@0 or
// 2x120@end. One that names no end takes the start if that is free.
func (s Shape) WithTang(text string) (Shape, error) {
	t, placed, err := parseTang(text)
	if err != nil {
		return s, err
	}
	if !placed && len(s.Tangs) > 0 && s.Tangs[0].End == Start {
		t.End = Finish
	}
	s.Tangs = append(s.Tangs[:len(s.Tangs):len(s.Tangs)], t)
	if err := s.checkTangs(); err != nil {
		return s, fmt.Errorf("%.40q: %w", text, err)
	}
	return s, nil
}

var placedAt = pattern(`(?i)^(.*)@\s*(0|start|end)\s*$`)

// ParseTang reads a tang such as 2x120@0 or 2x120@end; one that names no end is
// at the start.
func ParseTang(text string) (Tang, error) {
	t, _, err := parseTang(text)
	return t, err
}

func parseTang(text string) (t Tang, placed bool, err error) {
	wire := text
	if m := placedAt().FindStringSubmatch(text); m != nil {
		wire, placed = m[1], true
		if strings.EqualFold(m[2], "end") {
			t.End = Finish
		}
	}
	z, err := unit.ParseSize(wire, unit.Unshaped)
	if err != nil || z.Shape != unit.Rectangular {
		return Tang{}, false, fmt.Errorf("%.40q: expected a tang as diameter x length, such as 2x120, 2x120@0 or 2x120@end", text)
	}
	t.Diameter, t.Length = z.Thick, z.Width
	return t, placed, nil
}
