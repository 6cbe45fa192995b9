package tui

import (
	"fmt"
	"slices"
	"strings"

	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/tui/view"
)

// planned reports whether a piece has a plan that its log can be set against.
func (p *piece) planned() bool {
	s := p.state()
	return s.Plan != nil && s.Started && len(s.Silenced) == 0
}

// following is where a piece stands on its plan, which is reckoned once for each
// entry; nil without a plan.
func (b *Bench) following(p *piece) *schedule.Following {
	if !p.planned() {
		return nil
	}
	others := b.observed(p) // which lets go of what was reckoned without it
	if p.onPlan == nil {
		_, hand := b.desk.Who()
		f, err := p.state().Following(schedule.PlanKnown{Hand: hand, Others: others})
		if err != nil {
			f = schedule.Following{Plan: *p.state().Plan, Lost: err.Error()}
		}
		p.onPlan = &f
	}
	return p.onPlan
}

// step is the step of the plan that the keys of its page are for. It is false on any
// other page, when none is left, and when the plan cannot be followed.
func (b *Bench) step(p *piece) (schedule.PlanStep, bool) {
	if b.page != view.Plan || p.id != b.shown {
		return schedule.PlanStep{}, false
	}
	f := b.following(p)
	if f == nil || f.Lost != "" {
		return schedule.PlanStep{}, false
	}
	return f.Step()
}

// otherwise reports whether the smith chose a process against a step.
func (b *Bench) otherwise(s schedule.PlanStep) bool {
	return b.process != "" && b.against == s.Title()
}

// inHeat are the kinds of entry that go on with a heat, or with the pickle after it.
var inHeat = []schedule.Kind{schedule.KindReached, schedule.KindOut, schedule.KindQuenched, schedule.KindCool,
	schedule.KindPickled, schedule.KindRinsed, schedule.KindSoft, schedule.KindSpringy}

// ofStep are those that begin something on the zones of a step.
var ofStep = []schedule.Kind{schedule.KindPass, schedule.KindMeasured, schedule.KindFluxed, schedule.KindSign}

// zonesFor are the zones that a key is for on the page of the plan while none was
// chosen; nil is the whole piece, as on every other page. A heat that was begun goes
// on in the zones that are in it, whatever the step has become meanwhile.
func (b *Bench) zonesFor(p *piece, kind schedule.Kind) []string {
	s, ok := b.step(p)
	if !ok || b.zone != "" {
		return nil
	}
	hot := heated(p.state())
	switch {
	case slices.Contains(inHeat, kind) && len(hot) > 0:
		return p.state().Named(hot)
	case slices.Contains(inHeat, kind) || kind == schedule.KindBegun:
		return b.zonesToHeat(p, s)
	case slices.Contains(ofStep, kind):
		return p.state().Named(s.Zones)
	}
	return nil
}

// zonesToHeat are those of a step, unless metal that cannot wait for the plan calls
// for the heat: then it is for the whole piece.
func (b *Bench) zonesToHeat(p *piece, s schedule.PlanStep) []string {
	if s.Act != schedule.DoAnneal && b.judged(p).Verdict == schedule.VerdictAnnealNow {
		return nil
	}
	return p.state().Named(s.Zones)
}

// heated are the zones of a heat that is not proved yet, or in the pickle.
func heated(s *schedule.State) (names []string) {
	for _, z := range s.Zones {
		if z.Heat.Phase != schedule.Cold || !z.Pickle.In.IsZero() {
			names = append(names, z.Name)
		}
	}
	return names
}

// titleOf is what a form is for: a piece, and the zones of its step.
func (b *Bench) titleOf(what string, p *piece) string {
	text := what + " " + p.name
	if on := b.zonesFor(p, schedule.KindMeasured); len(on) > 0 {
		text += ": " + strings.Join(on, " and ")
	}
	return text
}

// planView is the plan as it is drawn; nil without one.
func (b *Bench) planView(p *piece) *view.PlanView {
	f := b.following(p)
	if f == nil {
		return nil
	}
	v := &view.PlanView{Following: *f}
	s, _ := f.Step()
	for _, name := range s.Zones {
		z, _ := p.state().Zone(name)
		v.Unread = max(v.Unread, len(z.Tally.Pending()))
	}
	if b.page != view.Plan {
		return v
	}
	v.Keys = allOr(b.zonesFor(p, schedule.KindPass))
	if heat := allOr(b.zonesFor(p, schedule.KindOut)); heat != v.Keys {
		v.Keys += ", of a heat: " + heat
	}
	return v
}

