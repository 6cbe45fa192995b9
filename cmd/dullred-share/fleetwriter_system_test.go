//go:build system && linux

package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"time"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/record"
)

// order is what a writer is to do. It stands in the environment of the process.
type order struct {
	Record string
	Bench  int
	From   int // acts that were finished before
	Rows   int // to be written at least
}

const orderVariable = "DULLRED_FLEET_WRITER"

// The test program is the writer too, so that a writer needs nothing to be built.
func init() {
	text := os.Getenv(orderVariable)
	if text == "" {
		return
	}
	var o order
	err := json.Unmarshal([]byte(text), &o)
	if err == nil {
		err = o.write()
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(0)
}

// What a writer tells, one line each, before and after it was done.
const (
	telling = "will" // an id, before it is given to the record
	told    = "did"  // an id, after the record has acknowledged it
	acted   = "act"  // an act is finished
	waited  = "busy" // the record had no room for it within five seconds, and nothing was written
)

// actEvery is what lies between two acts of a writer: many times what a smith does, and
// little enough that links and servers fail in between.
const actEvery = 10 * time.Millisecond

// Sizes of what a bench does, in acts.
const (
	ofPiece = 40 // acts on one piece, with two heats
	ofClass = 4  // pieces that all benches work on
)

// writer is a bench at work.
type writer struct {
	order
	r           *record.Record
	bench, hand string
}

// write logs act after act, each as the bench screen does: durable first, then told. For
// each of them it gets leave by a line.
func (o order) write() error {
	r, err := record.Open(o.Record)
	if err != nil {
		return err
	}
	w := &writer{order: o, r: r}
	if w.bench, w.hand, err = ownOf(r); err != nil {
		return err
	}
	leave := bufio.NewScanner(os.Stdin)
	for n, done := o.From, 0; done < o.Rows && leave.Scan(); n++ {
		written, err := w.act(n)
		if err != nil {
			return err
		}
		done += written
		fmt.Println(acted)
		time.Sleep(actEvery)
	}
	return r.Close()
}

// ownOf is whose record it is: dullred made both with the first entry.
func ownOf(r *record.Record) (bench, hand string, err error) {
	if bench, _, err = r.LabelID(record.BenchClass, "bench"); err == nil {
		hand, _, err = r.LabelID(record.HandClass, "smith")
	}
	return bench, hand, err
}

// act writes what one act comes to, and says how many entries that were.
func (w *writer) act(n int) (int, error) {
	d := w.deed(n)
	for _, row := range d.all() {
		fmt.Println(telling, row.ID)
	}
	err := w.r.AppendWith(d.labels, d.derived, d.rows...)
	for ; errors.Is(err, record.ErrBusy); err = w.r.AppendWith(d.labels, d.derived, d.rows...) {
		fmt.Println(waited)
	}
	if errors.Is(err, record.ErrNameTaken) { // another bench has one of that name
		d.labels[0].Text = fmt.Sprintf("%s of bench %d", d.labels[0].Text, w.Bench)
		err = w.r.AppendWith(d.labels, d.derived, d.rows...)
	}
	if err != nil {
		return 0, err
	}
	for _, row := range d.all() {
		fmt.Println(told, row.ID)
	}
	return len(d.all()), nil
}

// deed is what is written at once.
type deed struct {
	labels        []record.Label
	derived, rows []record.Row
}

func (d deed) all() []record.Row { return append(append([]record.Row{}, d.rows...), d.derived...) }

// deed is the nth act: a piece is started, worked with readings now and then, heated and
// proved; in between a piece of the class is worked on, of which every bench finds the
// same alerts.
func (w *writer) deed(n int) (d deed) {
	own := id(fmt.Sprintf("piece %d of bench %d", n/ofPiece, w.Bench))
	step := n % ofPiece
	thick := unit.Millimetre(8 - float64(step)/10)
	bar := schedule.Reading{Size: unit.Size{Shape: unit.Rectangular, Thick: thick, Width: 8}}
	switch {
	case step == 0:
		d.labels = []record.Label{{ID: own, Class: record.PieceClass, Text: fmt.Sprintf("spoon %d", n/ofPiece+1)}}
		d.rows = w.entry(own, schedule.Started{Alloy: "sterling", Reading: bar, Calliper: 0.02})
	case step%20 == 10:
		d.derived = w.alert(piecesOfClass()[n/20%ofClass], n/20)
	case step%20 >= 13 && step%20 < 18:
		d.rows = w.entry(own, heatOf()[step%20-13])
	case step%5 == 4:
		d.rows = w.entry(piecesOfClass()[n/5%ofClass], schedule.Pass{Process: coldwork.Flatten, Count: 1, Tool: "planishing hammer"})
	case step%2 == 0:
		d.rows = w.entry(own, schedule.Pass{Process: coldwork.Lengthen, Count: 2})
		d.derived = w.shown(d.rows[0])
	default:
		d.rows = w.entry(own, schedule.Pass{Process: coldwork.Lengthen, Count: 1, Reading: bar})
		d.derived = w.shown(d.rows[0])
	}
	return d
}

func heatOf() []schedule.Body {
	return []schedule.Body{schedule.Begun{}, schedule.Reached{Temp: 620}, schedule.Out{}, schedule.Quenched{}, schedule.Soft{}}
}

// piecesOfClass are the pieces that all benches work on.
func piecesOfClass() (all []string) {
	for i := range ofClass {
		all = append(all, id(fmt.Sprint("piece of the class ", i)))
	}
	return all
}

func (w *writer) entry(piece string, body schedule.Body) []record.Row {
	now := schedule.Moment(time.Now())
	return rowsOf(schedule.Entry{ID: schedule.NewID(), At: now, Written: now, Bench: schedule.ID(w.bench), Hand: schedule.ID(w.hand),
		Piece: schedule.ID(piece), Version: 1, Body: body})
}

func rowsOf(e schedule.Entry) []record.Row {
	row, err := schedule.Encode(e)
	if err != nil {
		panic(err)
	}
	return []record.Row{record.Row(row)}
}

// shown is the advice after a pass, under an id that follows from that of the pass.
func (w *writer) shown(pass record.Row) []record.Row {
	e, err := schedule.Decode(schedule.Row(pass))
	if err != nil {
		panic(err)
	}
	said := schedule.ZoneAdvice{Verdict: schedule.VerdictCarryOn, Zone: "whole", Spent: 0.4}
	return rowsOf(schedule.Advice{ZoneAdvice: said}.Keep(e, e.Written))
}

// alert is one that every bench finds, and says in words of its own.
func (w *writer) alert(piece string, n int) []record.Row {
	row := w.entry(piece, schedule.Raised{Cause: "anneal now", Verdict: schedule.VerdictAnnealNow, What: fmt.Sprint("found at bench ", w.Bench)})[0]
	row.ID = string(schedule.DerivedID(fmt.Sprint(piece, " ", n), schedule.KindRaised))
	return []record.Row{row}
}
