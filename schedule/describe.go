package schedule

import (
	"cmp"
	"fmt"
	"strings"

	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// Handle is the short form of an entry's id, enough to void it by.
func (e Entry) Handle() string {
	id := string(e.ID)
	return id[max(0, len(id)-8):]
}

// Describe is the entry in a few words, without its time.
func (e Entry) Describe() string {
	text := string(e.Kind())
	if detail := detail(e.Body); detail != "" {
		text += ": " + detail
	}
	if len(e.Zones) > 0 {
		text += " (" + strings.Join(e.Zones, ", ") + ")"
	}
	return text
}

// detailed is a body with more to say than one of its fields.
type detailed interface{ detail() string }

func detail(b Body) string {
	switch b := b.(type) {
	case detailed:
		return b.detail()
	case Measured:
		return b.Reading.String()
	case Filed:
		return b.Reading.String()
	case Reached:
		return temp(b.Temp)
	case Out:
		return temp(b.Temp)
	case Shown:
		return fmt.Sprintf("%v, %s, %.0f %% of the limit spent", b.Verdict, b.Zone, 100*b.Spent)
	case Raised:
		return cmp.Or(b.What, b.Verdict.String())
	case Note:
		return b.Text
	case Photo:
		return b.Ref
	case Signalled:
		return string(b.Sign)
	case Lit:
		return string(b.Room)
	case TorchLit:
		return fire(b.Torch, b.Brick)
	case ClockStep:
		return b.String()
	case Void:
		return Entry{ID: b.Target}.Handle()
	case Unknown:
		return b.Why
	}
	return ""
}

func (s Started) detail() string {
	text := s.Alloy + " " + s.Reading.String()
	if s.Length > 0 {
		text += ", " + s.Length.String() + " long"
	}
	if s.Cast {
		text += ", as cast"
	}
	if s.Limit != "" {
		text += ", limit " + s.Limit
	}
	if s.Stock != "" {
		text += ", of " + s.Stock
	}
	if s.Mark != "" {
		text += ", marked " + s.Mark
	}
	return text
}

func (p Pass) detail() string {
	text := string(p.Process)
	if p.Count > 1 {
		text += fmt.Sprintf(", %d courses", p.Count)
	}
	switch {
	case p.Process == coldwork.Bending:
		text += fmt.Sprintf(" to an inside radius of %v", p.Radius)
	case p.Process == coldwork.Twisting:
		text += fmt.Sprintf(" of %g turns over %v", p.Turns, p.Over)
	}
	if p.Reading.Taken() {
		text += " to " + p.Reading.String()
	}
	if p.Tool != "" {
		text += ", with " + p.Tool
	}
	return text
}

// String is the reading as it is typed.
func (g Reading) String() string {
	var parts []string
	if g.Size.Shape != unit.Unshaped {
		parts = append(parts, g.Size.String())
	}
	if g.Ring > 0 {
		parts = append(parts, "ring "+g.Ring.String())
	}
	return strings.Join(parts, ", ")
}

func temp(t unit.Celsius) string {
	if t == 0 {
		return ""
	}
	return t.String()
}

func (b Begun) detail() string {
	var parts []string
	if b.Temp != 0 {
		parts = append(parts, temp(b.Temp))
	}
	if f := fire(b.Torch, b.Brick); f != "" {
		parts = append(parts, f)
	}
	return strings.Join(parts, ", ")
}

// fire is a torch and hearth in words; empty when nothing is told of them.
func fire(torch string, brick bool) string {
	if !brick {
		return torch
	}
	return strings.TrimPrefix(torch+" on hot brick", " ")
}
