package main

import (
	"errors"
	"time"

	"dullred/alloys"
	"dullred/schedule"
	"dullred/schedule/stock"
)

// near is a casting near the shape, planned to set beside the bar.
type near struct {
	plan *schedule.Plan // nil without one
	why  string         // there is no plan from it; else empty
}

// nearJSON is what a casting near the shape takes.
type nearJSON struct {
	Anneals int     `json:"anneals"`
	Minutes float64 `json:"minutes"`
	Why     string  `json:"why_not,omitempty"`
}

// near plans the same job from a casting; the zero near when none was named.
func (f planFlags) near(book *alloys.Book, job schedule.PlanJob, known schedule.PlanKnown) (n near, err error) {
	if f.against == "" {
		return n, nil
	}
	if job.Bar, job.Length, err = parseBar(f.against); err != nil {
		return n, refuse("--against 6x18x70 is 6 by 18 mm and 70 mm long", "%w", err)
	}
	job.Cast = true
	p, err := schedule.PlanIn(book, job, known)
	if errors.Is(err, schedule.ErrNoPlan) {
		return near{why: err.Error()}, nil
	}
	return near{plan: &p}, err
}

func (n near) json() *nearJSON {
	switch {
	case n.plan != nil:
		return &nearJSON{Anneals: n.plan.Anneals, Minutes: figure(n.plan.Minutes)}
	case n.why != "":
		return &nearJSON{Why: n.why}
	}
	return nil
}

// text sets the casting beside the plan from the bar.
func (n near) text(bar schedule.Plan) string {
	switch {
	case n.plan != nil:
		return workedLine("against", schedule.StopText(n.plan.Job.Bar)+", "+effortOf(*n.plan).Against(effortOf(bar)))
	case n.why != "":
		return workedLine("against", "cast near the shape: no plan: "+n.why)
	}
	return ""
}

// effortOf is what a plan takes.
func effortOf(p schedule.Plan) stock.Effort {
	return stock.Effort{Heats: p.Anneals + len(p.Job.Joints), Time: time.Duration(p.Minutes * float64(time.Minute))}
}
