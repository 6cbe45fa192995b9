package schedule

import (
	"fmt"
	"math"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
	"dullred/schedule/stock"
)

// ofBowl reports whether a job makes a bowl of a disc.
func (j PlanJob) ofBowl() bool { return j.Bowl != stock.Bowl{} }

// Made is what a job makes, as it is typed.
func (j PlanJob) Made() string {
	if j.ofBowl() {
		return j.Bowl.String()
	}
	return j.Shape.String()
}

// zones are the zones of what a job makes.
func (j PlanJob) zones() []planTarget {
	if !j.ofBowl() {
		return planZones(j.Shape)
	}
	mouth := coldwork.Section(j.Bar)
	mouth.Diameter = j.Bowl.Diameter
	return []planTarget{{PlanZone: PlanZone{Name: Whole}, end: mouth}}
}

// isVessel reports whether a section is the wall of a bowl, read at a ring.
func isVessel(s coldwork.Section) bool { return s.Shape == unit.Sheet && s.Diameter > 0 }

// ringGrid is the least distance of two rings at which a pass may stop, in mm.
const ringGrid = 1.0

// rounding are the stops that bring the edge of a disc in to the mouth of a bowl,
// each a ring.
func rounding(from, to coldwork.Section, by coldwork.Process) (stops []planStop) {
	d, mouth := float64(from.Diameter), float64(to.Diameter)
	step := max(ringGrid, math.Ceil((d-mouth)/mostStops))
	at := to
	for ring := math.Ceil(d - step); ring > mouth+1e-9; ring -= step {
		at.Diameter = unit.Millimetre(ring)
		stops = append(stops, stopAt(at, by))
	}
	return append(stops, stopAt(to, by))
}

// roundingWay is the way of a bowl.
func roundingWay(from, to coldwork.Section, sunk bool) planPath {
	p, by := newPath(from), coldwork.Raise
	if sunk {
		by = coldwork.Sink
	}
	if from.Diameter > to.Diameter {
		p.add(rounding(from, to, by))
	}
	p.measure()
	return p
}

// checkBowl refuses what a disc and its bowl cannot be.
func (p *planner) checkBowl() error {
	job := p.job
	switch {
	case !isVessel(coldwork.Section(job.Bar)):
		return noPlan(fmt.Sprintf("%v is no disc: a bowl begins with a sheet of which the edge was read", job.Bar))
	case job.Bowl.Check() != nil:
		return noPlan(job.Bowl.Check().Error())
	case job.Bend > 0 || job.Turns > 0:
		return noPlan("a bowl is neither bent nor twisted")
	case job.Bar.Diameter < job.Bowl.Diameter:
		return noPlan(fmt.Sprintf("the edge is at a ring of %v already, inside the mouth of %v", job.Bar.Diameter, job.Bowl.Diameter))
	}
	return nil
}

// checkBar refuses a bar, or a disc with its ring, of no size.
func checkBar(z unit.Size) error {
	if isVessel(coldwork.Section(z)) {
		ring := z.Diameter
		z.Diameter = 0
		if !(ring >= z.Thick && ring <= 1e5) {
			return fmt.Errorf("no disc is %v across", ring)
		}
	}
	return z.Check()
}

// massOfBowl weighs a disc against its bowl, the wall taken to keep its thickness.
// An edge that was worked says nothing of the disc, so that it is not weighed.
func (p *planner) massOfBowl(d unit.Density) (m PlanMass, err error) {
	if !p.fresh {
		return m, nil
	}
	disc, need := p.job.Bar.Diameter, p.job.Bowl.Disc()
	wall := func(across unit.Millimetre) unit.Gram {
		return d.Mass(unit.CubicMillimetre(math.Pi / 4 * float64(across*across*p.job.Bar.Thick)))
	}
	m = PlanMass{Bar: wall(disc), Finished: wall(need)}
	if m.Spare = m.Bar - m.Finished; disc < need-0.05 {
		return m, noPlan(fmt.Sprintf("the disc is %.1f mm short: %s takes one of %.1f mm, if its wall keeps its thickness", float64(need-disc), p.job.Bowl, float64(need)))
	}
	return m, nil
}

// mindBowl says what no ring shows.
func (b *planBuilder) mindBowl() {
	if !b.job.ofBowl() {
		return
	}
	b.note("The work is that of the edge, read at its ring. Common practice is an anneal after every round, and folds at the edge are smoothed out before they lie over.")
	b.note("Last planish it and trim the rim: the disc by area leaves nothing for that.")
}

// densityOf is the middle of the published densities of an alloy.
func densityOf(a alloys.Alloy) (unit.Density, bool) {
	d, ok := a.Default(alloys.Density, "")
	return unit.Density((d.Low + d.High) / 2), ok
}
