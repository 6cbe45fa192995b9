package schedule

import (
	"fmt"
	"slices"

	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// guardNear is how near its largest finished area a zone may be drawn before the
// guard speaks: 5 % above it, a judgement that leaves something for the file.
const guardNear = 1.05

// Guard looks at a zone that has come to a section: whether to stop drawing it,
// and what to say. It says nothing of a zone that the plan does not have, nor of a
// section whose area is not known; Whole stands for the zone that needs most.
func Guard(p Plan, zone string, section unit.Size) (stop bool, words string) {
	area, ok := coldwork.Section(section).Area()
	z, known := p.zone(zone)
	if !ok || !known || section.Shape == unit.Tube || section.Shape == unit.Ring {
		return false, ""
	}
	has := fmt.Sprintf("%v and needs %v for %v", area, z.Least, z.Section)
	switch {
	case float64(area) < float64(z.Least)-1e-6:
		return true, fmt.Sprintf("the %s is too thin: it has %s", z.Name, has)
	case float64(area) <= float64(z.Least)*guardNear:
		return true, fmt.Sprintf("stop drawing the %s, %s: it has %s", z.Name, p.goOn(z), has)
	}
	return false, ""
}

// goOn is where to work when a zone is drawn enough.
func (p Plan) goOn(z PlanZone) string {
	if z.Wire {
		return "its wire is done"
	}
	smaller := func(o PlanZone) bool { return o.Least < z.Least }
	switch {
	case !slices.ContainsFunc(p.Zones, smaller):
		return "spread or planish it"
	case slices.ContainsFunc(p.Zones[1:len(p.Zones)-1], smaller):
		return "work the thinner parts"
	}
	return "work the ends"
}

// zone finds a zone of a plan.
func (p Plan) zone(name string) (PlanZone, bool) {
	if len(p.Zones) == 0 {
		return PlanZone{}, false
	}
	if name == Whole {
		return slices.MaxFunc(p.Zones, func(a, b PlanZone) int {
			switch {
			case a.Least < b.Least:
				return -1
			case a.Least > b.Least:
				return 1
			}
			return 0
		}), true
	}
	i := slices.IndexFunc(p.Zones, func(z PlanZone) bool { return z.Name == name })
	if i < 0 {
		return PlanZone{}, false
	}
	return p.Zones[i], true
}