// allOr are zones in words, as an entry names them.
func allOr(zones []string) string {
	if len(zones) == 0 {
		return schedule.Whole
	}
	return strings.Join(zones, " and ")
}

// nextFor is the hint of the one next key. On the page of the plan its step says what
// to do wherever the state of the metal leaves it the choice.
func (b *Bench) nextFor(p *piece, a schedule.Advice) view.Hint {
	s, ok := b.step(p)
	if ok && a.Verdict == schedule.VerdictAnnealSoon {
		if s.Act == schedule.DoInspect || s.Act == schedule.DoSolder {
			return b.spaceHint(p) // no blow of the hammer
		}
		a.ZoneAdvice = worst(a, s.Zones)
	}
	act := p.state().NextAct(a)
	switch {
	case ok && act == schedule.ActPass && s.Act == schedule.DoAnneal:
		return named("h")
	case act == schedule.ActPass:
		return b.spaceHint(p)
	}
	if a.Verdict == schedule.VerdictFinished {
		return view.Hint{Key: "n", Words: "next piece"}
	}
	return next(act)
}

// worst is the advice for the zone among some that is nearest to its limit: a step
// waits for no zone that it leaves alone.
func worst(a schedule.Advice, zones []string) schedule.ZoneAdvice {
	most := schedule.ZoneAdvice{Spent: -1}
	for _, z := range a.Zones {
		if slices.Contains(zones, z.Zone) && z.Spent > most.Spent {
			most = z
		}
	}
	if most.Spent < 0 {
		return a.ZoneAdvice
	}
	return most
}

// spaceHint says what the space bar logs.
func (b *Bench) spaceHint(p *piece) view.Hint {
	hint := named("space")
	s, ok := b.step(p)
	if !ok {
		return hint
	}
	switch {
	case s.Turns > 0 && !b.otherwise(s):
		hint.Words = fmt.Sprintf("twisted, %.3g turns", s.Turns)
	case b.otherwise(s) || s.Act == schedule.DoPass || s.Act == schedule.DoAnneal:
		hint.Words = fmt.Sprintf("course done: %s", b.work(p))
	case s.Act == schedule.DoStamp:
		hint.Words = "stamped"
	case s.Act == schedule.DoBend:
		hint.Words = fmt.Sprintf("bent, inside radius %v", b.following(p).Plan.Job.Bend)
	case s.Act == schedule.DoSolder:
		hint.Words = "log the joint " + s.Zone
	case s.Act == schedule.DoInspect:
		hint.Words = "looked at and dressed"
	}
	return hint
}

// courseOf is what the space bar logs, and what was done in a word; nil opens the
// form of a joint.
func (b *Bench) courseOf(p *piece) (schedule.Body, string) {
	s, ok := b.step(p)
	if !ok || b.otherwise(s) {
		return schedule.Pass{Process: b.work(p), Count: 1}, "hammered"
	}
	if s.Turns > 0 {
		return schedule.Pass{Process: s.Process, Count: 1, Turns: s.Turns, Over: b.following(p).Plan.Job.Over}, "twisted"
	}
	switch s.Act {
	case schedule.DoStamp:
		return schedule.Pass{Process: coldwork.Stamp, Count: 1}, "stamped"
	case schedule.DoBend:
		return schedule.Pass{Process: s.Process, Count: 1, Radius: b.following(p).Plan.Job.Bend}, "bent"
	case schedule.DoInspect:
		return schedule.Dressed{}, "dressed"
	case schedule.DoSolder:
		return nil, ""
	}
	return schedule.Pass{Process: b.work(p), Count: 1}, "hammered"
}

// solderStep is the form of the joint of a step, with what the plan knows of it.
func (b *Bench) solderStep(p *piece) *soldering {
	s, _ := b.step(p)
	form := &soldering{at: jointSolder, fields: [3]string{jointName: s.Zone}}
	for _, j := range b.following(p).Plan.Job.Joints {
		if j.Name == s.Zone {
			form.fields[jointSolder], form.fields[jointSolidus] = j.Solder, fmt.Sprintf("%.0f", float64(j.Solidus))
		}
	}
	return form
}
