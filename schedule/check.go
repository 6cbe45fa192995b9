package schedule

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// The most that is believed of one entry.
const (
	mostCount = 1000
	mostText  = 4096 // bytes of a note
	mostName  = 60   // bytes of a zone name
	mostZones = 64
)

// Plausible reports whether an instant can belong to a bench record: 1970 to 2199.
func Plausible(t time.Time) bool { return t.Year() >= 1970 && t.Year() < 2200 }

// checked is a body with something to check once it is read.
type checked interface{ check() error }

func (g Reading) check() error {
	if err := length("ring diameter", g.Ring); err != nil {
		return err
	}
	if g.Size == (unit.Size{}) {
		return nil
	}
	return g.Size.Check()
}

func (s Started) check() error {
	if s.Reading.Size.Shape == unit.Unshaped {
		return errors.New("a piece without a section")
	}
	return errors.Join(s.Reading.check(), length("length", s.Length), coldwork.CheckCalliper(s.Calliper),
		checkZones(s.Zones), checkText(s.Alloy), checkText(s.Limit), checkMark(s.Mark), checkMark(s.Stock))
}

func (p Pass) check() error {
	if p.Count < 1 || p.Count > mostCount {
		return fmt.Errorf("%d courses: expected 1 to %d", p.Count, mostCount)
	}
	if known, err := coldwork.ParseProcess(string(p.Process)); err != nil {
		return err
	} else if known != p.Process {
		return fmt.Errorf("process %q is written %q", p.Process, known) // under another name it would not be counted
	}
	if math.IsNaN(p.Turns) || math.Abs(p.Turns) > 10000 {
		return fmt.Errorf("%v turns is not believable", p.Turns)
	}
	return errors.Join(p.Reading.check(), length("radius", p.Radius), length("twisted length", p.Over), checkMark(p.Tool), p.shape())
}

// shape checks that a bend and a twist carry their own geometry, and no other does.
func (p Pass) shape() error {
	bend, twist := p.Radius > 0, p.Turns != 0 || p.Over > 0
	switch {
	case p.Process == coldwork.Bending && (!bend || twist):
		return errors.New("a bend needs an inside radius")
	case p.Process == coldwork.Twisting && (bend || p.Turns == 0 || p.Over == 0):
		return errors.New("a twist needs turns and the length they go over")
	case !p.Process.Shaped() && (bend || twist):
		return fmt.Errorf("a %s course has no radius and no turns", p.Process)
	}
	return nil
}

func (m Measured) check() error { return m.Reading.needed() }
func (f Filed) check() error    { return f.Reading.needed() }

func (g Reading) needed() error {
	if !g.Taken() {
		return errors.New("a reading without a figure")
	}
	return g.check()
}

func (n Note) check() error     { return checkText(n.Text) }
func (b Begun) check() error    { return errors.Join(temperature(b.Temp), checkMark(b.Torch)) }
func (l TorchLit) check() error { return checkMark(l.Torch) }
func (b Reached) check() error  { return temperature(b.Temp) }
func (b Out) check() error      { return temperature(b.Temp) }

// temperature refuses what no fire gives; 0 is absent.
func temperature(t unit.Celsius) error {
	if !(t >= unit.AbsoluteZero && t <= unit.MaxTemperature) {
		return fmt.Errorf("%v is not believable", t)
	}
	return nil
}

// length refuses what no bench measures; 0 is absent.
func length(what string, l unit.Millimetre) error {
	if l != 0 && !(l >= unit.MinLength && l <= unit.MaxLength) {
		return fmt.Errorf("a %s of %v is not believable", what, l)
	}
	return nil
}

func checkText(s string) error {
	if !utf8.ValidString(s) || len(s) > mostText {
		return fmt.Errorf("text that is not UTF-8 or over %d bytes", mostText)
	}
	return nil
}

// checkMark refuses a mark or another name that is none; an empty one is left out.
func checkMark(mark string) error {
	if mark == "" {
		return nil
	}
	if err := CheckName(mark); err != nil {
		return fmt.Errorf("name or mark: %w", err)
	}
	return nil
}

func checkZones(zones []string) error {
	if len(zones) > mostZones {
		return fmt.Errorf("%d zones: at most %d", len(zones), mostZones)
	}
	for i, z := range zones {
		if err := CheckName(z); err != nil {
			return fmt.Errorf("zone name: %w", err)
		}
		if slices.Contains(zones[:i], z) {
			return fmt.Errorf("zone %q is named twice", z)
		}
	}
	return nil
}

// CheckName refuses a name that is empty, too long, not UTF-8, blank at an end,
// or holds a character that does not print.
func CheckName(s string) error {
	switch {
	case s == "":
		return errors.New("empty")
	case len(s) > mostName:
		return fmt.Errorf("%.20q... is over %d bytes", s, mostName)
	case !utf8.ValidString(s):
		return fmt.Errorf("%q is not UTF-8", s)
	case strings.TrimSpace(s) != s:
		return fmt.Errorf("%q has a blank at an end", s)
	case strings.ContainsFunc(s, func(r rune) bool { return !unicode.IsPrint(r) }):
		return fmt.Errorf("%q holds a character that does not print", s)
	}
	return nil
}
