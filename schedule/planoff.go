package schedule

import (
	"cmp"
	"fmt"
	"slices"

	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// off is why a kept plan does not hold any more from a step on; empty while it does.
func (f *follower) off(at int) string {
	if why := f.overshot(at); why != "" {
		return why
	}
	return f.ahead(at)
}

// overshot names the zones that went past their last stop, or were read below it,
// though the plan has something other than a pass for them next.
func (f *follower) overshot(at int) string {
	var past []string
	says := ""
	for _, z := range f.zones {
		last, ok := f.lastStop(z.Name)
		if !ok || f.passNext(at, z.Name) {
			continue
		}
		thin, wide := sidesOf(last)
		t, _ := sidesOf(z.start.section)
		if t < thin-f.slack(thin)-1e-9 || areaOf(z.start.section) < (thin-f.slack(thin))*(wide-f.slack(wide)) {
			past = append(past, z.Name)
			says = cmp.Or(says, fmt.Sprintf(" at %v and not at %v", z.start.section, last))
		}
	}
	switch len(past) {
	case 0:
		return ""
	case len(f.zones):
		return "it is" + says
	case 1:
		return past[0] + " is" + says
	}
	return inWords(past) + " are" + says
}

// lastStop is where the last pass of a zone that is done stopped by the plan.
func (f *follower) lastStop(zone string) (stop coldwork.Section, ok bool) {
	for i, s := range f.kept.Steps {
		if f.done[i] && s.StopAt.Shape != unit.Unshaped && slices.Contains(s.Zones, zone) {
			stop, ok = coldwork.Section(s.StopAt), true
		}
	}
	return stop, ok
}

// passNext reports whether the next thing for a zone is a pass.
func (f *follower) passNext(at int, zone string) bool {
	for i := at; i < len(f.kept.Steps); i++ {
		if s := f.kept.Steps[i]; !f.done[i] && slices.Contains(s.Zones, zone) && s.Act != DoInspect {
			return s.Act == DoPass
		}
	}
	return false
}

// ahead follows the steps that are left from where the metal is, and says which of
// them cannot be done so.
func (f *follower) ahead(at int) string {
	zones := make([]planStart, len(f.zones))
	for i, z := range f.zones {
		zones[i] = z.start
	}
	for i := at; i < len(f.kept.Steps); i++ {
		if f.done[i] {
			continue
		}
		s := f.kept.Steps[i]
		light := s.Act == DoAnneal && f.hammeredBefore(i)
		for j := range f.zones {
			if !slices.Contains(s.Zones, f.zones[j].Name) {
				continue
			}
			if why := f.lightHeat(zones[j], f.zones[j]); light && why != "" {
				return why
			}
			if why := f.advance(&zones[j], &f.zones[j], s); why != "" {
				return why
			}
		}
	}
	return ""
}

// hammeredBefore reports whether an anneal follows a pass to a size, and no bend:
// what bending leaves nobody chooses.
func (f *follower) hammeredBefore(i int) bool {
	for i--; i >= 0 && f.kept.Steps[i].Act != DoAnneal; i-- {
		if s := f.kept.Steps[i]; s.StopAt.Shape != unit.Unshaped || s.Act == DoBend {
			return s.Act == DoPass
		}
	}
	return false
}

// lightHeat says that a heat would come with so little work in a zone that its
// grain grows coarse. A plan that has no way round it is let be.
func (f *follower) lightHeat(now planStart, z planTarget) string {
	if w := float64(now.work); f.kept.Coarse || w < softBelow() || w >= coarseBelow()-1e-9 {
		return ""
	}
	return fmt.Sprintf("%s would be annealed with %.0f %% worked, where the grain comes out coarse", z.Name, 100*float64(now.work.Worked()))
}

// advance does a step on one zone.
func (f *follower) advance(now *planStart, z *planTarget, s PlanStep) string {
	limit := f.limitOf(now.cast).Strain
	switch s.Act {
	case DoPass:
		return f.hammer(now, z, s)
	case DoBend:
		now.work += z.bend
	case DoStamp:
		if float64(now.work) >= softBelow() {
			return z.Name + " is not soft for stamping"
		}
	case DoAnneal, DoSolder:
		now.cast = now.cast && now.work < castDone*f.first.Strain
		now.work = 0
	}
	if now.work > limit*(1+0.02) {
		return fmt.Sprintf("%s is over its limit", z.Name)
	}
	return ""
}

// hammer does a pass on one zone.
func (f *follower) hammer(now *planStart, z *planTarget, s PlanStep) string {
	limit := f.limitOf(now.cast).Strain
	if s.StopAt.Shape == unit.Unshaped {
		now.work = max(now.work, unit.Strain(s.LimitSpent)*limit)
		return ""
	}
	stop := coldwork.Section(s.StopAt)
	if areaOf(stop) > areaOf(now.section)*1.001 && s.Process != coldwork.Flatten {
		return fmt.Sprintf("%s is at %v, less than %v", z.Name, now.section, stop)
	}
	if areaOf(stop) > areaOf(now.section)*1.02 {
		return fmt.Sprintf("%s is at %v, too little metal for %v", z.Name, now.section, stop)
	}
	now.work += coldwork.Between(now.section, stop)
	now.section = stop
	if now.work > limit*(1+0.02) {
		return fmt.Sprintf("%s would cross its limit before the next anneal", z.Name)
	}
	return ""
}
