package main

import (
	"fmt"
	"strings"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
)

// planJSON holds fractions 0..1. What nobody published, and what a step does not
// have, is absent.
type planJSON struct {
	Anneals int            `json:"anneals"`
	Steps   []planStepJSON `json:"steps"`
	Minutes float64        `json:"minutes"` // of the steps that are timed
	Against *nearJSON      `json:"against,omitempty"`
}

type planStepJSON struct {
	Act     string   `json:"act"`
	Zone    string   `json:"zone"`
	Process string   `json:"process,omitempty"`
	StopAt  string   `json:"stop_at,omitempty"`
	Worked  float64  `json:"worked"`
	Spent   float64  `json:"limit_spent"`
	HVLow   *float64 `json:"hardness_hv_low,omitempty"`
	HVHigh  *float64 `json:"hardness_hv_high,omitempty"`
	Courses *int     `json:"courses,omitempty"`
	Low     *float64 `json:"anneal_low_c,omitempty"`
	High    *float64 `json:"anneal_high_c,omitempty"`
	Minutes *float64 `json:"minutes,omitempty"`
}

func planJSONOf(p schedule.Plan) planJSON {
	j := planJSON{Anneals: p.Anneals, Steps: []planStepJSON{}, Minutes: figure(p.Minutes)}
	for _, s := range p.Steps {
		step := planStepJSON{Act: string(s.Act), Zone: s.Zone, Process: string(s.Process), StopAt: s.Stop(),
			Worked: figure(float64(s.Worked)), Spent: figure(s.LimitSpent)}
		if s.Hardness.OK {
			step.HVLow, step.HVHigh = new(figure(s.Hardness.Low)), new(figure(s.Hardness.High))
		}
		if s.Courses > 0 {
			step.Courses = &s.Courses
		}
		if s.High > 0 {
			step.Low, step.High = new(figure(float64(s.Low))), new(figure(float64(s.High)))
		}
		if s.Minutes > 0 {
			step.Minutes = new(figure(s.Minutes))
		}
		j.Steps = append(j.Steps, step)
	}
	return j
}

// planText is a plan as a list; with where a piece stands on it, its steps are
// marked.
func planText(p schedule.Plan, on *schedule.Following) string {
	var b strings.Builder
	bar := "bar " + schedule.StopText(p.Job.Bar)
	if p.Job.Bar.Shape == unit.Sheet {
		bar = fmt.Sprintf("disc %v thick and %v across", p.Job.Bar.Thick, p.Job.Bar.Diameter)
	}
	if p.Job.Length > 0 {
		bar += fmt.Sprintf(", %v long", p.Job.Length)
	}
	b.WriteString(wrap("", "  ", fmt.Sprintf("%s, %s, to %s", p.Job.Alloy, bar, p.Job.Made())))
	for i, s := range p.Steps {
		b.WriteString(wrap(markOf(on, i)+fmt.Sprintf("%2d  ", i+1), "         "[:len(markOf(on, i))+4], s.Line()))
	}
	heats := counted(p.Anneals, "anneal")
	if n := len(p.Job.Joints); n > 0 {
		heats += " and " + counted(n, "soldering heat")
	}
	b.WriteString(workedLine("heats", heats))
	b.WriteString(workedLine("minutes", fmt.Sprintf("about %.0f", p.Minutes)))
	if m := p.Mass; m.Bar > 0 && p.Job.Bar.Shape == unit.Sheet {
		b.WriteString(workedLine("mass", fmt.Sprintf("disc %.1f g, bowl %.1f g", m.Bar, m.Finished)))
	} else if m.Bar > 0 {
		b.WriteString(workedLine("mass", fmt.Sprintf("bar %.1f g, finished %.1f g: %.1f g to spare for losses and crop", m.Bar, m.Finished, m.Spare)))
	}
	limit := p.Limit.Text + " between anneals" + judged(p.Limit)
	if p.First.Known() {
		limit = p.First.Text + " as cast" + judged(p.First) + "; then " + limit
	}
	b.WriteString(workedLine("limit", limit))
	for _, n := range p.Notes {
		b.WriteString(workedLine("mind", n))
	}
	b.WriteString(workedLine("mind", "Local rules for flames and gas come first: see dullred safety, and dullred card "+p.Job.Alloy+" for the hazards of its heats."))
	return b.String()
}

// markOf tells steps that are done and the one that is next from the others.
func markOf(on *schedule.Following, i int) string {
	switch {
	case on == nil:
		return ""
	case i < on.At:
		return "done "
	case i == on.At:
		return "NOW  "
	}
	return "     "
}

// sourceLine cites where the limit of a plan is from.
func sourceLine(book *alloys.Book, p schedule.Plan) string {
	src, ok := book.SourceOf(p.Limit.Source)
	if !ok {
		return ""
	}
	return workedLine("from", schedule.Cite(src))
}
