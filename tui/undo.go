package tui

import (
	"errors"
	"slices"
	"time"

	"dullred/schedule"
)

// deed is what one key wrote, so that another can take it back.
type deed struct {
	words   string
	entries []schedule.Entry
	at      time.Time
}

var errNothing = errors.New("there is nothing to undo")

// remember keeps what was written for undo, and says it. An alert stays: taking
// it back would keep the same alert from being raised again.
func (b *Bench) remember(words string, entries ...schedule.Entry) {
	d := deed{words: words, at: b.now()}
	for _, e := range entries {
		if e.Kind() != schedule.KindRaised {
			d.entries = append(d.entries, e)
		}
	}
	b.done = append(b.done, d)
	b.say("logged: " + words + " (u takes it back)")
}

// undo takes the last deed back: at once within ten seconds, later after asking.
func (b *Bench) undo() {
	if len(b.done) == 0 {
		b.refuse(errNothing)
		return
	}
	d := b.done[len(b.done)-1]
	if b.now().Sub(d.at) < toastTime {
		b.takeBack()
		return
	}
	b.wonder("u again takes back: "+d.words+", logged at "+b.hour(d.at), b.takeBack)
}

func (b *Bench) takeBack() {
	d := b.done[len(b.done)-1]
	var voids []schedule.Entry
	for _, target := range d.entries {
		voids = append(voids, b.entry(target.Piece, schedule.Void{Target: target.ID}))
	}
	if b.write(voids...) {
		b.done = b.done[:len(b.done)-1]
		b.say("taken back: " + d.words)
	}
}

func (b *Bench) find(id schedule.ID) *piece {
	i := slices.IndexFunc(b.pieces, func(p *piece) bool { return p.id == id })
	if i < 0 {
		return nil
	}
	return b.pieces[i]
}

func (b *Bench) hour(t time.Time) string { return t.In(b.location).Format("15:04:05") }
