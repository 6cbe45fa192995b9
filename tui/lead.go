package tui

import (
	"math"
	"time"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/heat"
	"dullred/schedule/probe"
)

// Where a curve ends; both are judgements.
const (
	// Fall is how far under its highest a curve is when the metal is out of the
	// flame: more than a flame that wanders lets it fall.
	Fall unit.Celsius = 60

	// CurveEnds is where a curve of metal out of the flame has told all that
	// softens or stains.
	CurveEnds unit.Celsius = 400
)

// curveSteps is about how many steps of a curve are kept for the sum, and
// leastCurve the shortest curve that is one: readings that come all at once, from
// a file, have no times.
const (
	curveSteps = 400
	leastCurve = time.Second
)

// Aim is what a heat is to reach and what it must stay under.
type Aim struct {
	Low     unit.Celsius // of the window; 0 when no reading tells that it is reached
	Ceiling heat.Ceiling // zero when none is known
}

// AimOf is the aim of zones that are in one heat: the highest beginning of their
// windows and the lowest of their ceilings. Metal that softens by itself, or that
// has no window left under its ceiling, has no heat to reach.
func AimOf(s *schedule.State, zones ...schedule.Zone) (a Aim) {
	reachable := !s.Alloy.SelfSoftening
	for _, z := range zones {
		low, _, _, ok := s.Window(z)
		reachable = reachable && ok
		a.Low = max(a.Low, low)
		if c, ok := s.Ceiling(z.Condition); ok && (a.Ceiling.Temp == 0 || c.Temp < a.Ceiling.Temp) {
			a.Ceiling = c
		}
	}
	if !reachable {
		a.Low = 0
	}
	return a
}

// TooHot is why a temperature is too hot; empty when it is not, or nothing says so.
func (a Aim) TooHot(t unit.Celsius) string {
	if a.Ceiling.Temp == 0 || t < a.Ceiling.Temp {
		return ""
	}
	return a.Ceiling.Because
}

// Lead is a thermocouple in one heat: what its readings say of the heat, and its
// curve. It writes nothing, shows nothing and reads no clock.
type Lead struct {
	begun   time.Time
	record  *probe.Recorder // from the first reading on; nil before it
	last    probe.Reading
	highest unit.Celsius
	fresh   bool // something was read since the curve was kept
	warned  bool
	ended   bool
}

// News is what a reading says of a heat.
type News struct {
	Reached bool   // it is in the window, and nobody has logged that the heat is reached
	TooHot  string // why it is too hot, the first time in a heat; else empty
	Fallen  bool   // it is Fall or more under the highest
	Ended   bool   // out of the flame and under CurveEnds; no reading after it says anything
}

// NewLead is a thermocouple in a heat that begins.
func NewLead(begun time.Time) *Lead {
	return &Lead{begun: begun, highest: probe.MinTemp}
}

// Read takes a reading into the heat that zones of a piece are in, as the record
// has them. A reading before the heat says nothing. Reached is told until it is
// logged, so that what could not be written is tried again. A reading is taken to a
// tenth of a kelvin, which no thermocouple is better than.
func (l *Lead) Read(r probe.Reading, s *schedule.State, zones ...schedule.Zone) (n News) {
	if r.At.Before(l.begun) || len(zones) == 0 || l.ended {
		return News{}
	}
	r.Temp = unit.Celsius(math.Round(10*float64(r.Temp)) / 10)
	if l.record == nil {
		l.record = probe.NewRecorder(r.At)
	}
	l.fresh = l.record.Add(r) || l.fresh
	l.last, l.highest = r, max(l.highest, r.Temp)
	aim, phase := AimOf(s, zones...), zones[0].Heat.Phase
	n.Reached = phase == schedule.InFlame && aim.Low > 0 && r.Temp >= aim.Low
	n.Fallen = l.highest-r.Temp >= Fall
	l.ended = phase == schedule.OutOfFlame && r.Temp < CurveEnds
	n.Ended = l.ended
	if !l.warned {
		n.TooHot = aim.TooHot(r.Temp)
		l.warned = n.TooHot != ""
	}
	return n
}

// Last is the last reading in the heat, as it is to be logged; its moment is zero when there was none.
func (l *Lead) Last() probe.Reading { return l.last }

// Trace is the curve from the first reading on, as the record keeps it. It is false when nothing was
// read since it was kept, or in less than a second in all.
func (l *Lead) Trace() (t schedule.Trace, ok bool) {
	if !l.fresh {
		return t, false
	}
	curve := l.record.Trace()
	highest, known := curve.Max()
	if !known || curve.Length() < leastCurve {
		return t, false
	}
	t = schedule.Trace{Curve: curve.Encode(), Max: highest.Temp, Hot: curve.Above(500)}
	for _, s := range curve.Spans(max(time.Second, curve.Length()/curveSteps)) {
		t.Steps = append(t.Steps, schedule.TraceStep{Temp: (s.Low + s.High) / 2, For: s.To - s.From})
	}
	return t, true
}

// Kept tells that the curve so far is in the record.
func (l *Lead) Kept() { l.fresh = false }
