package schedule

import (
	"fmt"
	"math"
	"slices"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
	"dullred/schedule/heat"
)

// planner is a job that was read, with what it needs to be planned.
type planner struct {
	job    PlanJob
	book   *alloys.Book
	alloy  alloys.Alloy
	limit  coldwork.Limit
	first  coldwork.Limit
	zones  []planTarget
	trunk  *planPath
	state  *State // for the heats: their torch, their soak, their ceiling
	known  PlanKnown
	hands  map[coldwork.Process]coldwork.Hand
	fresh  bool // nobody has worked the bar
	coarse bool // some anneal meets 3 to 12 % of work, there being no other way
}

func newPlanner(book *alloys.Book, job PlanJob, known PlanKnown) (*planner, error) {
	if book == nil {
		book = alloys.Default()
	}
	alloy, err := book.Find(job.Alloy)
	if err != nil {
		return nil, err
	}
	job.Alloy = string(alloy.ID)
	job.Joints = heat.InOrder(job.Joints)
	p := &planner{job: job, book: book, alloy: alloy, known: known, hands: map[coldwork.Process]coldwork.Hand{}}
	if err := p.checkJob(); err != nil {
		return nil, err
	}
	if err := p.limits(); err != nil {
		return nil, err
	}
	p.zones = job.zones()
	for i := range p.zones {
		p.zones[i].bend = bendOf(p.zones[i], job.Bend)
	}
	p.state = &State{Alloy: alloy, AlloyID: job.Alloy, book: book, taught: known.Others}
	return p, nil
}

// bendOf is what bending to an inside radius puts into the skin of a zone. A tang
// is not bent round the former.
func bendOf(z planTarget, radius unit.Millimetre) unit.Strain {
	if radius == 0 || z.Wire {
		return 0
	}
	return coldwork.Bend(min(z.Section.Thick, z.Section.Width), radius)
}

func (p *planner) checkJob() error {
	job := p.job
	if err := checkBar(job.Bar); err != nil {
		return noPlan(fmt.Sprintf("the bar: %v", err))
	}
	if err := p.checkMade(); err != nil {
		return err
	}
	if job.Bend < 0 || math.IsNaN(float64(job.Bend)) {
		return noPlan(fmt.Sprintf("nothing is bent to an inside radius of %v", job.Bend))
	}
	if job.Temper != AnyTemper && !slices.Contains(PlanTempers(), job.Temper) {
		return noPlan(fmt.Sprintf("%.40q is no temper: it is soft, springy, hard or age-hardened", job.Temper))
	}
	if job.Temper == AgeHardened && len(p.alloy.Rules(alloys.RuleAge)) == 0 {
		return noPlan(fmt.Sprintf("nothing is published of ageing %s: choose soft, springy or hard", p.alloy.Name))
	}
	return p.checkJoints()
}

// checkMade refuses a shape or a bowl that cannot be made of such a bar.
func (p *planner) checkMade() error {
	job := p.job
	if job.ofBowl() {
		return p.checkBowl()
	}
	switch job.Bar.Shape {
	case unit.Rectangular, unit.Square, unit.Round:
	default:
		return noPlan(fmt.Sprintf("%v is no bar: a plan begins with a bar such as 10x10 or 8 round", job.Bar))
	}
	if err := job.Shape.Check(); err != nil {
		return noPlan(fmt.Sprintf("the shape: %v", err))
	}
	return p.checkTwist()
}

// checkJoints refuses a solder that lets go no sooner than the metal.
func (p *planner) checkJoints() error {
	melts, ok := p.alloy.Default(alloys.Solidus, alloys.Wrought)
	for _, j := range p.job.Joints {
		if ok && j.Solidus >= unit.Celsius(melts.Low) {
			return noPlan(fmt.Sprintf("the solder of %v melts from %v, and %s starts to at %g °C", j, j.Solidus, p.alloy.Name, melts.Low))
		}
	}
	return nil
}

// limits finds both limits: the smith's own where it speaks of a condition, else
// the table's.
func (p *planner) limits() error {
	if p.alloy.SelfSoftening {
		return noPlan(fmt.Sprintf("%s softens by itself at room temperature: it needs no anneal, and no plan", p.alloy.Name))
	}
	if _, err := coldwork.LimitOf(p.alloy, alloys.Wrought, p.job.Limit); err != nil {
		if _, cast := coldwork.LimitOf(p.alloy, alloys.Cast, p.job.Limit); cast != nil {
			return noPlan(err.Error())
		}
	}
	s := State{Alloy: p.alloy, Limit: p.job.Limit}
	p.limit, p.first = s.published(alloys.Wrought), s.published(alloys.Cast)
	if !p.limit.Known() {
		return noPlan(fmt.Sprintf("no limit is published for %s: give your own", p.alloy.Name))
	}
	return nil
}

// asCast reports whether any zone starts as cast.
func (p *planner) asCast() bool {
	return slices.ContainsFunc(p.zones, func(z planTarget) bool { return z.start.cast })
}

// plan makes the plan once every zone has its start.
func (p *planner) plan() (Plan, error) {
	if p.asCast() && !p.first.Known() {
		return Plan{}, noPlan(fmt.Sprintf("no limit is published for %s as cast: give your own", p.alloy.Name))
	}
	mass, err := p.mass()
	if err != nil {
		return Plan{}, err
	}
	for i := range p.zones {
		if err := p.reach(&p.zones[i]); err != nil {
			return Plan{}, err
		}
	}
	p.ways()
	found, search, ok := p.search()
	if !ok || p.twists() > mostTwists {
		return Plan{}, noPlan(p.whyNot())
	}
	b := planBuilder{planner: p, search: search, found: found}
	out := b.build()
	out.Mass = mass
	return out, nil
}

