package schedule

import (
	"cmp"
	"fmt"
	"slices"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
	"dullred/schedule/heat"
)

// anneal heats the zones that pick chooses, all in one heat.
func (b *planBuilder) anneal(pick func(planAt) bool) {
	var zones []int
	for i, z := range b.at {
		if pick(z) {
			zones = append(zones, i)
		}
	}
	if len(zones) == 0 {
		return
	}
	step := PlanStep{Act: DoAnneal, Zones: b.names(zones), Zone: b.words(zones), Text: b.leftOut()}
	for _, i := range zones {
		if text := heat.Spare(b.at[i].work); text != "" {
			b.noteOnce(fmt.Sprintf("The %s meets a heat with %.0f %% worked, where the grain comes out coarse; there is no way round it from this bar.",
				b.zones[i].Name, 100*float64(b.at[i].work.Worked())))
		}
	}
	if len(zones) == len(b.zones) {
		step.Text = ""
	}
	b.heat(&step, zones)
	for _, i := range zones {
		z := &b.at[i]
		z.cast = z.cast && z.work < castDone*b.first.Strain
		z.work = 0
	}
	step.Hardness = coldwork.TemperOf(b.alloy, coldwork.FormOf(b.at[zones[0]].section), coldwork.Estimate{}).Hardness
	b.add(step)
	b.out.Anneals++
}

// leftOut says why a heat leaves zones out.
func (b *planBuilder) leftOut() string {
	var soft, light []string
	for i, z := range b.at {
		switch {
		case float64(z.work) < softBelow():
			soft = append(soft, b.zones[i].Name)
		case float64(z.work) < b.search.least:
			light = append(light, b.zones[i].Name)
		}
	}
	text := ""
	if len(soft) > 0 {
		text = "keep the flame off the " + inWords(soft) + ": soft already"
	}
	if len(light) > 0 {
		text = cmp.Or(text, "keep the flame off the "+inWords(light)) + ": 3 to 12 % worked comes out coarse"
	}
	return text
}

// stamp is done flat and soft.
func (b *planBuilder) stamp() {
	if !b.job.Stamp {
		return
	}
	step := PlanStep{Act: DoStamp, Zone: Whole, Zones: b.names(nil), Text: "flat, while it is soft; local work, outside the sum"}
	b.judgeAll(&step)
	b.add(step)
}

// judgeAll puts the zone with the largest share on a step, of those it names.
func (b *planBuilder) judgeAll(step *PlanStep) {
	worst := -1
	share := func(i int) unit.Strain { return b.at[i].work / b.limitOf(b.at[i].cast).Strain }
	for i := range b.at {
		if slices.Contains(step.Zones, b.zones[i].Name) && (worst < 0 || share(i) > share(worst)) {
			worst = i
		}
	}
	b.judge(step, b.at[worst], b.at[worst].work)
}

func (b *planBuilder) bend() {
	if b.job.Bend == 0 {
		return
	}
	var bent []int
	for i := range b.at {
		b.at[i].work += b.zones[i].bend
		if !b.zones[i].Wire {
			bent = append(bent, i)
		}
	}
	step := PlanStep{Act: DoBend, Zone: b.words(bent), Zones: b.names(bent), Process: coldwork.Bending, Minutes: bendMinutes,
		Text: fmt.Sprintf("round a former, inside radius %v", b.job.Bend)}
	if b.job.Stamp {
		step.Text += "; anneal first if it springs: stamped lines are hard, and no sum counts them"
	}
	b.judgeAll(&step)
	b.add(step)
}

// solder makes the joints, the hardest solder first. Each is a heat that leaves the
// piece soft and bounds all heats to come.
func (b *planBuilder) solder() {
	for _, j := range b.job.Joints {
		for i, z := range b.at {
			if text := heat.Spare(z.work); text != "" && float64(z.work) >= softBelow() {
				b.noteOnce(fmt.Sprintf("The %s is soldered with %.0f %% worked: the grain comes out coarse.", b.zones[i].Name, 100*float64(z.work.Worked())))
			}
			b.at[i].cast = z.cast && z.work < castDone*b.first.Strain
			b.at[i].work = 0
		}
		b.state.Joints = append(b.state.Joints, j)
		text := fmt.Sprintf("%v, lets go at %v; a heat that leaves it soft", j, j.Solidus)
		if c, ok := b.state.Ceiling(alloys.Wrought); ok {
			text += fmt.Sprintf("; every later heat below %.0f °C", float64(c.Temp))
		}
		step := PlanStep{Act: DoSolder, Zone: cmp.Or(j.Name, Whole), Zones: b.names(nil), Solidus: j.Solidus, Text: text}
		b.solderTime(&step)
		b.judgeAll(&step)
		b.add(step)
	}
	for i := 1; i < len(b.job.Joints); i++ {
		if b.job.Joints[i-1].Solidus-b.job.Joints[i].Solidus < b.state.SolderMargin() {
			b.noteOnce(fmt.Sprintf("%v and %v let go within %v of each other: hold the first with anti-flux or binding wire.",
				b.job.Joints[i-1], b.job.Joints[i], b.state.SolderMargin()))
		}
	}
}

// remarks are what holds for the whole plan.
func (b *planBuilder) remarks() {
	for i := range b.zones {
		z := &b.zones[i]
		if isVessel(z.end) {
			continue
		}
		if sides := z.Section.Kind; areaOf(z.end) != float64(z.Section.Width*z.Section.Thick) && z.end.Shape != unit.Round {
			b.noteOnce(fmt.Sprintf("A %v section is forged as the flat bar of its area and then shaped to %v.", sides, z.Section))
		}
	}
	b.mindBowl()
	if b.job.Length == 0 && !b.job.ofBowl() {
		b.note("The length of the bar is not given: whether there is metal enough was not checked.")
	}
	if low, high, ok := b.job.Temper.aimOf(); ok {
		b.note(fmt.Sprintf("%s is taken as %.0f to %.0f %% of the limit after the last heat, a judgement.", b.job.Temper, 100*low, 100*high))
	}
	b.note("Minutes: " + minutesBasis)
}
