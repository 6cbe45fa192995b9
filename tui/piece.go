package tui

import (
	"slices"

	"dullred/alloys"
	"dullred/schedule"
)

// piece is one piece on the bench with its entries and what they come to.
type piece struct {
	id      schedule.ID
	name    string
	entries []schedule.Entry // without the clock steps
	fold    schedule.Piece
	alerts  []schedule.Entry // those among the entries that raise, acknowledge or take back
	judged  *schedule.Advice // nil until it is asked for
}

// newPiece folds a piece, with the clock steps that its times went through.
func newPiece(book *alloys.Book, l Loaded, clocks []schedule.Entry) *piece {
	p := &piece{id: l.ID, name: l.Name, entries: l.Entries, fold: schedule.NewPiece(book, slices.Concat(clocks, l.Entries))}
	for _, e := range l.Entries {
		p.note(e)
	}
	return p
}

func (p *piece) add(e schedule.Entry) {
	p.fold.Add(e)
	p.judged = nil
	p.note(e)
	if !e.Kind().OfBench() {
		p.entries = append(p.entries[:len(p.entries):len(p.entries)], e)
	}
}

// note keeps what has to do with alerts.
func (p *piece) note(e schedule.Entry) {
	switch e.Kind() {
	case schedule.KindRaised, schedule.KindAcknowledged, schedule.KindVoid:
		p.alerts = append(p.alerts[:len(p.alerts):len(p.alerts)], e)
	}
}

// with is the piece with entries more, while it stays as it is.
func (p *piece) with(entries ...schedule.Entry) *piece {
	next := *p
	for _, e := range entries {
		next.add(e)
	}
	return &next
}

func (p *piece) state() *schedule.State { return &p.fold.State }

// hot reports whether any zone would burn whoever touches it.
func (p *piece) hot() bool {
	for _, z := range p.state().Zones {
		if z.Heat.Phase.Hot() {
			return true
		}
	}
	return false
}
