package schedule

import (
	"fmt"
	"math"

	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// mostTwists is in how many parts a twist may be made, with an anneal before each.
const mostTwists = 20

// twisted is the strain that all the turns of a job put into a zone. A tang is not
// twisted.
func (p *planner) twisted(z planTarget) unit.Strain {
	if p.job.Turns == 0 || z.Wire {
		return 0
	}
	_, high := coldwork.Twist(z.end, p.job.Turns, p.job.Over)
	return high
}

// twists is in how many parts a twist is made, so that none crosses the limit and
// the last leaves room for the bend; 0 is no twist.
func (p *planner) twists() (parts int) {
	for _, z := range p.zones {
		if w := p.twisted(z); w > 0 {
			parts = max(parts, int(math.Ceil(float64(w/(p.limit.Strain-z.bend))-1e-9)))
		}
	}
	return parts
}

// checkTwist refuses what is not twisted.
func (p *planner) checkTwist() error {
	job := p.job
	switch {
	case job.Turns == 0 && job.Over == 0:
		return nil
	case !(job.Turns > 0 && job.Turns <= 1000) || !(job.Over > 0 && job.Over <= 1e5):
		return noPlan(fmt.Sprintf("nothing is twisted %g turns over %v", job.Turns, job.Over))
	case job.Stamp:
		return noPlan("what is stamped flat is not twisted: a twist takes the lines with it")
	}
	return nil
}

// twist is done soft, after the forging and before the bend, in parts of equal turns
// with an anneal before each where the whole would cross the limit.
func (b *planBuilder) twist() {
	parts := b.twists()
	if parts == 0 {
		return
	}
	var rod []int
	for i := range b.zones {
		if !b.zones[i].Wire {
			rod = append(rod, i)
		}
	}
	turns := b.job.Turns / float64(parts)
	for range parts {
		b.anneal(func(z planAt) bool { return z.work > 0 })
		for _, i := range rod {
			b.at[i].work += b.twisted(b.zones[i]) / unit.Strain(parts)
		}
		step := PlanStep{Act: DoPass, Process: coldwork.Twisting, Zone: b.words(rod), Zones: b.names(rod), Courses: 1, Turns: turns,
			Minutes: bendMinutes, Text: fmt.Sprintf("%.3g turns over %v, evenly", turns, b.job.Over)}
		b.judgeAll(&step)
		b.add(step)
	}
}

// turnsTo is how often a plan has a zone twisted up to a step, and with it.
func (p Plan) turnsTo(i int) (turns float64) {
	for _, s := range p.Steps[:i+1] {
		turns += s.Turns
	}
	return turns
}

// turned is how often the zones of a job were twisted since it was planned: as often
// as the one that was twisted least.
func (s *State) turned(job PlanJob) float64 {
	turns := math.Inf(1)
	for _, z := range job.zones() {
		if now, ok := s.planZone(z.Name); ok && !z.Wire {
			turns = min(turns, now.Turned)
		}
	}
	return turns
}
