package schedule_test

import (
	"fmt"
	"time"
	"unicode"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/heat"
)

// Generators of whatever a record may hold: every kind, every shape, every
// figure within its bounds.

var anyLength = rapid.Map(rapid.Float64Range(0.001, 100_000), func(f float64) unit.Millimetre { return unit.Millimetre(f) })

// optional is a length or none.
var optional = rapid.OneOf(rapid.Just(unit.Millimetre(0)), anyLength)

var anyID = rapid.Map(rapid.SliceOfN(rapid.Byte(), 16, 16), func(b []byte) schedule.ID {
	return schedule.ID(uuid.UUID(b).String())
})

var anyTime = rapid.Map(rapid.Int64Range(0, time.Date(2199, 12, 31, 0, 0, 0, 0, time.UTC).UnixMicro()),
	func(us int64) time.Time { return time.UnixMicro(us).UTC() })

var anyName = rapid.StringOfN(rapid.RuneFrom(nil, unicode.Letter, unicode.Digit, unicode.Punct), 1, 15, 60)

// anyZones is nil for the whole piece, as a decoded entry has it.
var anyZones = rapid.Custom(func(t *rapid.T) []string {
	zones := rapid.SliceOfNDistinct(anyName, 0, 5, rapid.ID[string]).Draw(t, "zones")
	if len(zones) == 0 {
		return nil
	}
	return zones
})

var anySize = rapid.Custom(func(t *rapid.T) unit.Size {
	a, b, c := anyLength.Draw(t, "a"), anyLength.Draw(t, "b"), anyLength.Draw(t, "c")
	shape := unit.Shape(rapid.IntRange(int(unit.Rectangular), int(unit.Ring)).Draw(t, "shape"))
	switch shape {
	case unit.Rectangular:
		return unit.Size{Shape: shape, Thick: a, Width: b}
	case unit.Square:
		return unit.Size{Shape: shape, Thick: a, Width: a}
	case unit.Round:
		return unit.Size{Shape: shape, Diameter: a}
	case unit.Sheet:
		return unit.Size{Shape: shape, Thick: a}
	case unit.Tube:
		outside := max(a, 1)
		return unit.Size{Shape: shape, Diameter: outside, Thick: outside / 4}
	}
	return unit.Size{Shape: shape, Thick: a, Width: b, Diameter: c}
})

// anyReading has a size at least.
var anyReading = rapid.Custom(func(t *rapid.T) schedule.Reading {
	return schedule.Reading{Size: anySize.Draw(t, "size"), Ring: optional.Draw(t, "ring")}
})

var anyStarted = rapid.Custom(func(t *rapid.T) schedule.Body {
	return schedule.Started{Alloy: rapid.String().Draw(t, "alloy"), Reading: anyReading.Draw(t, "reading"),
		Length: optional.Draw(t, "length"), Cast: rapid.Bool().Draw(t, "cast"), Zones: anyZones.Draw(t, "names"),
		Calliper: unit.Millimetre(rapid.Float64Range(0.001, 2).Draw(t, "calliper")), Limit: rapid.String().Draw(t, "limit"),
		Mark: rapid.OneOf(rapid.Just(""), anyName).Draw(t, "mark"), Stock: rapid.OneOf(rapid.Just(""), anyName).Draw(t, "stock"), Test: rapid.Bool().Draw(t, "test")}
})

var anyPass = rapid.Custom(func(t *rapid.T) schedule.Body {
	p := schedule.Pass{Process: rapid.SampledFrom(coldwork.Processes()).Draw(t, "process"),
		Count:   rapid.IntRange(1, 1000).Draw(t, "count"),
		Reading: rapid.OneOf(rapid.Just(schedule.Reading{}), anyReading).Draw(t, "reading"),
		Tool:    rapid.OneOf(rapid.Just(""), anyName).Draw(t, "tool")}
	switch p.Process {
	case coldwork.Bending:
		p.Radius = anyLength.Draw(t, "radius")
	case coldwork.Twisting:
		p.Turns, p.Over = rapid.Float64Range(0.01, 10000).Draw(t, "turns"), anyLength.Draw(t, "over")
	}
	return p
})

var anyTemp = rapid.Map(rapid.Float64Range(-273, 4000), func(f float64) unit.Celsius { return unit.Celsius(f) })

