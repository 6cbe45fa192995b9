package drill

import (
	"fmt"
	"math"
	"time"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
)

// The flame of a lesson: how hot the metal would get in it, how fast it comes up and
// cools. Judgements: a strong small torch on a thin bar, so that it is in its window
// after some 38 s and over it some eight seconds later, and has lost its red some 10 s
// after it left the flame.
const (
	room    unit.Celsius = 20
	reaches unit.Celsius = 820
	upIn                 = 30 * time.Second
	coolsIn              = 45 * time.Second
	heldFor              = 3 * time.Second // in the window, for the heat to go through so thin a bar
	tooLong              = 5 * time.Minute // in the window: common practice
	redGone unit.Celsius = 525             // where the last red goes in the dark (Draper, Phil. Mag. 30, 1847, 345; from memory)
)

// fire is the heat of a bar under way; the zero fire is none.
type fire struct {
	begun  bool
	in     bool          // in the flame now
	since  time.Duration // of the last change
	from   unit.Celsius  // the metal had then
	most   unit.Celsius
	held   time.Duration // in the window or above
	cooled bool          // quenched
	early  bool          // it was quenched with red in it
	wasted bool
}

// Begin puts the metal into the flame, at a moment since the lesson began.
func (l *Lesson) Begin(at time.Duration) {
	if l.over || l.heat.in {
		return
	}
	h := &l.heat
	if !h.begun {
		*h = fire{begun: true, since: at, from: room, most: room, wasted: l.early()}
	}
	h.from, h.since = l.Temp(at), at
	h.in = true
}

// early reports whether a heat now is for little: on soft metal, or with less than half
// of what this stretch bears spent and three courses left, unless a heat before it did
// not soften. A judgement.
func (l *Lesson) early() bool {
	left, _ := l.truth()
	b := &l.bar
	return b.work == 0 || !b.heated && b.work < b.limit/2 && left >= 3
}

// Temp is how hot the metal is at a moment: it comes up to the flame and cools from it
// as Newton's law has it.
func (l *Lesson) Temp(at time.Duration) unit.Celsius {
	h := &l.heat
	if !h.begun {
		return room
	}
	to, in := room, coolsIn
	if h.in {
		to, in = reaches, upIn
	}
	passed := float64(max(0, at-h.since)) / float64(in)
	return to + (h.from-to)*unit.Celsius(math.Exp(-passed))
}

// Out takes it out of the flame.
func (l *Lesson) Out(at time.Duration) {
	h := &l.heat
	if !h.in {
		return
	}
	top := l.Temp(at)
	h.held += l.above(at)
	h.most = max(h.most, top)
	h.in, h.from, h.since = false, top, at
}

// above is how long of the time in the flame the metal was in its window or over it.
func (l *Lesson) above(at time.Duration) time.Duration {
	low, _ := l.window()
	h := &l.heat
	if h.from >= low {
		return at - h.since
	}
	if low >= reaches {
		return 0
	}
	reached := time.Duration(float64(upIn) * math.Log(float64((reaches-h.from)/(reaches-low))))
	return max(0, at-h.since-reached)
}

// Quench puts it into water; metal that was left to cool may go there too.
func (l *Lesson) Quench(at time.Duration) {
	h := &l.heat
	if !h.begun || h.cooled {
		return
	}
	if h.in {
		l.Out(at)
	}
	h.early = l.Temp(at) > redGone
	h.from, h.since, h.cooled = room, at, true
}

// window is the published one of its anneal.
func (l *Lesson) window() (low, high unit.Celsius) {
	f, _ := l.alloy.Default(alloys.Anneal, alloys.Wrought)
	return unit.Celsius(f.Low), unit.Celsius(f.High)
}

// solidus is where it begins to melt.
func (l *Lesson) solidus() unit.Celsius {
	condition := alloys.Wrought
	if l.bar.cast {
		condition = alloys.Cast
	}
	f, _ := l.alloy.Default(alloys.Solidus, condition)
	return unit.Celsius(f.Low)
}

// Fault is what was wrong with a heat.
type Fault string

// The faults of a heat.
const (
	TooCold          Fault = "too cold"
	TooHot           Fault = "too hot"
	TooShort         Fault = "too short"
	TooLong          Fault = "too long"
	QuenchedTooEarly Fault = "quenched too early"
)

