package probe

import (
	"time"

	"dullred/alloys/unit"
)

// Event is what happens at a source: a Reading, Noise, Fault, Silent, Lost or Back.
type Event interface {
	When() time.Time // by the clock that Follow was given
}

// Reading is one temperature, from MinTemp to MaxTemp, at the moment its line was
// complete. A reading ends a Fault and a Silent.
type Reading struct {
	At   time.Time
	Temp unit.Celsius
}

// Noise tells of lines that are no temperature: of the first at once, then of all
// further ones together, not more often than NoiseEvery.
type Noise struct {
	At    time.Time
	Lines int    // since the last Noise, at least 1
	Text  string // the beginning of the last of them, safe to show; may be empty
}

// Fault tells that the source is there and the thermocouple is not: no temperature
// is known until the next Reading. It comes once until then, and not more often
// than FaultEvery.
type Fault struct {
	At   time.Time
	Text string // the line, safe to show
}

// Silent tells that there was neither a reading nor a fault for SilentAfter. It
// comes once, until there is one again.
type Silent struct{ At time.Time }

// Lost tells that the source cannot be opened or read. It comes once; the source
// is tried again until it gives a temperature or a fault, which is Back.
type Lost struct {
	At  time.Time
	Err error
}

// Back tells that a source that was lost sends again; what it sends comes next.
type Back struct{ At time.Time }

func (e Reading) When() time.Time { return e.At }
func (e Noise) When() time.Time   { return e.At }
func (e Fault) When() time.Time   { return e.At }
func (e Silent) When() time.Time  { return e.At }
func (e Lost) When() time.Time    { return e.At }
func (e Back) When() time.Time    { return e.At }

// When an event comes.
const (
	SilentAfter = 5 * time.Second
	NoiseEvery  = 10 * time.Second
	FaultEvery  = time.Second
)
