package main

import (
	"errors"
	"fmt"
	"time"

	"dullred/alloys"
	"dullred/schedule"
	"dullred/schedule/demo"
	"dullred/schedule/record"
	"dullred/tui"
)

// desk is a record as the bench screen sees it.
type desk struct {
	bench *bench
	now   func() time.Time // nil keeps every piece on the bench
}

var (
	_ tui.Desk   = desk{}
	_ tui.Shared = desk{}
)

// onBench is how many of each hand's latest entries say which pieces are on the
// bench.
const onBench = 2000

func (d desk) Book() *alloys.Book                   { return d.bench.book }
func (d desk) Who() (bench, hand schedule.ID)       { return d.bench.here.bench, d.bench.here.hand }
func (d desk) Demo() bool                           { return false }
func (d desk) Changed() (bool, error)               { return d.bench.rec.Changed() }
func (d desk) Watch(f func()) (func() error, error) { return d.bench.rec.Watch(f) }

func (d desk) Load() (tui.Contents, error) {
	c := tui.Contents{Hands: map[schedule.ID]string{}}
	d.bench.worked, d.bench.stocked = map[schedule.ID][]*piece{}, nil
	pieces, err := d.pieces()
	if err != nil {
		return c, told(err)
	}
	c.Pieces = pieces
	hands, err := d.bench.rec.Labels(record.HandClass)
	if err != nil {
		return c, told(err)
	}
	for _, l := range hands {
		c.Hands[schedule.ID(l.ID)] = l.Text
	}
	if c.Others, err = d.others(); err != nil {
		return c, told(err)
	}
	rows, err := d.bench.rec.Piece(string(d.bench.here.bench))
	if err != nil {
		return c, told(err)
	}
	c.Bench = entriesOf(rows)
	if err := d.bench.readSteps(); err != nil {
		return c, told(err)
	}
	c.Clocks = d.bench.steps
	return c, nil
}

// others are the names of the benches that are not this one.
func (d desk) others() (map[schedule.ID]string, error) {
	benches, err := d.bench.rec.Labels(record.BenchClass)
	names := map[schedule.ID]string{}
	for _, l := range benches {
		if id := schedule.ID(l.ID); id != d.bench.here.bench {
			names[id] = l.Text
		}
	}
	return names, err
}

// pieces are those worked lately that have a name and are not over.
func (d desk) pieces() (all []tui.Loaded, err error) {
	ids, err := d.bench.rec.Lately(onBench)
	if err != nil {
		return nil, err
	}
	labels, err := d.bench.rec.Labels(record.PieceClass)
	if err != nil {
		return nil, err
	}
	names := make(map[string]string, len(labels))
	for _, l := range labels {
		names[l.ID] = l.Text
	}
	for _, id := range ids {
		name, named := names[id]
		if !named {
			continue
		}
		if over, err := d.over(id); err != nil {
			return nil, err
		} else if over {
			continue
		}
		rows, err := d.bench.rec.Piece(id)
		if err != nil {
			return nil, err
		}
		l := tui.Loaded{ID: schedule.ID(id), Name: name, Entries: entriesOf(rows)}
		d.bench.heard(l.Name, l.Entries)
		all = append(all, l)
	}
	return all, nil
}

func (d desk) Start(name string, e schedule.Entry) error {
	err := d.bench.append([]record.Label{{ID: string(e.Piece), Class: record.PieceClass, Text: name}}, e)
	if errors.Is(err, record.ErrNameTaken) {
		return tui.ErrTaken
	}
	return told(err)
}

func (d desk) Write(entries ...schedule.Entry) error {
	return told(d.bench.append(nil, entries...))
}

func (d desk) Others(id schedule.ID, s *schedule.State) (*schedule.Observed, error) {
	seen, err := d.bench.others(&piece{id: id, state: *s})
	return seen, told(err)
}

// told is an error of the record with what to do about it, on one line. There is no room
// on it for the path of the record, which is the one on the screen.
func told(err error) error {
	if err == nil {
		return nil
	}
	for _, r := range remedies {
		if r.code == exitRecord && errors.Is(err, r.is) {
			return fmt.Errorf("%w; %s", r.is, r.do)
		}
	}
	if f := explain(err); f.Do != "" {
		return fmt.Errorf("%w; %s", err, f.Do)
	}
	return err
}

// demoDesk is the invented class, in memory.
func (a *app) demoDesk() tui.Desk {
	m := &tui.Memory{Invented: true}
	for _, p := range demo.Class(a.now()) {
		first := p.Entries[0]
		m.Bench, m.Hand, m.HandName = first.Bench, first.Hand, "class"
		m.Pieces = append(m.Pieces, tui.Loaded{ID: first.Piece, Name: p.Name, Entries: p.Entries})
	}
	return m
}
