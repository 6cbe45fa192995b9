package schedule

import (
	"cmp"
	"slices"
	"time"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
	"dullred/schedule/heat"
)

// Whole is the name of the one zone of a piece that names none.
const Whole = "whole"

// State is what the entries of one piece come to. It and its copies are for one
// goroutine at a time: advice remembers the limits that it reckoned.
type State struct {
	Piece     ID
	Started   bool
	At        time.Time // of the start
	Last      time.Time // of the last entry that counts
	Flame     time.Time // of the last entry of metal in the flame, or taken out of it
	Alloy     alloys.Alloy
	AlloyID   string
	Length    unit.Millimetre // at the start; 0 when not known
	Calliper  unit.Millimetre
	Limit     string // the smith's own limit or school; "" is the table's
	Mark      string // what is chalked on it
	Stock     string // where the metal is from
	Test      bool   // it is worked until it splits
	Zones     []Zone
	Joints    []heat.Joint  // soldered, as far as their solidus is known
	Unsure    []string      // joints whose solidus is not known, and why
	Margin    *unit.Celsius // under the lowest solidus; nil is the usual one
	Ledger    Ledger
	Weights   Weights
	Finished  []ID              // the entries that say that it is; more than one contradict each other
	Courses   []coldwork.Course // what the readings say of the hands at work
	LeftOut   []LeftOut         // what they would say, but for something odd
	Heats     []Heated          // what its heats teach of the torch and the metal
	Intervals []Interval        // of work between heats
	Heard     []Heard           // its signs, with the sums at the time
	Plan      *Plan             // to the finished shape; nil without one
	Latest    []string          // zones that were worked or read last
	Looked    bool              // it was filed, dressed or looked at for cracks
	Silenced  []string          // reasons why nothing can be advised

	taught *Observed    // by other pieces
	memo   *limits      // learned, of these intervals
	own    float64      // emissivity of the smith's own; 0 takes that of the table
	book   *alloys.Book // of the alloy and its sources; nil is the embedded one
	steps  []stepped    // of the clocks
}

func (s *State) tables() *alloys.Book { return cmp.Or(s.book, alloys.Default()) }

// Zone is one part of a piece with work and heats of its own.
type Zone struct {
	Name      string
	Condition alloys.Condition
	Tally     coldwork.Tally
	Since     ID // the entry from which the work is counted
	Hand      ID // who worked it last
	Process   coldwork.Process
	Courses   int     // since it was last soft
	Doubt     string  // why nothing is learned of its work since then; empty for nothing odd
	Stamped   int     // courses of stamping since it was last soft
	Sign      Sign    // the last one since it was last soft
	SignAt    float64 // share of the limit then, by the sums
	Softened  int     // proved soft so often since the piece was planned
	Marked    bool    // it was stamped since the piece was planned
	Turned    float64 // turns of twist since the piece was planned
	Bent      bool    // it was bent since the piece was planned
	Heat      Heat
	Pickle    Pickle
	Unproven  int // heats since it was last soft that were not proved soft
	Crack     Crack
	Split     bool         // a crack was seen since it was last soft
	CrackAt   time.Time    // when the open one was seen
	Surface   heat.Surface // of its skin; unknown until a heat or the pickle made it

	pace pace
}

// Phase is how far a heat has come.
type Phase uint8

// The phases of a heat. Cold is also what a proved heat leaves.
const (
	Cold Phase = iota
	InFlame
	AtHeat
	OutOfFlame // hot, perhaps not glowing
	Cooled     // quenched, not yet proved
)

// Hot reports whether a phase is of metal that burns whoever touches it.
func (p Phase) Hot() bool { return p == InFlame || p == AtHeat || p == OutOfFlame }

// Pickle is a stay in the pickle; the zero Pickle is none.
type Pickle struct {
	In    time.Time
	Bench ID
}

// Heat is the heat under way in a zone.
type Heat struct {
	Phase Phase
	Fresh bool         // the metal was cold when it went into the flame
	At    time.Time    // when this phase began
	Bench ID           // where
	Temp  unit.Celsius // the hottest that was measured; 0 when it was not

	Begun   time.Time // zero when it was not logged, as the others
	Reached time.Time
	Left    time.Time     // out of the flame, or straight into the water
	Surface heat.Surface  // of the skin as the flame met it
	Torch   string        // with which
	Brick   bool          // hot brick behind
	Worked  unit.Strain   // since it was last soft, when the heat was begun
	Trace   *Trace        // of a thermocouple; nil without one
	Hot     time.Duration // above 500 °C, as far as it was estimated
	Moved   bool          // it was hammered while it was hot

	Rinsed bool // it came out of the pickle since it was cooled
}

// Crack is the state of a zone's cracks.
type Crack uint8

// A crack blocks the work while it is open; filed out or overridden it does not.
const (
	NoCrack Crack = iota
	CrackOpen
	CrackOverridden
)

// Zone finds a zone by name.
func (s *State) Zone(name string) (Zone, bool) {
	i := slices.IndexFunc(s.Zones, func(z Zone) bool { return z.Name == name })
	if i < 0 {
		return Zone{}, false
	}
	return s.Zones[i], true
}

// Usual is the process of the course before, else the one that the section
// suggests: sheet is raised, a bar lengthened.
func (s *State) Usual() coldwork.Process {
	for _, z := range s.Zones {
		if z.Process != "" {
			return z.Process
		}
	}
	for _, z := range s.Zones {
		if z.Tally.Section().Shape == unit.Sheet {
			return coldwork.Raise
		}
	}
	return coldwork.Lengthen
}

// Named are zones as an entry names them: none for all of the piece.
func (s *State) Named(zones []string) []string {
	if len(zones) == len(s.Zones) {
		return nil
	}
	return zones
}

// HandOf is what is known of the hand of a zone at a process, in this metal and at
// its section, from this piece and from observations of others.
func (s *State) HandOf(z Zone, p coldwork.Process, others *Observed) coldwork.Hand {
	at := coldwork.At{Hand: string(z.Hand), Alloy: s.AlloyID, Process: p, Section: z.Tally.Section()}
	return coldwork.Learned(at, slices.Concat(others.courses(), s.Courses))
}

// Worked is the work in a zone since it was last soft.
func (s *State) Worked(z Zone, others *Observed) coldwork.Estimate {
	return s.worked(z, z.Tally, others)
}

func (s *State) worked(z Zone, t coldwork.Tally, others *Observed) coldwork.Estimate {
	return t.Worked(s.Calliper, func(p coldwork.Process) coldwork.Hand {
		return s.HandOf(z, p, others)
	})
}