// mass weighs the bar against the finished piece.
func (p *planner) mass() (m PlanMass, err error) {
	d, ok := densityOf(p.alloy)
	switch {
	case ok && p.job.ofBowl():
		return p.massOfBowl(d)
	case !ok || p.job.Length == 0:
		return m, nil
	}
	m.Bar = d.Mass(unit.CubicMillimetre(areaOf(coldwork.Section(p.job.Bar)) * float64(p.job.Length)))
	m.Finished = d.Mass(p.job.Shape.Volume())
	if m.Spare = m.Bar - m.Finished; m.Spare < -0.005 {
		return m, noPlan(fmt.Sprintf("the bar is %s g short: it weighs %.1f g and the finished piece %.1f g, before any loss",
			grams(-m.Spare), float64(m.Bar), float64(m.Finished)))
	}
	return m, nil
}

// grams prints whole grams from ten on, tenths below, and hundredths below one.
func grams(g unit.Gram) string {
	switch {
	case g >= 10:
		return fmt.Sprintf("%.0f", float64(g))
	case g >= 1:
		return fmt.Sprintf("%.1f", float64(g))
	}
	return fmt.Sprintf("%.2f", float64(g))
}

// reach refuses a zone whose section does not come from its metal: no hammer adds
// area, and none makes a bar thicker.
func (p *planner) reach(z *planTarget) error {
	from := z.start.section
	if isVessel(from) {
		return nil
	}
	thin, _ := sidesOf(from)
	need, _ := sidesOf(z.end)
	switch area := areaOf(from); {
	case areaOf(z.end) > area+1e-6:
		return noPlan(fmt.Sprintf("%s cannot be reached from that bar: %v needs %.1f mm² and there are %.1f mm², which spread no wider than %.1f mm at %.4g mm thick",
			z.the(), z.Section, areaOf(z.end), area, area/need, need))
	case need > thin+1e-6:
		return noPlan(fmt.Sprintf("%s cannot be reached from that bar: %v is %.4g mm thick and the bar only %.4g mm, and no hammer makes it thicker",
			z.the(), z.Section, need, thin))
	}
	return nil
}

// the is a zone in a sentence.
func (z *PlanZone) the() string {
	if z.Name == Whole {
		return "this section"
	}
	return "the section of the " + z.Name
}

// ways lays the way of every zone: together while the bar is drawn to the largest
// area that any of them needs, then apart.
func (p *planner) ways() {
	from := p.zones[0].start
	p.trunk = nil
	together := !slices.ContainsFunc(p.zones, func(z planTarget) bool {
		return z.start != from || !flatter(from.section, z.goal())
	})
	if thin, wide := sidesOf(from.section); together && len(p.zones) > 1 {
		thick, width := 0.0, 0.0
		for _, z := range p.zones {
			if t, w := drawn(thin, wide, z.drawTo()); t > thick {
				thick, width = t, w
			}
		}
		if thick < thin-1e-9 {
			trunk := newPath(from.section)
			trunk.add(drawing(from.section, thick))
			trunk.measure()
			p.trunk = &trunk
			from.section = bar(thick, width)
		}
	}
	for i := range p.zones {
		z := &p.zones[i]
		at := z.start.section
		if p.trunk != nil {
			at = from.section
		}
		if z.path = z.wayTo(at); isVessel(at) {
			z.path = roundingWay(at, z.end, p.job.Sunk)
		}
	}
}

// search looks for the plan that anneals no zone of 3 to 12 %, and without that
// rule where there is none.
func (p *planner) search() (found, *planSearch, bool) {
	for _, least := range []float64{coarseBelow(), 0} {
		s := &planSearch{first: float64(p.first.Strain), limit: float64(p.limit.Strain), least: least, trunk: p.trunk, end: p.end}
		for i := range p.zones {
			s.zones = append(s.zones, &p.zones[i])
		}
		if f, ok := s.run(); ok {
			p.coarse = least == 0
			return f, s, true
		}
	}
	return found{}, nil, false
}

// whyNot says why no number of anneals helps.
func (p *planner) whyNot() string {
	if n := p.twists(); n > mostTwists {
		return fmt.Sprintf("%g turns over %v take %d anneals: twist it less, or over more length", p.job.Turns, p.job.Over, n)
	}
	for i := range p.zones {
		z := &p.zones[i]
		if z.bend > p.limit.Strain {
			return fmt.Sprintf("bending %s to an inside radius of %v takes %.0f %% of the limit even if it is soft: bend it wider",
				z.Section, p.job.Bend, 100*float64(z.bend/p.limit.Strain))
		}
		for at := range z.path.last() {
			if w := z.path.between(at, at+1); w > float64(p.limit.Strain) {
				return fmt.Sprintf("a limit of %s does not last from %v to %v, the next size that a calliper shows", p.limit.Text, z.path.stops[at].section, z.path.stops[at+1].section)
			}
		}
	}
	return fmt.Sprintf("no plan of %d anneals or fewer keeps every step under %s", mostAnneals, p.limit.Text)
}
