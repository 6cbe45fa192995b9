package board_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/alert"
	"dullred/schedule/board"
	"dullred/schedule/coldwork"
	"dullred/schedule/demo"
)

// The invented evening class at Saltmarsh Quay.
var evening = time.Date(2031, time.March, 5, 18, 30, 0, 0, time.UTC)

// idOf is an id of a kind of thing: 1 entries, 2 pieces, 3 hands, 4 benches.
func idOf(kind, n int) schedule.ID {
	return schedule.ID(fmt.Sprintf("00000000-0000-7000-8000-%04d%08d", kind, n))
}

func rowOf(t testing.TB, e schedule.Entry) schedule.Row {
	t.Helper()
	r, err := schedule.Encode(e)
	require.NoError(t, err)
	return r
}

// story is a piece at a bench: each entry a minute after the one before.
type story struct {
	t     testing.TB
	piece schedule.ID
	bench schedule.ID
	at    time.Time
	made  []schedule.Entry
}

var entries int // that were made, so that each has an id of its own

func newStory(t testing.TB, n int) *story {
	return &story{t: t, piece: idOf(2, n), bench: idOf(4, n), at: evening}
}

// log makes entries.
func (s *story) log(bodies ...schedule.Body) *story {
	for _, b := range bodies {
		entries++
		s.made = append(s.made, schedule.Entry{ID: idOf(1, entries), At: s.at, Written: s.at, Bench: s.bench, Hand: idOf(3, 1), Piece: s.piece, Version: 1, Body: b})
		s.at = s.at.Add(time.Minute)
	}
	return s
}

// rod is a wrought bar of sterling silver, 8 mm square.
func rod() schedule.Started {
	return schedule.Started{Alloy: "AG925", Reading: square(8), Calliper: 0.05}
}

func square(side unit.Millimetre) schedule.Reading {
	return schedule.Reading{Size: unit.Size{Shape: unit.Square, Thick: side, Width: side}}
}

// to is a course that brings the bar to a side. The limit of 45 % of thickness is strain
// 0.690, and from 8 mm to a side it is 2 ln(8/side): 5.66 mm is at it.
func to(side unit.Millimetre) schedule.Pass {
	return schedule.Pass{Process: coldwork.Lengthen, Count: 1, Reading: square(side)}
}

// raise raises what the piece itself called for with its last entry.
func (s *story) raise() *story {
	state, at := schedule.Fold(s.made), s.made[len(s.made)-1].At
	due := alert.Find([]alert.Piece{{State: &state, Advice: state.Advise(at, nil)}}, alert.Bench{Limits: alert.Usual()}, at)
	s.made = append(s.made, alert.Unraised(due, s.made, alert.Writer{Hand: idOf(3, 1), Bench: s.bench, Now: at})...)
	return s
}

// lastID is the id of the last entry.
func (s *story) lastID() schedule.ID { return s.made[len(s.made)-1].ID }

func (s *story) rows() (rows []schedule.Row) {
	for _, e := range s.made {
		rows = append(rows, rowOf(s.t, e))
	}
	return rows
}

// shelf is what a shared record holds: labels and rows.
type shelf struct {
	labels []board.Label
	rows   []schedule.Row
}

// piece gives what is about one id.
func (s shelf) piece(id string) (labels []board.Label, rows []schedule.Row) {
	for _, l := range s.labels {
		if l.ID == id {
			labels = append(labels, l)
		}
	}
	for _, r := range s.rows {
		if r.Piece == id {
			rows = append(rows, r)
		}
	}
	return labels, rows
}

// fill gives a board all that it wants.
func (s shelf) fill(b *board.Board, now time.Time) {
	for ids := b.Wants(now); len(ids) > 0; ids = b.Wants(now) {
		for _, id := range ids {
			labels, rows := s.piece(id)
			b.Whole(id, labels, rows)
		}
	}
}

// shown is a board of a shelf at a moment.
func (s shelf) shown(now time.Time) []board.Row {
	b := board.New()
	b.Take(s.labels, s.rows)
	s.fill(b, now)
	return b.Rows(now)
}

func of(stories ...*story) (s shelf) {
	for _, one := range stories {
		s.rows = append(s.rows, one.rows()...)
	}
	return s
}

// class is the invented class of the demo: each piece at a bench of its own.
func class(t testing.TB) (s shelf) {
	for _, p := range demo.Class(evening) {
		s.labels = append(s.labels, board.Label{ID: string(p.Entries[0].Piece), Class: "piece", Text: p.Name})
		for _, e := range p.Entries {
			s.rows = append(s.rows, rowOf(t, e))
		}
	}
	return s
}
