package schedule

import (
	"cmp"
	"math"
	"slices"

	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// planBuilder writes what was found as steps.
type planBuilder struct {
	*planner
	search *planSearch
	found  found
	at     []planAt // where each zone is
	out    Plan
	looked bool // the casting was inspected
}

// planAt is where a zone is while the plan is written.
type planAt struct {
	section coldwork.Section
	stop    int // of its own way
	work    unit.Strain
	cast    bool
}

// planPass is a pass of one zone.
type planPass struct {
	zone    int
	process coldwork.Process
	stop    coldwork.Section // unknown where nothing is measured
	inc     unit.Strain
	courses int
}

func (b *planBuilder) build() Plan {
	b.out, b.looked = Plan{Job: b.job, Limit: b.limit, Coarse: b.coarse}, b.state.Looked
	if b.asCast() {
		b.out.First = b.first
	}
	for i := range b.zones {
		z := &b.zones[i]
		b.out.Zones = append(b.out.Zones, z.PlanZone)
		b.at = append(b.at, planAt{section: z.start.section, work: z.start.work, cast: z.start.cast})
	}
	for k := range b.found.intervals {
		b.interval(k)
		b.inspect()
		if k < b.found.intervals-1 {
			b.anneal(func(z planAt) bool { return z.work > 0 && float64(z.work) >= b.search.least })
		}
	}
	b.stamp()
	b.twist()
	b.bend()
	b.solder()
	b.harden()
	b.soften()
	b.remarks()
	for _, s := range b.out.Steps {
		b.out.Minutes += s.Minutes
	}
	return b.out
}

// interval is what is done between two anneals: the bar as a whole first, then
// each zone drawn, then each spread.
func (b *planBuilder) interval(k int) {
	f := b.found.fork
	if b.trunk != nil && k <= f.whole {
		to := b.trunk.last()
		if k < f.whole {
			to = f.stops[k+1]
		}
		if from := f.stops[k]; to > from {
			var passes []planPass
			for i := range b.at {
				passes = append(passes, planPass{zone: i, process: b.trunk.stops[to].process,
					stop: b.trunk.stops[to].section, inc: unit.Strain(b.trunk.between(from, to))})
			}
			b.pass(passes)
		}
	}
	if k < f.whole {
		return
	}
	var passes []planPass
	for i := range b.zones {
		passes = append(passes, b.onward(i, b.found.zones[i][k-f.whole])...)
	}
	slices.SortStableFunc(passes, func(x, y planPass) int { return cmp.Compare(turnOf(x.process), turnOf(y.process)) })
	b.pass(passes)
}

// turnOf is which process comes first between two anneals.
func turnOf(p coldwork.Process) int {
	return slices.Index([]coldwork.Process{coldwork.Lengthen, coldwork.Draw, coldwork.Widen, coldwork.Flatten}, p)
}

// onward are the passes of a zone to a stop of its way, one for each stretch; two
// stretches by one process are one pass, since nobody stops between them.
func (b *planBuilder) onward(zone, to int) (passes []planPass) {
	path, at := &b.zones[zone].path, &b.at[zone]
	var from coldwork.Section // where the last of the passes begins
	for at.stop < to {
		begin, next := path.stops[at.stop].section, min(to, path.cornerAfter(at.stop))
		stop := path.stops[next]
		pass := planPass{zone: zone, process: stop.process, stop: stop.section, inc: unit.Strain(path.between(at.stop, next))}
		at.stop = next
		if n := len(passes); n > 0 && passes[n-1].process == pass.process {
			pass.inc = coldwork.Between(from, pass.stop)
			passes[n-1] = pass
			continue
		}
		from = begin
		passes = append(passes, pass)
	}
	return passes
}

// pass works zones and writes it, those alike together.
func (b *planBuilder) pass(passes []planPass) {
	for i, p := range passes {
		z := &b.at[p.zone]
		z.work += p.inc
		z.section = p.stop
		passes[i].courses = b.courses(p)
	}
	b.emit(passes)
	b.inspect()
}

// inspect has a casting looked at once it has had its first blows.
func (b *planBuilder) inspect() {
	worked := slices.ContainsFunc(b.at, func(z planAt) bool { return z.work > 0 })
	if b.looked || !b.asCast() || !worked {
		return
	}
	b.looked = true
	step := PlanStep{Act: DoInspect, Zone: Whole, Zones: b.names(nil), Minutes: inspectMinutes,
		Text: "look for cracks in good light; file out what is open, and the skin of the casting"}
	b.judgeAll(&step)
	b.add(step)
}

// courses are those that this hand is expected to take, to where the zone stands now.
func (b *planBuilder) courses(p planPass) int {
	per := b.hand(p.process).PerCourse()
	if per <= 0 {
		return 0
	}
	to := b.at[p.zone].work
	return max(1, int(math.Round(float64((coldwork.Effort(to)-coldwork.Effort(to-p.inc))/per))))
}

func (p *planner) hand(process coldwork.Process) coldwork.Hand {
	h, ok := p.hands[process]
	if !ok {
		h = coldwork.Learned(coldwork.At{Hand: string(p.known.Hand), Alloy: p.job.Alloy, Process: process}, p.known.Others.courses())
		p.hands[process] = h
	}
	return h
}

func (p *planner) limitOf(cast bool) coldwork.Limit {
	if cast {
		return p.first
	}
	return p.limit
}

// emit writes passes, those of one process to one stop in one step. A zone that
// is worked twice in a row has had less work at the first of the two.
func (b *planBuilder) emit(passes []planPass) {
	later := map[int]unit.Strain{}
	work := make([]unit.Strain, len(passes))
	for i := len(passes) - 1; i >= 0; i-- {
		p := passes[i]
		work[i] = b.at[p.zone].work - later[p.zone]
		later[p.zone] += p.inc
	}
	done := make([]bool, len(passes))
	for i, p := range passes {
		if done[i] {
			continue
		}
		step, zones := b.workStep(p, work[i]), []int{p.zone}
		for j := i + 1; j < len(passes); j++ {
			q := passes[j]
			alike := q.process == p.process && q.stop == p.stop && q.courses == p.courses && b.at[q.zone].cast == b.at[p.zone].cast
			if alike && math.Abs(float64(work[j]-work[i])) < 1e-9 {
				zones, done[j] = append(zones, q.zone), true
			}
		}
		step.Zones, step.Zone = b.names(zones), b.words(zones)
		b.add(step)
	}
}

// workStep is a pass of a zone that has had so much work at its end.
func (b *planBuilder) workStep(p planPass, work unit.Strain) PlanStep {
	z := b.at[p.zone]
	step := PlanStep{Act: DoPass, Process: p.process, StopAt: unit.Size(p.stop), Courses: p.courses,
		Minutes: minutesOf(p.process) * float64(p.courses), Text: b.peen(p)}
	b.judge(&step, z, work)
	return step
}

// judge puts the work of a zone on a step.
func (b *planBuilder) judge(step *PlanStep, z planAt, work unit.Strain) {
	step.Worked = work.Worked()
	step.LimitSpent = float64(work / b.limitOf(z.cast).Strain)
	step.Hardness = coldwork.TemperOf(b.alloy, coldwork.FormOf(z.section), coldwork.Estimate{Strain: work}).Hardness
}

// peen says how the hammer is held.
func (b *planBuilder) peen(p planPass) string {
	switch p.process {
	case coldwork.Lengthen:
		if p.stop.Shape == unit.Round {
			return "square to eight sides to round"
		}
		return "peen across the length, a quarter turn after each course"
	case coldwork.Draw:
		return "through the drawplate"
	case coldwork.Widen:
		return "peen along the length"
	case coldwork.Flatten:
		return "flat face"
	case coldwork.Raise:
		return "over a stake, round by round from the base line to the edge"
	case coldwork.Sink:
		return "into a hollow, round by round from the edge inwards"
	}
	return "light even blows on a polished stake"
}

func (b *planBuilder) add(s PlanStep) { b.out.Steps = append(b.out.Steps, s) }

func (b *planBuilder) note(text string) { b.out.Notes = append(b.out.Notes, text) }

func (b *planBuilder) noteOnce(text string) {
	if !slices.Contains(b.out.Notes, text) {
		b.note(text)
	}
}

// names are zones by name; nil is all of them.
func (b *planBuilder) names(zones []int) (names []string) {
	if zones == nil {
		for i := range b.zones {
			zones = append(zones, i)
		}
	}
	for _, i := range zones {
		names = append(names, b.zones[i].Name)
	}
	return names
}

// words are zones in words.
func (b *planBuilder) words(zones []int) string {
	if len(zones) == len(b.zones) {
		return Whole
	}
	return inWords(b.names(zones))
}
