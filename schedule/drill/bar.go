package drill

import (
	"math"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
)

// bar is one bar: what was done to it, and what it bears.
type bar struct {
	done   float64 // strain since it was begun
	work   float64 // of that in the metal: a heat takes it out
	limit  float64 // strain in the metal at which it splits
	since  int     // courses since it was last proved soft
	cast   bool
	read   float64 // the last reading, mm
	shown  float64 // work by the readings since it was soft
	unread int     // courses since the last reading
	told   bool    // the truth is known, until the metal is soft again
	heated bool    // a heat since it was soft did not soften it
}

// lay begins the next bar.
func (l *Lesson) lay() {
	l.bar = bar{cast: l.level.Cast, read: side}
	l.heat = fire{}
	l.bar.limit = l.drawLimit()
}

// drawLimit is at what strain the next stretch splits.
func (l *Lesson) drawLimit() float64 {
	published := l.later
	if l.bar.cast {
		published = l.first
	}
	return published * l.scale * math.Pow(l.stock.ExpFloat64(), 1./lawShape)
}

// published is the limit that the student reads.
func (l *Lesson) published() unit.Strain {
	if l.bar.cast {
		return unit.Strain(l.first)
	}
	return unit.Strain(l.later)
}

// soft is the strain that the course number n from now on would give soft metal.
func (l *Lesson) soft(n int) float64 {
	for len(l.coming) <= n {
		l.coming = append(l.coming, l.course*math.Exp(withinHand*l.blows.NormFloat64()))
	}
	return l.coming[n]
}

// whole is the strain from the bar to its size.
var whole = 2 * math.Log(side/toSide)

// after is the work in the metal after a course on metal worked so far.
func after(work, soft float64) float64 {
	return float64(coldwork.Given(coldwork.Effort(unit.Strain(work)) + unit.Strain(soft)))
}

// mostAhead ends the look at the courses to come; a bar has its size long before.
const mostAhead = 60

// truth is how many more courses the metal bears as it is, and with which of them the
// bar has its size; 0 where it splits before.
func (l *Lesson) truth() (n, sized int) {
	work, done := l.bar.work, l.bar.done
	for n < mostAhead {
		next := after(work, l.soft(n))
		if next > l.bar.limit {
			break
		}
		n, work, done = n+1, next, done+next-work
		if done >= whole && sized == 0 {
			sized = n
		}
	}
	return n, sized
}

// Struck is what comes of one course.
type Struck struct {
	Reading schedule.Reading // zero where this level does not measure
	Sign    schedule.Sign    // "" or what is heard or felt
	Split   bool             // the bar is lost, the next one is begun
	Done    bool             // the bar has its size, the next one is begun
}

// Strike is one course by the hidden hand. When the lesson is over it is nothing.
func (l *Lesson) Strike() (s Struck) {
	l.Prove() // a heat that nobody proved
	if l.over {
		return Struck{}
	}
	b := &l.bar
	soft := l.soft(0)
	l.coming = l.coming[1:]
	next := after(b.work, soft)
	if s.Split = next > b.limit; s.Split {
		next = b.limit
	}
	b.done, b.work = b.done+next-b.work, next
	b.since, b.unread = b.since+1, b.unread+1
	s.Done = !s.Split && b.done >= whole
	if l.level.Read {
		s.Reading = l.measure()
	}
	switch {
	case s.Split:
		l.score.Splits++
		l.leave()
	case s.Done:
		l.leave()
	case l.level.Signs:
		s.Sign = b.sign()
	}
	return s
}

// leave puts the bar by, and lays the next one.
func (l *Lesson) leave() {
	if l.number+1 == bars {
		l.over = true
		return
	}
	l.number++
	l.lay()
}

// measure reads the bar, and learns of the hand what the reading shows.
func (l *Lesson) measure() schedule.Reading {
	b := &l.bar
	is := side * math.Exp(-b.done/2)
	read := math.Round((is+float64(calliper)/2*l.noise.NormFloat64())*100) / 100
	read = min(read, b.read)
	if read < b.read && b.unread > 0 {
		add := 2 * math.Log(b.read/read)
		l.hand = l.hand.Learn(coldwork.Course{Process: coldwork.Lengthen, Count: b.unread, Strain: unit.Strain(add), From: unit.Strain(b.shown)})
		b.shown += add
		b.unread = 0
	}
	b.read = read
	return square(read)
}

// From which share of the hidden limit the metal is heard and felt (common practice as
// to the signs; the shares are a judgement).
const (
	rings   = 0.60
	bounces = 0.72
	springs = 0.82
	stops   = 0.93
)

func (b *bar) sign() schedule.Sign {
	switch share := b.work / b.limit; {
	case share >= stops:
		return schedule.SignStops
	case share >= springs:
		return schedule.SignSprings
	case share >= bounces:
		return schedule.SignBounces
	case share >= rings:
		return schedule.SignRings
	}
	return ""
}
