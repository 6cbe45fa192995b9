package probe

import (
	"errors"
	"math"
	"strings"
	"time"

	"dullred/alloys/unit"
)

// A reading that is more than MaxJump from the one before it is held back until
// the next one is within Agreement of it.
const (
	MaxJump   = 500 // K
	Agreement = 100 // K
)

// heard is one line and when it was complete.
type heard struct {
	at   time.Time
	text string
	long bool
}

// judge decides what lines mean. It starts no timer.
type judge struct {
	label    string // that is followed
	labelled bool   // one is followed; it may be the empty one
	last     *Reading
	held     *Reading
	broken   bool // a fault was told, or is to be told, and no reading came since
	toldAt   time.Time
	noise    int
	text     string // of the last noise
}

// afresh forgets what was read: after a silence or a loss anything may come.
func (j *judge) afresh() {
	j.drop()
	j.labelled, j.last, j.broken = false, nil, false
}

// take is what a line brings; a line that is noise is only counted. talks is
// whether there is a reading, or a fault, even one that was told before.
func (j *judge) take(l heard) (events []Event, talks bool) {
	if strings.TrimSpace(l.text) == "" && !l.long {
		return nil, false
	}
	label, temp, err := parseLine(l.text)
	switch {
	case errors.Is(err, ErrFault):
		return j.fault(l), true
	case err != nil, l.long, j.labelled && label != j.label:
		j.noise, j.text = j.noise+1, sample(l.text)
		return nil, false
	}
	j.label, j.labelled = label, true
	events = j.reading(Reading{l.at, temp})
	return events, len(events) > 0
}

func (j *judge) fault(l heard) []Event {
	j.drop()
	since := l.at.Sub(j.toldAt)
	if j.broken || !j.toldAt.IsZero() && since >= 0 && since < FaultEvery {
		return nil
	}
	j.broken, j.toldAt = true, l.at
	return []Event{Fault{l.at, sample(l.text)}}
}

// reading passes a reading on unless it jumps, and the one that was held back
// before it if the two agree.
func (j *judge) reading(r Reading) (events []Event) {
	held := j.held
	switch {
	case held != nil && apart(r, *held) <= Agreement:
		events, j.held = []Event{*held}, nil
	case j.last != nil && apart(r, *j.last) > MaxJump:
		j.drop()
		j.held = &r
		return nil
	}
	j.drop()
	j.last, j.broken = &r, false
	return append(events, r)
}

// drop makes noise of a reading that was held back.
func (j *judge) drop() {
	if j.held != nil {
		j.noise, j.text = j.noise+1, j.held.Temp.String()
	}
	j.held = nil
}

// noises is what was counted since it was last asked.
func (j *judge) noises(at time.Time) Noise {
	n := Noise{at, j.noise, j.text}
	j.noise, j.text = 0, ""
	return n
}

func apart(a, b Reading) unit.Celsius { return unit.Celsius(math.Abs(float64(a.Temp - b.Temp))) }
