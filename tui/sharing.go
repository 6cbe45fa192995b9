package tui

import (
	"cmp"
	"time"

	"dullred/schedule"
)

// Sharing is how a record stands to those of other benches.
type Sharing interface {
	// Words say it in a few words for a moment, in the place of that; "" says nothing.
	Words(now time.Time) string

	// Stays is how long the words of a moment hold; 0 where no time changes them.
	Stays(now time.Time) time.Duration
}

// A Lookout looks how a record is shared when whoever shares it left word. A nil one is
// of a record that is not shared.
type Lookout interface {
	Watched

	// Look says how the record is shared, whether that is other than when it looked
	// before, and how soon to look again though nobody left word; 0 is not before then.
	// It may read files: it is called from a goroutine of its own.
	Look() (s Sharing, changed bool, again time.Duration)
}

// shares are the words of the sharing for now, by the clock on the wall, which is the one
// that a carrier goes by; "" in the demo.
func (b *Bench) shares() string {
	if s := b.sharing.Load(); s != nil && *s != nil && !b.desk.Demo() {
		return (*s).Words(b.line.clock.Wall().In(b.location))
	}
	return ""
}

// sharesFor is how long those words hold; false for as long as nobody writes others.
func (b *Bench) sharesFor() (time.Duration, bool) {
	if s := b.sharing.Load(); s != nil && *s != nil && !b.desk.Demo() {
		stays := (*s).Stays(b.line.clock.Wall().In(b.location))
		return stays, stays > 0
	}
	return 0, false
}

// lookOut looks how the record is shared, when there is word of it, until the event loop
// has returned, and has the screen drawn when that changes.
func (p *program) lookOut() (stop func() error) {
	l := p.bench.lookout
	if l == nil {
		return func() error { return nil }
	}
	word := make(chan struct{}, 1)
	p.guard.Go(func() { p.keepLooking(l, word) })
	return Listen(l, p.guard.Go, func() {
		select {
		case word <- struct{}{}:
		default:
		}
	})
}

func (p *program) keepLooking(l Lookout, word <-chan struct{}) {
	for {
		s, changed, again := l.Look()
		if changed {
			p.bench.sharing.Store(&s)
			p.post(evSharing)
		}
		var due <-chan time.Time
		if again > 0 {
			due = time.After(again)
		}
		select {
		case <-p.done:
			return
		case <-word:
		case <-due:
		}
	}
}

// elsewhere is the name of the other bench at which an entry was made; "" for this one.
func (b *Bench) elsewhere(e schedule.Entry) string {
	if bench, _ := b.desk.Who(); e.Bench == bench {
		return ""
	}
	return cmp.Or(b.benches[e.Bench], "another bench")
}

// place is the name of the other bench that a piece was last at; "" for this one. An alert
// is told to every bench, and says nothing of where the piece is.
func (b *Bench) place(p *piece) string {
	var last schedule.Entry
	for _, e := range p.entries {
		switch e.Kind() {
		case schedule.KindVoid, schedule.KindShown, schedule.KindRaised, schedule.KindAcknowledged:
			continue
		}
		if !e.At.Before(last.At) {
			last = e
		}
	}
	if last.ID == "" {
		return ""
	}
	return b.elsewhere(last)
}

// placed is the name of a piece, with the place where it is another bench.
func (b *Bench) placed(p *piece) string {
	if at := b.place(p); at != "" {
		return p.name + " at " + at
	}
	return p.name
}
