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

// A Lookout looks how the record is shared, and whether that is other than when it
// looked before. Nil is a record that is not shared. It may read files: it is called from
// a goroutine of its own, at most once a second.
type Lookout func() (s Sharing, changed bool)

// lookBeat is how often a Lookout looks.
const lookBeat = time.Second

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

// lookOut looks how the record is shared until the event loop has returned, and has the
// screen drawn when that changes.
func (p *program) lookOut() {
	look := p.bench.lookout
	if look == nil {
		return
	}
	p.guard.Go(func() {
		beat := time.NewTicker(lookBeat)
		defer beat.Stop()
		for {
			if s, changed := look(); changed {
				p.bench.sharing.Store(&s)
				p.post(evSharing)
			}
			select {
			case <-p.done:
				return
			case <-beat.C:
			}
		}
	})
}

// elsewhere is the name of the other bench at which an entry was made; "" for this one.
func (b *Bench) elsewhere(e schedule.Entry) string {
	if bench, _ := b.desk.Who(); e.Bench == bench {
		return ""
	}
	return cmp.Or(b.benches[e.Bench], "another bench")
}
