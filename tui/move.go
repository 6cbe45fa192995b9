package tui

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"dullred/schedule"
)

// moved are the kinds of entry whose time can be put right by a key: the steps of
// a heat, which are often logged late because both hands were full.
var moved = []schedule.Kind{schedule.KindBegun, schedule.KindReached, schedule.KindOut, schedule.KindQuenched,
	schedule.KindCool, schedule.KindPickled, schedule.KindRinsed}

var (
	errNoStep = errors.New("no step of a heat is logged for this piece")
	errBefore = errors.New("it cannot be earlier than the step before it")
	errFuture = errors.New("it cannot be later than now")
)

// move puts the last step of the heat of the piece on the screen to another time:
// the entry is taken back and written anew.
func (b *Bench) move(by time.Duration) {
	p := b.current()
	if p == nil {
		b.refuse(errNoPiece)
		return
	}
	last, before, ok := lastStep(p.entries)
	if !ok {
		b.refuse(errNoStep)
		return
	}
	if where := b.elsewhere(last); where != "" {
		words := fmt.Sprintf("The same key again moves what was logged at %s: %s", where, last.Describe())
		b.wonder(words, func() { b.moveStep(p, last, before, by) })
		return
	}
	b.moveStep(p, last, before, by)
}

// moveStep takes a step of a heat back and writes it anew, as an entry of this bench.
func (b *Bench) moveStep(p *piece, last, before schedule.Entry, by time.Duration) {
	anew := last
	anew.Bench, _ = b.desk.Who()
	anew.ID, anew.Written, anew.At = schedule.NewID(), b.now(), last.At.Add(by)
	if err := b.between(anew, before); err != nil {
		b.refuse(err)
		return
	}
	void := b.entry(p.id, schedule.Void{Target: last.ID})
	if err := schedule.AcceptIn(b.book(), slices.Concat(p.entries, []schedule.Entry{void}), anew, b.now()); err != nil {
		b.refuse(err)
		return
	}
	if b.write(void, anew) {
		b.remember(fmt.Sprintf("%s was at %s", anew.Describe(), b.hour(anew.At)), void, anew)
	}
}

func (b *Bench) between(e, before schedule.Entry) error {
	switch {
	case e.At.After(b.now()):
		return errFuture
	case !e.At.After(before.At):
		return errBefore
	}
	return nil
}

// lastStep is the last step of a heat among entries, and the entry that stands
// before it.
func lastStep(entries []schedule.Entry) (last, before schedule.Entry, ok bool) {
	dead := schedule.Voided(entries)
	live := slices.DeleteFunc(slices.Clone(entries), func(e schedule.Entry) bool {
		return dead[e.ID] || e.Kind() == schedule.KindVoid || e.Kind() == schedule.KindShown || e.Kind() == schedule.KindRaised ||
			e.Kind() == schedule.KindAcknowledged || e.Kind() == schedule.KindNote
	})
	slices.SortStableFunc(live, func(x, y schedule.Entry) int { return x.At.Compare(y.At) })
	for i := len(live) - 1; i > 0; i-- {
		if slices.Contains(moved, live[i].Kind()) {
			return live[i], live[i-1], true
		}
	}
	return last, before, false
}
