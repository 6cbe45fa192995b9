package schedule_test

import (
	"fmt"
	"slices"
	"time"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/heat"
	"dullred/schedule/stock"
)

// story is the history of one piece, told entry by entry, a minute apart. It is
// a value: telling it further leaves what was told before as it was.
type story []schedule.Entry

var evening = time.Date(2026, time.March, 3, 18, 0, 0, 0, time.UTC)

const (
	bench = schedule.ID("0198f4b6-0000-7000-8000-0000000000b0")
	hand  = schedule.ID("0198f4b6-0000-7000-8000-0000000000a0")
	piece = schedule.ID("0198f4b6-0000-7000-8000-0000000000c0")
)

// idOf is the id of the n-th entry of a story.
func idOf(n int) schedule.ID {
	return schedule.ID(fmt.Sprintf("0198f4b6-0000-7000-8000-%012d", 1000+n))
}

func entryAt(n int, b schedule.Body, zones ...string) schedule.Entry {
	at := evening.Add(time.Duration(n) * time.Minute)
	return schedule.Entry{ID: idOf(n), At: at, Written: at, Bench: bench, Hand: hand, Piece: piece,
		Zones: zones, Version: 1, Body: b}
}

func start(s schedule.Started) story { return story{entryAt(0, s)} }

// then tells one more entry, about some zones or the whole piece.
func (h story) then(b schedule.Body, zones ...string) story {
	return append(slices.Clone(h), entryAt(len(h), b, zones...))
}

// all tells several entries about the same zones.
func (h story) all(zones []string, bodies ...schedule.Body) story {
	for _, b := range bodies {
		h = h.then(b, zones...)
	}
	return h
}

// quenched is a whole heat, not yet proved.
func (h story) quenched(zones ...string) story {
	return h.all(zones, schedule.Begun{}, schedule.Reached{}, schedule.Out{}, schedule.Quenched{})
}

// annealed is a whole heat and the bend check that proved it.
func (h story) annealed(zones ...string) story {
	return h.quenched(zones...).then(schedule.Soft{}, zones...)
}

// now is the minute after the last entry.
func (h story) now() time.Time { return evening.Add(time.Duration(len(h)) * time.Minute) }

func (h story) state() schedule.State { return schedule.Fold(h) }

func (h story) advice() schedule.Advice {
	s := h.state()
	return s.Advise(h.now(), nil)
}

// done is the strain in the zone that decides.
func (h story) done() float64 { return float64(h.advice().Done.Strain) }

func size(s unit.Shape, z unit.Size) schedule.Reading {
	z.Shape = s
	return schedule.Reading{Size: z}
}

func bar(t, w unit.Millimetre) schedule.Reading {
	return size(unit.Rectangular, unit.Size{Thick: t, Width: w})
}
func sheet(t unit.Millimetre) schedule.Reading { return size(unit.Sheet, unit.Size{Thick: t}) }
func wire(d unit.Millimetre) schedule.Reading  { return size(unit.Round, unit.Size{Diameter: d}) }
func ring(d unit.Millimetre) schedule.Reading  { return schedule.Reading{Ring: d} }

func ringBand(inside, t, w unit.Millimetre) unit.Size {
	return unit.Size{Shape: unit.Ring, Diameter: inside, Thick: t, Width: w}
}

// vessel is a sheet of which a ring is read.
func vessel(t, d unit.Millimetre) schedule.Reading {
	r := sheet(t)
	r.Ring = d
	return r
}

// wrought is a rolled bar, cast one from the mould, both 8 mm square.
func wrought(alloy string, zones ...string) schedule.Started {
	return schedule.Started{Alloy: alloy, Reading: bar(8, 8), Calliper: 0.1, Zones: zones}
}

func cast(alloy string) schedule.Started {
	s := wrought(alloy)
	s.Cast = true
	return s
}

// limited is a start with the smith's own limit or school.
func limited(s schedule.Started, limit string) schedule.Started {
	s.Limit = limit
	return s
}

// course is one course with a reading after it.
func course(p coldwork.Process, r schedule.Reading) schedule.Pass {
	return schedule.Pass{Process: p, Count: 1, Reading: r}
}

// courses are n of a kind with one reading after them all.
func courses(n int, p schedule.Pass) schedule.Pass {
	p.Count = n
	return p
}

// unread are n courses without a reading.
func unread(p coldwork.Process, n int) schedule.Pass { return schedule.Pass{Process: p, Count: n} }

// every has one body of each kind, in the order of the kinds.
func every() []schedule.Body {
	return []schedule.Body{
		wrought("AG925", "bowl", "handle"), course(coldwork.Lengthen, bar(7.4, 7.6)),
		schedule.Measured{Reading: bar(7.4, 7.6)}, schedule.Begun{Temp: 20}, schedule.Reached{Temp: 630},
		schedule.Out{Temp: 610}, schedule.Quenched{}, schedule.Soft{}, schedule.Springy{},
		schedule.CrackSeen{}, schedule.CrackFiled{}, schedule.CrackIgnored{},
		schedule.Filed{Reading: bar(7.3, 7.6)}, schedule.Dressed{},
		schedule.Shown{After: idOf(1), Verdict: schedule.VerdictCarryOn, Zone: schedule.Whole, Worked: 0.1, Spent: 0.2, Limit: 0.69, Table: "0a1b2c3d"},
		schedule.Raised{Cause: "bowl", Verdict: schedule.VerdictAnnealSoon}, schedule.Acknowledged{Alert: idOf(1)},
		schedule.Note{Text: "rings bright"}, schedule.Void{Target: idOf(1)},
		schedule.FoundCool{}, schedule.Pickled{}, schedule.Rinsed{}, schedule.Signalled{Sign: schedule.SignRings},
		schedule.TorchLit{}, schedule.TorchOut{}, schedule.Lit{Room: heat.LightDim},
		schedule.ClockStep{Wall: time.Hour, Line: time.Hour}, schedule.Noise{Level: 94},
		schedule.Fluxed{}, schedule.Jointed{Joint: "handle", Solder: "extra-easy"}, curve, schedule.Bath{State: schedule.BathWorking},
		schedule.Planned{Plan: rodPlan}, schedule.Drilled{Level: 2, Seed: 7, Asked: 4, Error: -0.5, Heats: 3},
		schedule.Loosened{Alloy: "AG925", Stock: "melt 7", Condition: alloys.Wrought},
		schedule.Weighed{Mass: 77}, schedule.Photo{Ref: "12-19"}, schedule.Finished{},
	}
}

// rodPlan is the plan of a rod that is drawn in one go.
var rodPlan = func() schedule.Plan {
	shape, err := stock.ParseShape("0:7x7 90:7x7")
	if err != nil {
		panic(err)
	}
	p, err := schedule.PlanIn(nil, schedule.PlanJob{Alloy: "AG925", Bar: bar(8, 8).Size, Shape: shape}, schedule.PlanKnown{})
	if err != nil {
		panic(err)
	}
	return p
}()

// curve is what a thermocouple read of a short heat.
var curve = schedule.Trace{Curve: "a curve", Max: 640, Hot: 50 * time.Second,
	Steps: []schedule.TraceStep{{Temp: 560, For: 20 * time.Second}, {Temp: 640, For: 30 * time.Second}}}
