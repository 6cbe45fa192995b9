package schedule

import (
	"fmt"
	"math"
	"strings"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// The shares of the limit that make a temper after the last heat. SpringyTemper is about
// a quarter to a half of it, hard 70 % and more: judgements, since published tempers
// speak of rolled strip and not of shares of a limit.
const (
	springLow  = 0.25
	springHigh = 0.50
	hardLow    = 0.70
)

// aimOf is the least and the most share of the limit at the end; false where the
// temper does not come from the hammer.
func (t PlanTemper) aimOf() (low, high float64, ok bool) {
	switch t {
	case SpringyTemper:
		return springLow, springHigh, true
	case HardTemper:
		return hardLow, 1, true
	}
	return 0, 0, false
}

// heated reports whether a temper ends in a heat.
func (t PlanTemper) heated() bool { return t == SoftTemper || t == AgeHardened }

// end judges the work that a zone has once its shape is reached and before it is
// stamped, bent or soldered: whether that may be, how far it is from the temper that
// is wanted, and the share of the limit once it is bent.
func (p *planner) end(z *planTarget, work, limit float64) (short, share float64, ok bool) {
	after := work + float64(z.bend)
	share = after / limit
	switch {
	case p.job.Stamp && work >= softBelow():
		return 0, share, false // it is stamped soft
	case p.job.Turns > 0 && work > 0:
		return math.Max(0, coarseBelow()-work) / limit, work / limit, true // annealed before it is twisted
	case p.job.Turns > 0:
		return 0, 0, true
	case z.bend > 0 && share > 1+1e-12:
		return 0, share, false
	case p.job.Stamp:
		return work / limit, share, true // best at once after the anneal; the temper comes later
	case len(p.job.Joints) > 0:
		return 0, share, true // the temper comes after
	}
	if p.job.Temper.heated() && after > 0 {
		return math.Max(0, coarseBelow()-after) / limit, share, true
	}
	low, high, wanted := p.job.Temper.aimOf()
	if !wanted {
		return 0, share, true
	}
	return max(0, low-share), share, share <= high+1e-12 || work == 0
}

// fill is how many courses of planishing bring a zone to a share of its limit that
// is wanted, none of them above the limit.
func fill(work, limit, per unit.Strain, low float64) int {
	has := coldwork.Effort(work)
	n := int(math.Ceil(float64((coldwork.Effort(unit.Strain(low)*limit)-has)/per) - 1e-9))
	most := int(math.Floor(float64((coldwork.Effort(limit)-has)/per) + 1e-9))
	return max(0, min(n, most))
}

// fewPlanish is how many courses of planishing a stamped face bears before its
// lines go flat; a judgement.
const fewPlanish = 5

// harden planishes every zone up to the temper that is wanted.
func (b *planBuilder) harden() {
	low, _, wanted := b.job.Temper.aimOf()
	if !wanted {
		return
	}
	per := b.hand(coldwork.Planish).PerCourse()
	var passes []planPass
	for i := range b.at {
		z := &b.at[i]
		n := fill(z.work, b.limitOf(z.cast).Strain, per, low)
		if n == 0 {
			continue
		}
		inc := b.hand(coldwork.Planish).After(z.work, n) - z.work
		z.work += inc
		passes = append(passes, planPass{zone: i, process: coldwork.Planish, inc: inc, courses: n})
		if b.job.Stamp && n > fewPlanish {
			b.noteOnce(fmt.Sprintf("So much planishing flattens stamped lines: springy keeps them better than %s.", b.job.Temper))
		}
	}
	b.emit(passes)
	if len(b.alloy.Rules(alloys.RuleAge)) > 0 && len(b.job.Joints) == 0 {
		b.note("Or leave it soft and age it, as long as nothing is soldered on: plan it age-hardened.")
	}
	for i := range b.at {
		if z := b.at[i]; float64(z.work/b.limitOf(z.cast).Strain) < low-0.005 {
			b.noteOnce(fmt.Sprintf("The %s comes out softer than %s: one more course would cross its limit.", b.zones[i].Name, b.job.Temper))
		}
	}
}

// soften ends the plan in a heat, and ages what is to be aged.
func (b *planBuilder) soften() {
	if !b.job.Temper.heated() {
		return
	}
	b.anneal(func(z planAt) bool { return z.work > 0 })
	if b.job.Temper != AgeHardened {
		return
	}
	var rules []string
	for _, r := range b.alloy.Rules(alloys.RuleAge) {
		if r.Use == alloys.UseDefault {
			rules = append(rules, r.Text)
		}
	}
	b.note("Then age it. " + strings.Join(rules, " ") + " " + ageingOven)
	if len(b.job.Joints) > 0 {
		b.note("It has joints: no soak above them. Ageing alone hardens less; keep every heat under the ceiling of the joints.")
	}
}
