package schedule

import (
	"cmp"
	"fmt"
	"slices"

	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
	"dullred/schedule/heat"
)

// Following is a piece on its plan, as its log has it.
type Following struct {
	Plan    Plan   // that is followed: as it was kept, or its rest planned again
	At      int    // the step that is next; as many as there are when none is left
	Again   bool   // the rest was planned again, from where the metal is
	Changed string // what is different from the kept plan, in one line; empty on it
	Lost    string // why the shape cannot be reached any more; the kept plan stands
	ToGo    []ToGo // to the stop of that step, for each of its zones
}

// ToGo is how far a zone is from the size where a pass stops.
type ToGo struct {
	Zone      string
	Now, Stop unit.Size
	Thick     unit.Millimetre // of the thinner side, above the stop; less than 0 below it
	Wide      unit.Millimetre // of the wider side
}

// Step is the step that is next; false when none is left.
func (f Following) Step() (PlanStep, bool) {
	if f.At >= len(f.Plan.Steps) {
		return PlanStep{}, false
	}
	return f.Plan.Steps[f.At], true
}

// Following sets the log of a piece against its plan. A pass is done when its zones
// are as small as its stop, to 2 % or the error of the calliper, whichever is more.
// The plan is kept while its next steps can be done from where the metal is and no
// zone went past the last stop by more than that; otherwise the rest is planned
// again, as where that saves an anneal. An error is ErrNoPlan: the piece has no
// plan, or its entries cannot be read.
func (s *State) Following(known PlanKnown) (Following, error) {
	if s.Plan == nil {
		return Following{}, noPlan("the piece has no plan")
	}
	if err := s.plannable(); err != nil {
		return Following{}, err
	}
	n, err := s.planner(s.rest(s.Plan.Job), known)
	if err != nil {
		return Following{}, err
	}
	f := follower{planner: n, piece: s, kept: *s.Plan}
	f.mark()
	return f.follow(), nil
}

// follower sets a piece against the plan it keeps.
type follower struct {
	*planner
	piece *State
	kept  Plan
	done  []bool     // step by step
	rest  []PlanStep // planned again
}

func (f *follower) follow() Following {
	at := slices.Index(f.done, false)
	if at < 0 {
		return Following{Plan: f.kept, At: len(f.kept.Steps)}
	}
	out := Following{Plan: f.kept, At: at}
	why := f.off(at)
	again, left, err := f.again()
	planned := f.annealsLeft()
	switch {
	case err != nil && why != "":
		out.Lost = err.Error()
	case err == nil && (why != "" || left < planned):
		out = Following{Plan: again, At: len(again.Steps) - len(f.rest), Again: true, Changed: changed(why, left, planned)}
	}
	out.ToGo = f.toGo(out)
	return out
}

// annealsLeft are those of the kept plan that are not done.
func (f *follower) annealsLeft() (n int) {
	for i, s := range f.kept.Steps {
		if s.Act == DoAnneal && !f.done[i] {
			n++
		}
	}
	return n
}

// changed says what is different.
func changed(why string, now, was int) string {
	text := fmt.Sprintf("%s to go, as planned", count(now, "anneal"))
	if now != was {
		text = fmt.Sprintf("%s to go where the plan had %d", count(now, "anneal"), was)
	}
	if why == "" {
		return "the metal allows it: " + text
	}
	return why + ": " + text
}

// slack is what a calliper and a hammer may be off by.
func (f *follower) slack(side float64) float64 {
	return max(0.02*side, float64(f.piece.Calliper))
}

// mark finds the steps that are done. What the hammer, the stamp, the former and
// the solder did stays on the piece or in its log; a heat shows only in what
// followed it, or in soft metal when it was the next thing.
func (f *follower) mark() {
	f.done = make([]bool, len(f.kept.Steps))
	for i, s := range f.kept.Steps {
		f.done[i] = f.lasting(i, s)
	}
	all := true
	for i, s := range f.kept.Steps {
		f.done[i] = f.done[i] || f.overtaken(i, s) || all && (f.passing(s) || f.annealed(i, s))
		all = all && f.done[i]
	}
}

// lasting reports whether a step that leaves its trace is done.
func (f *follower) lasting(i int, s PlanStep) bool {
	switch s.Act {
	case DoPass:
		if s.Turns > 0 {
			return f.piece.turned(f.kept.Job) >= f.kept.turnsTo(i)-1e-6
		}
		return f.passed(s)
	case DoStamp:
		return f.piece.marked()
	case DoBend:
		return f.piece.bent(f.kept.Job)
	case DoSolder:
		return slices.ContainsFunc(f.piece.Joints, func(j heat.Joint) bool { return cmp.Or(j.Name, Whole) == s.Zone })
	}
	return false
}