// Proved is what the bend check shows.
type Proved struct {
	Soft    bool
	Melted  bool             // the bar is lost, the next one is begun
	Wasted  bool             // the metal had courses left in plenty, or was soft
	Reading schedule.Reading // of the bar: it is read at every heat
	Faults  []Fault
	Reasons []string
}

// Prove is the bend check after a heat, and the end of that. Without a heat it is
// nothing.
func (l *Lesson) Prove() (p Proved) {
	if !l.heat.begun || l.over {
		return Proved{}
	}
	h := l.heat
	share := l.bar.work / l.bar.limit
	if h.in {
		l.Out(h.since) // as it is
		h = l.heat
	}
	l.score.Heats++
	p.Faults = l.faults()
	l.score.Faults += len(p.Faults)
	if p.Melted = h.most >= l.solidus(); p.Melted {
		p.Reasons = []string{fmt.Sprintf("It reached %.0f °C and began to melt at %.0f: the bar is lost.", float64(h.most), float64(l.solidus()))}
		l.score.Melted++
		l.leave()
		return p
	}
	if p.Wasted = h.wasted; p.Wasted {
		l.score.Wasted++
	}
	p.Reading = l.measure()
	took := l.softened()
	p.Soft = took == 1
	p.Reasons = l.why(p, share)
	l.soften(took)
	return p
}

// softened is the share of the work that the heat took out: all of it in the window,
// and on the way there as much as it was near it. A judgement.
func (l *Lesson) softened() float64 {
	low, _ := l.window()
	if l.heat.most < low {
		return 0
	}
	return min(1, float64(l.heat.held)/float64(heldFor))
}

// soften takes it out.
func (l *Lesson) soften(share float64) {
	b := &l.bar
	l.heat = fire{}
	if share < 1 {
		b.work *= 1 - share
		b.heated = true
		return // the sums go on: nothing was proved
	}
	b.cast = b.cast && b.work < l.first/2
	b.work, b.shown, b.since, b.unread, b.told, b.heated = 0, 0, 0, 0, false, false
	b.limit = l.drawLimit()
}

// faults are what was wrong with the heat.
func (l *Lesson) faults() (all []Fault) {
	low, high := l.window()
	switch h := l.heat; {
	case h.most < low:
		all = append(all, TooCold)
	case h.most > high:
		all = append(all, TooHot)
	case h.held < heldFor:
		all = append(all, TooShort)
	case h.held > tooLong:
		all = append(all, TooLong)
	}
	if l.heat.early {
		all = append(all, QuenchedTooEarly)
	}
	return all
}

// why explains the heat.
func (l *Lesson) why(p Proved, share float64) (out []string) {
	low, high := l.window()
	h := l.heat
	out = append(out, fmt.Sprintf("It reached %.0f °C and was %.0f s in its window of %.0f to %.0f or above.", float64(h.most), h.held.Seconds(), float64(low), float64(high)))
	for _, f := range p.Faults {
		out = append(out, l.explained(f))
	}
	if p.Soft {
		out = append(out, "It is soft: the count starts again.")
	} else {
		out = append(out, "It is still springy: the count stands, and so does what is left of the work.")
	}
	if p.Wasted {
		out = append(out, fmt.Sprintf("A heat for little: only %.0f %% of what this stretch bears was spent.", 100*share))
	}
	return out
}

func (l *Lesson) explained(f Fault) string {
	low, high := l.window()
	switch f {
	case TooCold:
		return fmt.Sprintf("Too cold: it did not come to %.0f °C, where its window begins; below it little or nothing softens in such a time.", float64(low))
	case TooHot:
		return fmt.Sprintf("Too hot: over %.0f °C the grain grows, and the metal cracks the sooner.", float64(high))
	case TooShort:
		return fmt.Sprintf("Too short: hold this thin bar %.0f s in its window, so that the heat goes through; a real piece as long as its soak says.", heldFor.Seconds())
	case TooLong:
		return fmt.Sprintf("Too long: over %.0f min the grain grows and the fire-stain with it.", tooLong.Minutes())
	}
	return fmt.Sprintf("Quenched with red in it: wait until the glow has gone, below %.0f °C; it may crack, and it spits.", float64(redGone))
}