func anyVerdict(t *rapid.T) schedule.Verdict {
	return schedule.Verdict(rapid.IntRange(0, int(schedule.VerdictFinished)).Draw(t, "verdict"))
}

// anyOther is a body of a kind that is neither a start nor a pass.
var anyOther = rapid.Custom(func(t *rapid.T) schedule.Body {
	text := func(name string) string { return rapid.String().Draw(t, name) }
	number := func(name string) float64 { return rapid.Float64Range(0, 1e6).Draw(t, name) }
	switch b := rapid.SampledFrom(every()[2:]).Draw(t, "kind").(type) {
	case schedule.Measured:
		return schedule.Measured{Reading: anyReading.Draw(t, "reading")}
	case schedule.Filed:
		return schedule.Filed{Reading: anyReading.Draw(t, "reading")}
	case schedule.Begun:
		return schedule.Begun{Temp: anyTemp.Draw(t, "temp"), Torch: rapid.OneOf(rapid.Just(""), anyName).Draw(t, "torch"),
			Brick: rapid.Bool().Draw(t, "brick")}
	case schedule.TorchLit:
		return schedule.TorchLit{Torch: rapid.OneOf(rapid.Just(""), anyName).Draw(t, "torch"), Brick: rapid.Bool().Draw(t, "brick")}
	case schedule.Jointed:
		return schedule.Jointed{Joint: anyName.Draw(t, "joint"), Solder: anyName.Draw(t, "solder"),
			Solidus: unit.Celsius(rapid.Float64Range(100, 900).Draw(t, "solidus")), Flow: unit.Celsius(rapid.Float64Range(900, 1400).Draw(t, "flow"))}
	case schedule.Planned:
		p := rodPlan
		p.Minutes, p.Anneals = number("minutes"), rapid.IntRange(0, 60).Draw(t, "anneals")
		p.Notes = []string{text("note")}
		return schedule.Planned{Plan: p}
	case schedule.Bath:
		return schedule.Bath{State: rapid.SampledFrom(schedule.BathStates()).Draw(t, "state"), Iron: rapid.Bool().Draw(t, "iron")}
	case schedule.Trace:
		return schedule.Trace{Curve: "c" + text("curve"), Max: anyTemp.Draw(t, "max"), Hot: time.Duration(rapid.Int64Range(0, int64(7*24*time.Hour)).Draw(t, "hot")),
			Steps: []schedule.TraceStep{{Temp: anyTemp.Draw(t, "temp"), For: time.Duration(rapid.Int64Range(0, int64(7*24*time.Hour)).Draw(t, "for"))}}}
	case schedule.Reached:
		return schedule.Reached{Temp: anyTemp.Draw(t, "temp")}
	case schedule.Out:
		return schedule.Out{Temp: anyTemp.Draw(t, "temp")}
	case schedule.Shown:
		return schedule.Shown{After: anyID.Draw(t, "after"), Verdict: anyVerdict(t), Zone: text("zone"), Worked: number("worked"),
			Spent: number("spent"), Limit: number("limit"), Table: text("table")}
	case schedule.Raised:
		return schedule.Raised{Cause: text("cause"), Verdict: anyVerdict(t), What: text("what")}
	case schedule.Acknowledged:
		return schedule.Acknowledged{Alert: anyID.Draw(t, "alert")}
	case schedule.Note:
		return schedule.Note{Text: text("text")}
	case schedule.Weighed:
		return schedule.Weighed{Mass: unit.Gram(rapid.Float64Range(float64(unit.MinMass), float64(unit.MaxMass)).Draw(t, "mass")),
			What: rapid.SampledFrom([]schedule.Part{schedule.PartPiece, schedule.PartScrap}).Draw(t, "what")}
	case schedule.Photo:
		return schedule.Photo{Ref: anyName.Draw(t, "ref")}
	case schedule.Signalled:
		return schedule.Signalled{Sign: rapid.SampledFrom(schedule.Signs()).Draw(t, "sign")}
	case schedule.Loosened:
		return schedule.Loosened{Alloy: anyName.Draw(t, "alloy"), Stock: anyName.Draw(t, "stock"),
			Condition: rapid.SampledFrom([]alloys.Condition{alloys.Cast, alloys.Wrought}).Draw(t, "condition"), Held: rapid.Bool().Draw(t, "held")}
	case schedule.Drilled:
		n := rapid.IntRange(0, 500)
		return schedule.Drilled{Level: n.Draw(t, "level"), Seed: rapid.Uint64().Draw(t, "seed"), Asked: n.Draw(t, "asked"),
			Error: rapid.Float64Range(-99, 99).Draw(t, "error"), Heats: n.Draw(t, "heats"), Wasted: n.Draw(t, "wasted"),
			Faults: n.Draw(t, "faults"), Splits: n.Draw(t, "splits")}
	case schedule.Noise:
		return schedule.Noise{Level: rapid.Float64Range(40, 140).Draw(t, "level")}
	case schedule.Lit:
		return schedule.Lit{Room: rapid.SampledFrom(heat.Lights()).Draw(t, "room")}
	case schedule.ClockStep:
		return schedule.ClockStep{Wall: time.Duration(rapid.Int64Range(1, 1e18).Draw(t, "wall")),
			Line: time.Duration(rapid.Int64Range(0, 1e18).Draw(t, "line"))}
	case schedule.Void:
		return schedule.Void{Target: anyID.Draw(t, "target")}
	default:
		return b
	}
})

