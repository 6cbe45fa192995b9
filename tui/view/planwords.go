package view

import (
	"fmt"
	"strings"

	"dullred/schedule"
)

// stepWords are which zones the step is for and where on the plan it is; or how a
// piece without a plan gets one.
func stepWords(p *Piece) string {
	if p.Plan == nil {
		return fmt.Sprintf(`It gets one with: dullred plan "%s" --shape "0:6x3 95:18x3 190:6x3"`, p.Name)
	}
	step, left := p.Plan.Step()
	if !left {
		return "the shape " + p.Plan.Plan.Job.Made()
	}
	at := fmt.Sprintf("step %d of %d", p.Plan.At+1, len(p.Plan.Plan.Steps))
	if leads(p) || p.Plan.Lost != "" {
		return at + " of the plan: " + step.Title()
	}
	zone := step.Zone
	if zone == schedule.Whole {
		zone = "whole piece"
	}
	return strings.Join(some(strings.ToUpper(zone), at, coursesOf(step)), " - ")
}

// coursesOf is what a step of hammering is expected to take.
func coursesOf(s schedule.PlanStep) string {
	if s.Act != schedule.DoPass {
		return ""
	}
	text := fmt.Sprintf("to %.0f %% of limit", 100*s.LimitSpent)
	switch s.Courses {
	case 0:
		return text
	case 1:
		return "1 course " + text
	}
	return fmt.Sprintf("%d courses %s", s.Courses, text)
}

// underWords are the next step of a state that leads, else why the plan is lost, else
// the difference from what was measured.
func underWords(p *Piece) string {
	if leads(p) {
		return sentence(p.Advice.Next)
	}
	if p.Plan != nil && p.Plan.Lost != "" {
		return sentence(changeWords(p.Plan))
	}
	if p.Plan == nil {
		return "The shape is PLACE:WIDTHxTHICKNESS along the piece, in mm."
	}
	return differences(p.Plan)
}

// differences are how far each zone is from the stop, those alike told together.
func differences(p *PlanView) string {
	var order []string
	zones := map[string][]string{}
	for _, t := range p.ToGo {
		text := nowOrRead(p, schedule.StopText(t.Now)) + ": " + strings.TrimPrefix(t.Text(), t.Zone+" ")
		if zones[text] == nil {
			order = append(order, text)
		}
		zones[text] = append(zones[text], t.Zone)
	}
	if len(order) == 1 {
		return order[0]
	}
	for i, text := range order {
		order[i] = strings.Join(zones[text], " and ") + " " + text
	}
	return strings.Join(order, "; ")
}

// nowOrRead is a size, and that it is older than the last courses where it is.
func nowOrRead(p *PlanView, size string) string {
	switch p.Unread {
	case 0:
		return "now " + size
	case 1:
		return size + " before 1 course that is not read"
	}
	return fmt.Sprintf("%s before %d courses that are not read", size, p.Unread)
}

// changeWords are what became of the plan.
func changeWords(p *PlanView) string {
	switch {
	case p.Lost != "":
		return "the plan is lost: " + p.Lost
	case p.Changed != "":
		return "planned again: " + p.Changed
	}
	return ""
}

// changeUnder is the same as a sentence, where it does not stand under the figure.
func changeUnder(p *Piece) string {
	if p.Plan == nil || p.Plan.Lost != "" && !leads(p) {
		return ""
	}
	return sentence(changeWords(p.Plan))
}

// stepText is what else to mind at the present step.
func stepText(p *PlanView) string {
	step, _ := p.Step()
	return step.Text
}
