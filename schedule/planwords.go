package schedule

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// StopText is a size as a calliper is set to it, in mm without the unit: 7.5x7.5,
// 2 round, ring 141. It is empty for one that is not known.
func StopText(z unit.Size) string {
	switch {
	case z.Shape == unit.Unshaped:
		return ""
	case isVessel(coldwork.Section(z)):
		return fmt.Sprintf("ring %g", math.Round(100*float64(z.Diameter))/100)
	}
	for _, l := range []*unit.Millimetre{&z.Thick, &z.Width, &z.Diameter} {
		*l = unit.Millimetre(math.Round(float64(*l)*100) / 100)
	}
	return strings.Replace(z.String(), " mm", "", 1)
}

// Stop is the size where a step stops; empty where none is read.
func (s PlanStep) Stop() string { return StopText(s.StopAt) }

// Word is what to do in one word: a process, or the act.
func (s PlanStep) Word() string {
	if s.Act == DoPass {
		return string(s.Process)
	}
	return string(s.Act)
}

// Title is what to do, with which zone, and the size to stop at.
func (s PlanStep) Title() string {
	text := strings.ToUpper(s.Word()) + " " + s.Zone
	if stop := s.Stop(); stop != "" {
		text += ", STOP AT " + stop
	}
	return text
}

// Line is the whole step in words, what to do first.
func (s PlanStep) Line() string {
	text := s.Title()
	switch s.Act {
	case DoAnneal:
		if s.High > 0 {
			text += " at " + span(float64(s.Low), float64(s.High), "°C")
		} else {
			text += ": no heat is published"
		}
	case DoPass:
		if s.Turns > 0 {
			text += fmt.Sprintf(": %.0f %% of the limit", 100*s.LimitSpent) + s.hardness()
			break
		}
		text += fmt.Sprintf(", %s: %.0f %% of the limit", count(s.Courses, "course"), 100*s.LimitSpent) + s.hardness()
	case DoBend:
		text += fmt.Sprintf(": %.0f %% of the limit", 100*s.LimitSpent) + s.hardness()
	}
	if s.Text != "" {
		text += "; " + s.Text
	}
	return text
}

func (s PlanStep) hardness() string {
	if !s.Hardness.OK {
		return ""
	}
	return fmt.Sprintf(", %.0f to %.0f HV", s.Hardness.Low, s.Hardness.High)
}

// Text is the difference from what was measured: "0.5 mm to go".
func (t ToGo) Text() string {
	switch {
	case t.Thick > 0.05:
		return fmt.Sprintf("%.1f mm to go", float64(t.Thick))
	case t.Wide > 0.05:
		return fmt.Sprintf("%.1f mm to go in width", float64(t.Wide))
	case t.Thick < -0.05:
		return fmt.Sprintf("%.1f mm too thin", -float64(t.Thick))
	}
	return "there"
}

// Left is the difference for the zones of the next step: once where they are alike,
// else zone by zone.
func (f Following) Left() string {
	var each []string
	for _, t := range f.ToGo {
		each = append(each, t.Text())
	}
	if len(each) == 0 || len(slices.Compact(slices.Clone(each))) == 1 {
		return strings.Join(each[:min(1, len(each))], "")
	}
	for i, t := range f.ToGo {
		each[i] = t.Zone + " " + each[i]
	}
	return inWords(each)
}

// Text is where a piece stands on its plan, in one line, what to do first.
func (f Following) Text() string {
	n := len(f.Plan.Steps)
	s, ok := f.Step()
	if !ok {
		return fmt.Sprintf("all %s done: the shape is reached", count(n, "step"))
	}
	text := fmt.Sprintf("%s (step %d of %d)", s.Title(), f.At+1, n)
	if left := f.Left(); left != "" {
		text += ": " + left
	}
	if f.Changed != "" {
		text += "; planned again: " + f.Changed
	}
	if f.Lost != "" {
		text += "; the plan is lost, so plan a smaller shape: " + f.Lost
	}
	return text
}