var anyEntry = rapid.Custom(func(t *rapid.T) schedule.Entry {
	return schedule.Entry{ID: anyID.Draw(t, "id"), At: anyTime.Draw(t, "at"), Written: anyTime.Draw(t, "written"),
		Bench: anyID.Draw(t, "bench"), Hand: anyID.Draw(t, "hand"), Piece: anyID.Draw(t, "piece"),
		Zones: anyZones.Draw(t, "touched"), Version: 1,
		Body: rapid.OneOf(anyStarted, anyPass, anyOther, anyOther).Draw(t, "body")}
})

// history is the life of one bar with three zones: every kind, some at the same
// moment, voids of anything, written in no order.
var history = rapid.Custom(func(t *rapid.T) story {
	n := rapid.IntRange(1, 25).Draw(t, "entries")
	begun := wrought("AG925", "bowl", "neck", "handle")
	begun.Cast = rapid.Bool().Draw(t, "cast")
	h := start(begun)
	zones := []string{"", "", "bowl", "neck", "handle"}
	if rapid.IntRange(0, 9).Draw(t, "stray") == 0 {
		zones = append(zones, "spout") // which the piece does not have
	}
	for i := range n {
		e := entryAt(i+1, doing(n).Draw(t, fmt.Sprint("entry ", i+1)))
		e.At = evening.Add(time.Duration(rapid.IntRange(1, n).Draw(t, "minute")) * time.Minute)
		if zone := rapid.SampledFrom(zones).Draw(t, "zone"); zone != "" {
			e.Zones = []string{zone}
		}
		if rapid.IntRange(0, 3).Draw(t, "other hand") == 0 {
			e.Hand = bench
		}
		h = append(h, e)
	}
	return h
})

// doing is something done to the bar in a history of n entries. Heats are
// common, so that some are proved.
func doing(n int) *rapid.Generator[schedule.Body] {
	return rapid.Custom(func(t *rapid.T) schedule.Body {
		target := schedule.Void{Target: idOf(rapid.IntRange(1, n).Draw(t, "target"))}
		side := rapid.Float64Range(2, 8)
		read := bar(unit.Millimetre(side.Draw(t, "thick")), unit.Millimetre(side.Draw(t, "width")))
		p := rapid.SampledFrom(coldwork.Processes()).Draw(t, "process")
		worked := schedule.Pass{Process: p, Count: rapid.IntRange(1, 3).Draw(t, "count")}
		switch p {
		case coldwork.Bending:
			worked.Radius = 30
		case coldwork.Twisting:
			worked.Turns, worked.Over = 0.5, 60
		}
		measured := worked
		measured.Reading = read
		return rapid.SampledFrom(append(every()[2:], worked, worked, measured, measured, target, target,
			schedule.Measured{Reading: read}, schedule.Filed{Reading: read}, schedule.Reached{Temp: 600}, schedule.Soft{})).Draw(t, "doing")
	})
}
