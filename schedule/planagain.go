package schedule

import (
	"fmt"
	"slices"
	"strings"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
	"dullred/schedule/heat"
)

// Replan plans the rest of a job from where the metal of a piece is now, and says
// in one line what is different. Zones go by name; a piece that is still one zone
// stands for all of the plan. Joints that the piece has are done, as is stamping
// that was logged in every zone since the last heat; of bending nothing is known,
// so that it stays in the plan. The bar is not weighed again.
func Replan(p Plan, s *State, known PlanKnown) (again Plan, changed string, err error) {
	if len(s.Silenced) > 0 || !s.Started {
		return Plan{}, "", noPlan("the entries of the piece cannot all be read")
	}
	job := p.Job
	job.Length = 0
	job.Joints = slices.DeleteFunc(slices.Clone(job.Joints), func(j heat.Joint) bool {
		return slices.ContainsFunc(s.Joints, func(o heat.Joint) bool { return o.Name == j.Name })
	})
	job.Stamp = job.Stamp && slices.ContainsFunc(s.Zones, func(z Zone) bool { return z.Stamped == 0 })
	if s.Limit != "" {
		job.Limit = s.Limit
	}
	n, err := newPlanner(s.book, job, known)
	if err != nil {
		return Plan{}, "", err
	}
	n.state.Joints, n.state.Margin = slices.Clone(s.Joints), s.Margin
	for i := range n.zones {
		if n.zones[i].start, err = s.planStart(n.zones[i].Name, known); err != nil {
			return Plan{}, "", err
		}
	}
	if again, err = n.plan(); err != nil {
		return Plan{}, "", err
	}
	again.Job.Length = p.Job.Length
	again.Notes = slices.DeleteFunc(again.Notes, func(t string) bool { return strings.HasPrefix(t, "The length of the bar") })
	return again, n.changed(p, again), nil
}

// planStart is where the metal of a zone of a plan is in a piece.
func (s *State) planStart(name string, known PlanKnown) (planStart, error) {
	z, ok := s.Zone(name)
	if !ok && len(s.Zones) == 1 {
		z, ok = s.Zones[0], true
	}
	if !ok {
		return planStart{}, noPlan(fmt.Sprintf("the piece has no zone %q to plan for", name))
	}
	section := z.Tally.Section()
	if _, area := section.Area(); !area || section.Shape == unit.Tube || section.Shape == unit.Ring {
		return planStart{}, noPlan(fmt.Sprintf("the section of %s was never read as that of a bar", z.Name))
	}
	return planStart{section: section, work: s.Worked(z, known.Others).Strain, cast: z.Condition == alloys.Cast}, nil
}

// changed says what is different from the plan that was followed.
func (n *planner) changed(old, again Plan) string {
	at, reached := n.reached(old)
	left := 0
	for _, s := range old.Steps[at:] {
		if s.Act == DoAnneal {
			left++
		}
	}
	text := fmt.Sprintf("%s to go, as planned", count(again.Anneals, "anneal"))
	if again.Anneals != left {
		text = fmt.Sprintf("%s to go where the plan had %d", count(again.Anneals, "anneal"), left)
	}
	for i, z := range n.zones {
		if was := reached[i]; was.Known() && !reachedBy(was, z.start.section) {
			return fmt.Sprintf("%s is at %v and not at %v: %s", z.Name, z.start.section, was, text)
		}
	}
	return text
}

// reached is the step after those of a plan that the metal has behind it, and at
// what each zone should be by then. A step is behind when all its zones are as
// small as it says, and what follows its pass at once belongs to it.
func (n *planner) reached(p Plan) (at int, by []coldwork.Section) {
	by = make([]coldwork.Section, len(n.zones))
	for i, s := range p.Steps {
		if s.Act != DoPass || s.StopAt.Shape == unit.Unshaped {
			continue
		}
		if !n.past(s) {
			break
		}
		at = i + 1
		for z := range n.zones {
			if slices.Contains(s.Zones, n.zones[z].Name) {
				by[z] = coldwork.Section(s.StopAt)
			}
		}
	}
	for at < len(p.Steps) && at > 0 && n.soft() && (p.Steps[at].Act == DoAnneal || p.Steps[at].Act == DoInspect) {
		at++
	}
	return at, by
}

// past reports whether every zone of a step is at its stop or beyond, to 2 % of
// the area and of the thickness.
func (n *planner) past(s PlanStep) bool {
	stop := coldwork.Section(s.StopAt)
	thin, _ := sidesOf(stop)
	for _, z := range n.zones {
		now, _ := sidesOf(z.start.section)
		if slices.Contains(s.Zones, z.Name) && (areaOf(z.start.section) > 1.02*areaOf(stop) || now > 1.02*thin) {
			return false
		}
	}
	return true
}

// soft reports whether no zone has work in it.
func (n *planner) soft() bool {
	return !slices.ContainsFunc(n.zones, func(z planTarget) bool { return float64(z.start.work) >= softBelow })
}
