package probe

import (
	"math"
	"slices"
	"time"
)

// slack is what the curve itself may be off, in tenths of a kelvin: with the
// rounding of a reading to a tenth it stays under Tolerance.
const slack = 9

// Recorder makes a Trace of readings as they come, in constant time and memory
// for each. It is the swinging door of process recorders: from the last reading
// kept, every reading leaves a door open to the lines that pass it by the slack;
// one that stands outside of the door closes it, and the reading before is kept.
type Recorder struct {
	begun time.Time
	kept  []knot
	held  *knot // the last reading, while it is not kept
	door  door
}

// NewRecorder makes a recorder whose moments count from begun.
func NewRecorder(begun time.Time) *Recorder { return &Recorder{begun: begun} }

// Add takes a reading and reports whether it was taken: not one before the
// beginning, after MaxLength, outside of MinTemp to MaxTemp, or in the Tick of the
// one before it or earlier.
func (r *Recorder) Add(reading Reading) bool {
	since := reading.At.Sub(r.begun).Round(Tick)
	within := reading.Temp >= MinTemp && reading.Temp <= MaxTemp
	if since < 0 || since > MaxLength || !within {
		return false
	}
	k := knot{at: int64(since / Tick), temp: int64(math.Round(float64(reading.Temp) * perKelvin))}
	last, some := r.last()
	if some && k.at <= last.at {
		return false
	}
	k.apart = !some || k.moment()-last.moment() > MaxGap
	r.take(k)
	return true
}

func (r *Recorder) last() (knot, bool) {
	if r.held != nil {
		return *r.held, true
	}
	if len(r.kept) == 0 {
		return knot{}, false
	}
	return r.kept[len(r.kept)-1], true
}

func (r *Recorder) take(k knot) {
	if k.apart {
		r.keepHeld()
		r.keep(k)
		return
	}
	if !r.door.lets(k) {
		r.keepHeld()
	}
	r.door.narrow(k)
	r.held = &k
}

func (r *Recorder) keepHeld() {
	if r.held != nil {
		r.keep(*r.held)
	}
}

func (r *Recorder) keep(k knot) {
	r.kept, r.held, r.door = append(r.kept, k), nil, door{from: k}
}

// Trace is the curve up to the last reading.
func (r *Recorder) Trace() Trace {
	knots := slices.Clone(r.kept)
	if r.held != nil {
		knots = append(knots, *r.held)
	}
	return Trace{knots}
}

// door is the fan of lines from a knot that pass all readings since by the slack.
type door struct {
	from      knot
	low, high slope
	closing   bool // there is a reading since
}

// slope is tenths of a kelvin over ticks, as a fraction, so that nothing is lost.
type slope struct{ rise, run int64 }

func (s slope) less(t slope) bool { return s.rise*t.run < t.rise*s.run }

func (d *door) to(k knot, beside int64) slope {
	return slope{k.temp + beside - d.from.temp, k.at - d.from.at}
}

// lets reports whether the line to a knot is in the fan.
func (d *door) lets(k knot) bool {
	s := d.to(k, 0)
	return !d.closing || !s.less(d.low) && !d.high.less(s)
}

func (d *door) narrow(k knot) {
	low, high := d.to(k, -slack), d.to(k, slack)
	if !d.closing || d.low.less(low) {
		d.low = low
	}
	if !d.closing || high.less(d.high) {
		d.high = high
	}
	d.closing = true
}
