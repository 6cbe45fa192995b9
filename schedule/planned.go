package schedule

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// Planned gives a piece its plan; a later one takes its place. It stands as it was
// made: neither later tables nor what the hand learns change it.
type Planned struct {
	Plan Plan `json:"plan"`
}

// Kind is KindPlan.
func (Planned) Kind() Kind { return KindPlan }

// mostSteps of a plan are believed.
const mostPlanSteps = 1000

func (p Planned) check() error {
	job := p.Plan.Job
	if len(p.Plan.Steps) > mostPlanSteps {
		return fmt.Errorf("a plan of %d steps is not believable", len(p.Plan.Steps))
	}
	if err := checkBar(job.Bar); err != nil {
		return fmt.Errorf("the bar of the plan: %w", err)
	}
	if err := job.Shape.Check(); err != nil && !job.ofBowl() {
		return fmt.Errorf("the shape of the plan: %w", err)
	}
	for i, s := range p.Plan.Steps {
		for _, f := range []float64{float64(s.Worked), s.LimitSpent, s.Minutes, s.Flame, s.Turns} {
			if !(f >= 0 && f <= math.MaxInt32) {
				return fmt.Errorf("step %d of the plan has a figure of %g", i+1, f)
			}
		}
	}
	return nil
}

func (p Planned) detail() string {
	return fmt.Sprintf("%s, %s and %s", p.Plan.Job.Made(), count(len(p.Plan.Steps), "step"), count(p.Plan.Anneals, "anneal"))
}

// plan takes a plan on. It divides a piece that was one zone into those of the
// plan, each as the whole was.
func (s *State) plan(b Planned) {
	s.Plan = &b.Plan
	if len(s.Zones) == 1 && len(b.Plan.Zones) > 1 {
		whole := s.Zones[0]
		s.Zones = nil
		for _, z := range b.Plan.Zones {
			part := whole
			part.Name = z.Name
			s.Zones = append(s.Zones, part)
		}
		s.Latest = nil
	}
	for i := range s.Zones {
		z := &s.Zones[i]
		z.Marked, z.Bent, z.Softened, z.Turned = false, false, 0, 0
	}
}

// acceptPlan refuses a plan for another metal or for other zones.
func (s *State) acceptPlan(p Plan) error {
	if p.Job.Alloy != s.AlloyID {
		return fmt.Errorf("the plan is for %s and the piece is %s", p.Job.Alloy, s.AlloyID)
	}
	var names []string
	for _, z := range p.Zones {
		names = append(names, z.Name)
	}
	return s.fits(names)
}

// fits refuses zones of a plan that are not those of the piece.
func (s *State) fits(names []string) error {
	same := len(s.Zones) == len(names)
	for _, z := range s.Zones {
		same = same && slices.Contains(names, z.Name)
	}
	if same || len(s.Zones) == 1 {
		return nil
	}
	return fmt.Errorf("the shape has %s and the piece %s: start a piece without zones, and its plan divides it",
		inWords(names), inWords(s.zoneNames()))
}

// meansAll reports whether an entry names the whole of a piece that was divided.
func (s *State) meansAll(zones []string) bool {
	if len(zones) != 1 || zones[0] != Whole {
		return false
	}
	_, own := s.Zone(Whole)
	return !own
}

func (s *State) namesAt(at []int) (names []string) {
	for _, i := range at {
		names = append(names, s.Zones[i].Name)
	}
	return names
}

// stopNear says to stop drawing a zone that the last work brought near its finished
// area, or below it; empty where there is none.
func (s *State) stopNear() string {
	if s.Plan == nil {
		return ""
	}
	var said []string
	for _, name := range s.Latest {
		z, _ := s.Zone(name)
		drawn := z.Process == coldwork.Lengthen || z.Process == coldwork.Draw
		size := unit.Size(z.Tally.Section())
		if stop, words := Guard(*s.Plan, name, size); stop && (drawn || s.Plan.short(name, size)) {
			said = append(said, words)
		}
	}
	return strings.Join(said, "; ")
}

// short reports whether a zone has come below its finished area.
func (p Plan) short(name string, section unit.Size) bool {
	z, ok := p.zone(name)
	area, known := coldwork.Section(section).Area()
	return ok && known && float64(area) < float64(z.Least)-1e-6
}
