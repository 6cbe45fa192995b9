package tui

import (
	"slices"
	"time"

	"dullred/alloys"
	"dullred/schedule"
	"dullred/schedule/heat"
)

// piece is one piece on the bench with its entries and what they come to.
type piece struct {
	id      schedule.ID
	name    string
	entries []schedule.Entry // without the clock steps
	fold    schedule.Piece
	alerts  []schedule.Entry    // those among the entries that raise, acknowledge or take back
	judged  *schedule.Advice    // nil until it is asked for
	running []schedule.Timer    // without the time that passed; nil until it is asked for
	cue     *cued               // nil until it is asked for
	onPlan  *schedule.Following // nil until it is asked for
	why     *explained          // nil until it is asked for
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
	p.forget()
	p.note(e)
	if !e.Kind().OfBench() {
		p.entries = append(p.entries[:len(p.entries):len(p.entries)], e)
	}
}

// forget lets go of what was reckoned from the entries.
func (p *piece) forget() { p.judged, p.running, p.cue, p.onPlan, p.why = nil, nil, nil, nil, nil }

// steps are the steps under way, which are reckoned once for each entry.
func (p *piece) steps() []schedule.Timer {
	if p.running == nil {
		p.running = append([]schedule.Timer{}, p.state().Running()...)
	}
	return p.running
}

func (p *piece) timers(now time.Time) []schedule.Timer { return p.state().Elapse(p.steps(), now) }

// cued is a cue, and for whom.
type cued struct {
	zone string
	eye  heat.Eye
	cue  schedule.Cue
}

// cueOf is how to tell the heat of a zone, which is reckoned once for each entry.
func (p *piece) cueOf(z schedule.Zone, eye heat.Eye) schedule.Cue {
	if p.cue == nil || p.cue.zone != z.Name || p.cue.eye != eye {
		p.cue = &cued{z.Name, eye, p.state().CueOf(z, eye)}
	}
	return p.cue.cue
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