// passing reports whether a step that leaves no trace is done, all before it being
// so.
func (f *follower) passing(s PlanStep) bool {
	switch s.Act {
	case DoAnneal:
		return f.softened(s)
	case DoInspect:
		return f.piece.Looked || f.heated(s)
	case DoPass:
		return s.StopAt.Shape == unit.Unshaped && s.Turns == 0 && f.shareOf(s) >= s.LimitSpent-0.02
	}
	return false
}

// annealed reports whether the zones of an anneal were soft after what the plan has
// before it: they were last soft at the size where that stops, or so often as the
// plan has heats for them up to this one.
func (f *follower) annealed(i int, s PlanStep) bool {
	return s.Act == DoAnneal && !slices.ContainsFunc(f.of(s), func(z *planTarget) bool {
		now, _ := f.piece.planZone(z.Name)
		heats, last, passed := f.before(i, z.Name)
		return now.Softened <= heats && !(passed && f.stopped(now.Tally.SoftAt(), last))
	})
}

// before counts the anneals that a plan has for a zone before a step, and gives the
// last pass between the latest of them and the step, if there is one.
func (f *follower) before(i int, zone string) (heats int, last PlanStep, passed bool) {
	for _, s := range f.kept.Steps[:i] {
		switch {
		case !slices.Contains(s.Zones, zone):
		case s.Act == DoAnneal:
			heats, passed = heats+1, false
		case s.StopAt.Shape != unit.Unshaped:
			last, passed = s, true
		}
	}
	return heats, last, passed
}

// overtaken reports whether a heat or a look is behind what was done to its zones
// after it.
func (f *follower) overtaken(i int, s PlanStep) bool {
	if s.Act != DoAnneal && s.Act != DoInspect {
		return false
	}
	for j := i + 1; j < len(f.done); j++ {
		if f.done[j] && slices.ContainsFunc(f.kept.Steps[j].Zones, func(z string) bool { return slices.Contains(s.Zones, z) }) {
			return true
		}
	}
	return false
}

// passed reports whether every zone of a pass is at its stop or beyond. Spreading
// goes by the thickness, since nobody foresees to the tenth how the width comes.
func (f *follower) passed(s PlanStep) bool {
	if s.StopAt.Shape == unit.Unshaped {
		return false
	}
	return !slices.ContainsFunc(f.of(s), func(z *planTarget) bool { return !f.stopped(z.start.section, s) })
}

// stopped reports whether a section is at the stop of a pass or beyond it.
func (f *follower) stopped(now coldwork.Section, s PlanStep) bool {
	stop := coldwork.Section(s.StopAt)
	thin, wide := sidesOf(stop)
	thin, wide = thin+f.slack(thin), wide+f.slack(wide)
	t, _ := sidesOf(now)
	spread := s.Process == coldwork.Widen || s.Process == coldwork.Flatten
	round := stop.Shape == unit.Round && now.Shape != unit.Round
	return t <= thin && !round && (spread || areaOf(now) <= thin*wide)
}

// of are the zones of a step.
func (f *follower) of(s PlanStep) (zones []*planTarget) {
	for i := range f.zones {
		if slices.Contains(s.Zones, f.zones[i].Name) {
			zones = append(zones, &f.zones[i])
		}
	}
	return zones
}

// softened reports whether no zone of a step has work in it.
func (f *follower) softened(s PlanStep) bool {
	return !slices.ContainsFunc(f.of(s), func(z *planTarget) bool { return float64(z.start.work) >= softBelow() })
}

// heated reports whether a heat was given or begun since the piece was planned.
func (f *follower) heated(s PlanStep) bool {
	return slices.ContainsFunc(f.of(s), func(z *planTarget) bool {
		now, _ := f.piece.planZone(z.Name)
		return now.Heat.Phase != Cold || now.Unproven+now.Softened > 0 || float64(z.start.work) < softBelow()
	})
}

// shareOf is the largest share of the limit that a zone of a step has spent.
func (f *follower) shareOf(s PlanStep) (share float64) {
	for _, z := range f.of(s) {
		share = max(share, float64(z.start.work/f.limitOf(z.start.cast).Strain))
	}
	return share
}

// toGo is how far the zones of the next step are from its stop.
func (f *follower) toGo(out Following) (all []ToGo) {
	s, ok := out.Step()
	if !ok || s.StopAt.Shape == unit.Unshaped {
		return nil
	}
	thin, wide := sidesOf(coldwork.Section(s.StopAt))
	for _, z := range f.of(s) {
		t, w := sidesOf(z.start.section)
		all = append(all, ToGo{Zone: z.Name, Now: unit.Size(z.start.section), Stop: s.StopAt,
			Thick: unit.Millimetre(t - thin), Wide: unit.Millimetre(w - wide)})
	}
	return all
}
