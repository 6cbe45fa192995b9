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

// PlanOn plans a shape for a piece from where its metal is now: its alloy, its
// sections, the work in them, its joints. The job gives the shape and what is to be
// done with it; a bar in it is not looked at. A piece that nobody has worked is
// weighed, if its length is known.
func (s *State) PlanOn(job PlanJob, known PlanKnown) (Plan, error) {
	if err := s.plannable(); err != nil {
		return Plan{}, err
	}
	job.Alloy, job.Cast, job.Length = s.AlloyID, s.Zones[0].Condition == alloys.Cast, 0
	job.Bar = unit.Size(s.largest())
	fresh := !s.everWorked()
	if fresh {
		job.Length = s.Length
	}
	if job.Limit == "" {
		job.Limit = s.Limit
	}
	n, err := s.planner(job, known)
	if err != nil {
		return Plan{}, err
	}
	n.fresh = fresh
	return n.plan()
}

// plannable is why nothing can be planned for a piece.
func (s *State) plannable() error {
	if len(s.Silenced) > 0 || !s.Started {
		return noPlan("the entries of the piece cannot all be read")
	}
	return nil
}

// largest is the section of the zone with the most metal, as far as it is known.
func (s *State) largest() (most coldwork.Section) {
	for _, z := range s.Zones {
		now, _ := z.Tally.Section().Area()
		if was, ok := most.Area(); !ok || now > was {
			most = z.Tally.Section()
		}
	}
	return most
}

// everWorked reports whether a zone was hammered, or any heat given.
func (s *State) everWorked() bool {
	return len(s.Courses)+len(s.Heats)+len(s.Joints) > 0 ||
		slices.ContainsFunc(s.Zones, func(z Zone) bool { return z.Courses > 0 || z.Heat.Phase != Cold })
}

// planner is one for a job whose zones start where those of the piece are.
func (s *State) planner(job PlanJob, known PlanKnown) (*planner, error) {
	n, err := newPlanner(s.book, job, known)
	if err != nil {
		return nil, err
	}
	by := *s
	by.Limit = job.Limit
	n.limit, n.first = by.limit(alloys.Wrought, known.Others), by.limit(alloys.Cast, known.Others)
	n.state.Joints, n.state.Margin, n.state.Looked = slices.Clone(s.Joints), s.Margin, s.Looked
	var names []string
	for _, z := range n.zones {
		names = append(names, z.Name)
	}
	if err := s.fits(names); err != nil {
		return nil, noPlan(err.Error())
	}
	for i := range n.zones {
		if n.zones[i].start, err = s.planStart(n.zones[i].Name, known); err != nil {
			return nil, err
		}
	}
	return n, nil
}

// planStart is where the metal of a zone of a plan is in a piece.
func (s *State) planStart(name string, known PlanKnown) (planStart, error) {
	z, ok := s.planZone(name)
	if !ok {
		return planStart{}, noPlan(fmt.Sprintf("the piece has no zone %q to plan for", name))
	}
	section := z.Tally.Section()
	if _, area := section.Area(); !isVessel(section) && (!area || section.Shape == unit.Tube || section.Shape == unit.Ring) {
		return planStart{}, noPlan(fmt.Sprintf("the section of %s was never read as that of a bar, nor the ring of a disc", z.Name))
	}
	return planStart{section: section, work: s.worked(z, sized(z.Tally), known.Others).Strain, cast: z.Condition == alloys.Cast}, nil
}

// sized is a tally without the unread courses that change a section: the next size
// shows them, and they would count twice.
func sized(t coldwork.Tally) coldwork.Tally {
	for _, p := range t.Pending() {
		if p != coldwork.Planish {
			t, _ = t.Unread(p)
		}
	}
	return t
}

// planZone is the zone of a piece that one of its plan speaks of. A piece of one
// zone stands for all of the plan.
func (s *State) planZone(name string) (Zone, bool) {
	if len(s.Zones) == 1 {
		return s.Zones[0], true
	}
	return s.Zone(name)
}

// rest is the job of a plan without what was done: joints that the piece has, and
// stamping and bending of every zone since the plan was kept. The bar is not
// weighed again.
func (s *State) rest(job PlanJob) PlanJob {
	job.Length = 0
	job.Joints = slices.DeleteFunc(slices.Clone(job.Joints), func(j heat.Joint) bool {
		return slices.ContainsFunc(s.Joints, func(o heat.Joint) bool { return o.Name == j.Name })
	})
	job.Stamp = job.Stamp && !s.marked()
	if s.bent(job) {
		job.Bend = 0
	}
	if job.Turns > 0 {
		if job.Turns -= s.turned(job); job.Turns < 1e-6 {
			job.Turns, job.Over = 0, 0
		}
	}
	if s.Limit != "" {
		job.Limit = s.Limit
	}
	return job
}

// marked reports whether every zone was stamped since the piece was planned.
func (s *State) marked() bool {
	return !slices.ContainsFunc(s.Zones, func(z Zone) bool { return !z.Marked })
}

// bent reports the same of bending; a tang is not bent round the former.
func (s *State) bent(job PlanJob) bool {
	for _, z := range job.zones() {
		if now, ok := s.planZone(z.Name); ok && !z.Wire && !now.Bent {
			return false
		}
	}
	return true
}

// again plans the rest of a kept plan and puts it behind the steps that are done;
// left are the anneals of the rest.
func (f *follower) again() (out Plan, left int, err error) {
	if out, err = f.plan(); err != nil {
		return Plan{}, 0, err
	}
	f.rest, left = out.Steps, out.Anneals
	out.Job, out.Mass, out.Anneals, out.Minutes, out.Steps = f.kept.Job, f.kept.Mass, 0, 0, nil
	for i, s := range f.kept.Steps {
		if f.done[i] {
			out.Steps = append(out.Steps, s)
		}
	}
	out.Steps = append(out.Steps, f.rest...)
	for _, s := range out.Steps {
		out.Minutes += s.Minutes
		if s.Act == DoAnneal {
			out.Anneals++
		}
	}
	out.Notes = slices.DeleteFunc(out.Notes, func(t string) bool { return strings.HasPrefix(t, "The length of the bar") })
	return out, left, nil
}
