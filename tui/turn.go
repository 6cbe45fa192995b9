package tui

import (
	"errors"
	"slices"
	"strings"

	"dullred/tui/view"
)

var (
	errOneZone = errors.New("this piece has one zone: the whole of it")
	errOthers  = errors.New("there is no other piece; b begins one")
	errNoDemo  = errors.New("the demo is offered on an empty bench; else: dullred bench --demo")
)

// nextPiece goes through the pieces, those that wait for the smith first: with an
// alert that nobody has seen, then hot or timing, then nearest to splitting.
func (b *Bench) nextPiece() {
	order := b.nearest()
	if len(order) < 2 {
		b.refuse(errOthers)
		return
	}
	slices.SortStableFunc(order, func(x, y *piece) int { return b.pressing(y) - b.pressing(x) })
	i := slices.IndexFunc(order, func(p *piece) bool { return p.id == b.shown })
	to := order[(i+1)%len(order)]
	b.met[b.shown] = true
	for _, p := range slices.Backward(order) {
		if b.pressing(p) != waits {
			delete(b.met, p.id)
		} else if !b.met[p.id] {
			to = p // one that waits and was not come to yet comes at once
		}
	}
	b.met[to.id] = true
	b.choose(to)
	b.toast = toast{}
}

// waits is how a piece presses with an alert that nobody has seen.
const waits = 2

// pressing tells how much a piece waits for the smith: waits, 1 for hot or timing,
// else 0.
func (b *Bench) pressing(p *piece) int {
	now := b.now()
	for _, s := range b.standing(now) {
		if s.Piece == p.id && !s.Acked {
			return waits
		}
	}
	if len(p.timers(now)) > 0 {
		return 1
	}
	return 0
}

// nextZone goes from the whole piece through its zones and back.
func (b *Bench) nextZone() {
	p := b.current()
	switch {
	case p == nil:
		b.refuse(errNoPiece)
		return
	case len(p.state().Zones) < 2:
		b.refuse(errOneZone)
		return
	}
	names := []string{""}
	for _, z := range p.state().Zones {
		names = append(names, z.Name)
	}
	b.zone = names[(slices.Index(names, b.zone)+1)%len(names)]
	if b.zone == "" {
		b.say("the keys are for the whole piece")
		return
	}
	b.say("the keys are for " + b.zone)
}

// nextPage goes from the page for two metres to the plan of the piece, if it has one,
// to the page read close, the board, and back.
func (b *Bench) nextPage() {
	switch p := b.current(); {
	case b.page == view.Distance && p != nil && p.planned():
		b.turn(view.Plan)
	case b.page == view.Distance || b.page == view.Plan:
		b.turn(view.Near)
	case b.page == view.Near:
		b.turn(view.Board)
	default:
		b.turn(view.Distance)
	}
}

// turn goes to a page, or back from it.
func (b *Bench) turn(page view.Page) {
	if b.page == view.Board && page != view.Board {
		clear(b.with)
	}
	if b.page == page {
		page = view.Distance
	}
	b.page, b.scroll = page, 0
}

// nextLook goes through the themes.
func (b *Bench) nextLook() {
	b.theme = (b.Theme() + 1) % (view.Hearth + 1)
	b.picked = true
	b.say("look: " + b.theme.String())
}

// scrollBy moves a page that is read close.
func (b *Bench) scrollBy(p Press) {
	if b.page == view.Board {
		b.moveOn(map[Special]int{Up: -1, Down: +1}[p.Key])
		return
	}
	page := max(1, b.height-4)
	by := map[Special]int{Up: -1, Down: +1, PageUp: -page, PageDown: +page}[p.Key]
	end := view.ScrollEnd(b.Scene(), b.width, b.height)
	b.scroll = min(max(0, b.scroll+by), end)
}

// seeDemo puts the invented class on an empty bench.
func (b *Bench) seeDemo() {
	if b.demo == nil || len(b.pieces) > 0 {
		b.refuse(errNoDemo)
		return
	}
	b.desk = b.demo()
	b.done = nil
	b.Reload()
}

// leave ends the program; while something is hot or timing it asks once.
func (b *Bench) leave() {
	if busy := b.busy(); len(busy) > 0 {
		b.wonder(strings.Join(busy, ", ")+". Again: quit all the same (timers go on in the record)", func() { b.quit = true })
		return
	}
	b.quit = true
}

// ThemeNamed is the look of a name; an unknown one is dark.
func ThemeNamed(name string) view.Theme {
	for t := view.Dark; t <= view.Hearth; t++ {
		if t.String() == name {
			return t
		}
	}
	return view.Dark
}
