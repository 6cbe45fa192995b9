package schedule

import (
	"slices"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// The minutes of what is not a heat. All are judgements, for a piece of 20 to 80 g.
const (
	courseMinutes  = 2.0
	roundMinutes   = 10.0 // of raising or sinking, all round a bowl
	bendMinutes    = 5.0
	inspectMinutes = 5.0

	minutesBasis = "2 for a course, 10 for a round of a bowl, 5 to bend, twist or inspect (judgements); heats by the torch and the cooling, without pickle, stamping or fitting."
)

// minutesOf is how long a course of a process takes.
func minutesOf(p coldwork.Process) float64 {
	if p == coldwork.Raise || p == coldwork.Sink {
		return roundMinutes
	}
	return courseMinutes
}

// heat puts the temperature and the time of an anneal on a step. The zone with most
// metal in its section takes longest.
func (b *planBuilder) heat(step *PlanStep, zones []int) {
	z := b.thickest(zones)
	low, high, why, ok := b.state.Window(z)
	if ok {
		step.Low, step.High = low, high
	}
	if why != "" {
		b.noteOnce("Heat " + why + ".")
	}
	b.heatTime(step, z)
}

// solderTime is the same for a heat that solders, to the heat of an anneal and held
// as long: the last degrees to the flow of the solder are not reckoned.
func (b *planBuilder) solderTime(step *PlanStep) {
	b.heatTime(step, b.thickest(nil))
}

// thickest is the largest of zones as the heat meets it; nil is all of them. The
// whole piece has the length that its metal has at that section.
func (b *planBuilder) thickest(zones []int) Zone {
	var most planAt
	for i, z := range b.at {
		if (zones == nil || slices.Contains(zones, i)) && (!most.section.Known() || areaOf(z.section) > areaOf(most.section)) {
			most = z
		}
	}
	b.state.Length = 0
	if b.job.Length > 0 {
		volume := areaOf(coldwork.Section(b.job.Bar)) * float64(b.job.Length)
		b.state.Length = unit.Millimetre(volume / areaOf(most.section))
	}
	return Zone{Name: Whole, Condition: conditionOf(most.cast), Tally: coldwork.Tally{}.Reset(most.section)}
}

// heatTime puts on a step a heat from the cold until it is quenched, or cool enough
// to touch, and how long the torch burns of it.
func (b *planBuilder) heatTime(step *PlanStep, z Zone) {
	var up Timer
	b.state.flame(z, &up)
	soak, _ := b.state.soakOf(z)
	down := b.state.touch(z)
	if b.alloy.Cooling().Quenched() {
		down, _, _ = b.state.waitOf(z)
	}
	step.Flame = (up.Target + soak).Minutes()
	step.Minutes = (up.Target + soak + down).Minutes()
}

func conditionOf(cast bool) alloys.Condition {
	if cast {
		return alloys.Cast
	}
	return alloys.Wrought
}
