// Package demo is an invented evening class at Saltmarsh Quay that forges
// sterling spoons and copper bowls from cast bar: pieces in different states,
// made in memory, so that the program can be tried without a record. Nothing in
// it is measured; the sizes are made up to be plausible.
package demo

import (
	"fmt"
	"time"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/stock"
)

// Piece is one piece of the class with its entries, oldest first.
type Piece struct {
	Name    string
	Entries []schedule.Entry
}

// script is a piece as the class made it: the start, the shape that it is to get where
// it was planned, and what was done how many minutes ago.
type script struct {
	name  string
	start schedule.Started
	shape string
	steps []step
}

type step struct {
	ago   int // minutes before the moment of the demo
	zones []string
	body  schedule.Body
}

// bench is the one at which the class is: whoever shows it is at that bench.
const bench schedule.ID = "00000000-0000-7000-8000-000000000000"

// Class is the class as it stands at a moment.
func Class(now time.Time) []Piece {
	var pieces []Piece
	for i, s := range scripts() {
		pieces = append(pieces, s.play(i, schedule.Moment(now)))
	}
	return pieces
}

// play turns a script into entries. The ids are fixed, so that the same moment
// gives the same class.
func (s script) play(piece int, now time.Time) Piece {
	id := func(n int) schedule.ID {
		return schedule.ID(fmt.Sprintf("00000000-0000-7000-8000-%04d%08d", piece+1, n))
	}
	p := Piece{Name: s.name}
	log := func(st step) {
		at := now.Add(-time.Duration(st.ago) * time.Minute)
		p.Entries = append(p.Entries, schedule.Entry{ID: id(len(p.Entries) + 3), At: at, Written: at, Bench: bench, Hand: id(1),
			Piece: id(2), Zones: st.zones, Version: 1, Body: st.body})
	}
	first := s.steps[0].ago
	log(step{ago: first + 15, body: s.start})
	if plan, ok := s.plan(p.Entries); ok {
		log(step{ago: first + 10, body: plan})
	}
	for _, st := range s.steps {
		log(st)
	}
	return p
}

// plan is what was planned for the bar as it was started; false for a piece that is
// made by eye.
func (s script) plan(begun []schedule.Entry) (schedule.Planned, bool) {
	shape, err := stock.ParseShape(s.shape)
	if err != nil {
		return schedule.Planned{}, false
	}
	state := schedule.Fold(begun)
	plan, err := state.PlanOn(schedule.PlanJob{Shape: shape}, schedule.PlanKnown{Hand: begun[0].Hand})
	return schedule.Planned{Plan: plan}, err == nil
}

func bar(t, w unit.Millimetre) schedule.Reading {
	return schedule.Reading{Size: unit.Size{Shape: unit.Rectangular, Thick: t, Width: w}}
}

func pass(p coldwork.Process, r schedule.Reading) schedule.Pass {
	return schedule.Pass{Process: p, Count: 1, Reading: r}
}

func sterling(t, w unit.Millimetre, zones ...string) schedule.Started {
	return schedule.Started{Alloy: "AG925", Reading: bar(t, w), Length: 90, Cast: true, Zones: zones, Calliper: 0.1}
}

// softened is a first course, a heat and a bend check, as each cast bar had.
func softened(ago int, to schedule.Reading) []step {
	return []step{
		{ago: ago, body: pass(coldwork.Lengthen, to)},
		{ago: ago - 3, body: schedule.Begun{}},
		{ago: ago - 6, body: schedule.Reached{Temp: 630}},
		{ago: ago - 7, body: schedule.Out{}},
		{ago: ago - 8, body: schedule.Quenched{}},
		{ago: ago - 10, body: schedule.Soft{}},
	}
}

// spoonBlank is a spoon flat, bowl first: 50 of the 60 g of the bar.
const spoonBlank = "0:14x3 45:14x3 70:4.5x4.5 170:6x3.5"

func scripts() []script {
	return []script{
		{"spoon 1", sterling(8, 8), spoonBlank, append(softened(70, bar(7.3, 7.4)),
			step{40, nil, pass(coldwork.Lengthen, bar(6.9, 7.1))},
			step{34, nil, pass(coldwork.Lengthen, bar(6.6, 6.7))})},
		{"spoon 2", sterling(8, 8), "", append(softened(75, bar(7.4, 7.6)),
			step{50, nil, pass(coldwork.Lengthen, bar(6.6, 7.2))},
			step{44, nil, pass(coldwork.Lengthen, bar(5.9, 6.8))},
			step{37, nil, pass(coldwork.Lengthen, bar(5.2, 6.4))},
			step{30, nil, pass(coldwork.Lengthen, bar(4.6, 6.1))})},
		{"spoon 3", sterling(8, 8, "bowl", "neck", "handle"), "", append(softened(80, bar(7.4, 7.6)),
			step{41, []string{"bowl"}, pass(coldwork.Widen, bar(5.6, 8.6))},
			step{35, []string{"bowl"}, pass(coldwork.Widen, bar(4.6, 9.6))},
			step{28, []string{"handle"}, pass(coldwork.Lengthen, bar(6.6, 7.0))})},
		{"spoon 4", sterling(8, 8), spoonBlank, []step{
			{25, nil, pass(coldwork.Lengthen, bar(7.3, 7.4))},
			{9, nil, schedule.Begun{}},
			{5, nil, schedule.Reached{Temp: 640}},
			{2, nil, schedule.Out{}}}},
		{"bowl 1", schedule.Started{Alloy: "C11000", Calliper: 0.1,
			Reading: schedule.Reading{Size: unit.Size{Shape: unit.Sheet, Thick: 1.2}, Ring: 150}}, "", []step{
			{55, nil, pass(coldwork.Raise, schedule.Reading{Ring: 141})},
			{43, nil, pass(coldwork.Raise, schedule.Reading{Ring: 132})},
			{31, nil, pass(coldwork.Raise, schedule.Reading{Ring: 124})}}},
		{"bowl 2", schedule.Started{Alloy: "C11000", Calliper: 0.1,
			Reading: schedule.Reading{Size: unit.Size{Shape: unit.Sheet, Thick: 1.2}, Ring: 150}}, "", []step{
			{36, nil, pass(coldwork.Raise, schedule.Reading{Ring: 140})},
			{20, nil, schedule.CrackSeen{}}}},
	}
}
