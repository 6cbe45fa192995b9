package tui

import (
	"cmp"
	"slices"

	"dullred/schedule"
	"dullred/tui/view"
)

// board is every piece, nearest to splitting first.
func (b *Bench) board() (rows []view.Row) {
	now := b.now()
	waiting := map[schedule.ID]bool{}
	for _, s := range b.standing(now) {
		waiting[s.Piece] = waiting[s.Piece] || !s.Acked
	}
	for _, p := range b.nearest() {
		a, state := b.judged(p), p.state()
		zone, _ := state.Zone(a.Zone)
		r := view.Row{Name: p.name, Mark: state.Mark, Section: zone.Tally.Section().String(), Verdict: a.Verdict, Spent: -1,
			Waits: waiting[p.id], Shown: p.id == b.shown, With: b.with[p.id]}
		if a.Limit.Known() {
			r.Spent = a.Spent
		}
		if timers := p.timers(now); len(timers) > 0 {
			r.Timer = &timers[0]
		}
		rows = append(rows, r)
	}
	return rows
}

// nearest are the pieces by how much of their limit is spent. Finished ones are left
// out, but for the one on the screen.
func (b *Bench) nearest() []*piece {
	all := slices.DeleteFunc(slices.Clone(b.pieces), func(p *piece) bool { return p.state().Done() && p.id != b.shown })
	slices.SortStableFunc(all, func(x, y *piece) int { return cmp.Compare(b.judged(y).Spent, b.judged(x).Spent) })
	return all
}

// moveOn puts the cursor of the board on another piece.
func (b *Bench) moveOn(by int) {
	order := b.nearest()
	i := slices.IndexFunc(order, func(p *piece) bool { return p.id == b.shown })
	if i+by >= 0 && i+by < len(order) {
		b.choose(order[i+by])
	}
}

// join puts the piece under the cursor into the heat that is done together, or
// takes it out.
func (b *Bench) join() {
	p := b.current()
	if p == nil {
		b.refuse(errNoPiece)
		return
	}
	if b.page != view.Board {
		b.turn(view.Board)
	}
	if b.with[p.id] {
		delete(b.with, p.id)
		return
	}
	b.with[p.id] = true
}

// targets are the pieces that a key is for: the one on the screen, or on the board
// those that go into one heat.
func (b *Bench) targets() []*piece {
	if b.page == view.Board && len(b.with) > 0 {
		return slices.DeleteFunc(b.nearest(), func(p *piece) bool { return !b.with[p.id] })
	}
	if p := b.current(); p != nil {
		return []*piece{p}
	}
	return nil
}
