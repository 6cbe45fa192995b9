package schedule

import (
	"fmt"
	"slices"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
	"dullred/schedule/heat"
)

// Fold replays the entries of one piece, in any order, into its state. Its alloy
// is one of the embedded ones.
func Fold(entries []Entry) State { return FoldIn(alloys.Default(), entries) }

// FoldIn is Fold with the alloys of a book, which may hold the smith's own; nil
// is the embedded one.
func FoldIn(book *alloys.Book, entries []Entry) State {
	s := State{book: book}
	if book == alloys.Default() {
		s.book = nil
	}
	for _, e := range effective(sorted(entries)) {
		s.apply(e)
	}
	return s
}

// Piece is the entries of one piece with the state they fold to, for a program
// that stays open: an entry that is last in the order folds one step, any other
// refolds the piece.
type Piece struct {
	State   State
	Book    *alloys.Book // of the alloys; nil is the embedded one
	entries []Entry
}

// NewPiece is a piece of entries in any order, with the alloys of a book; nil is
// the embedded one.
func NewPiece(book *alloys.Book, entries []Entry) Piece {
	return Piece{State: FoldIn(book, entries), Book: book, entries: sorted(entries)}
}

// Add takes one more entry.
func (p *Piece) Add(e Entry) {
	last := len(p.entries) == 0 || order(p.entries[len(p.entries)-1], e) < 0
	p.entries = append(slices.Clip(p.entries), e) // a copy of the piece taken before stays as it was
	if !last {
		p.entries = sorted(p.entries)
	}
	if _, void := e.Body.(Void); void || !last || p.voided(e.ID) {
		taught := p.State.taught
		p.State = FoldIn(p.Book, p.entries)
		p.State.taught = taught
		return
	}
	p.State.book = p.Book
	p.State.clone() // a copy of the state taken before stays as it was
	p.State.apply(e)
}

// clone gives the state slices of its own.
func (s *State) clone() {
	s.Zones = slices.Clone(s.Zones)
	s.Finished = slices.Clip(s.Finished)
	s.Joints, s.Unsure, s.Heats = slices.Clip(s.Joints), slices.Clip(s.Unsure), slices.Clip(s.Heats)
	s.Heard, s.Intervals, s.LeftOut = slices.Clip(s.Heard), slices.Clip(s.Intervals), slices.Clip(s.LeftOut)
}

// voided reports whether a void for this entry came before the entry itself.
func (p *Piece) voided(id ID) bool {
	return slices.ContainsFunc(p.entries, func(e Entry) bool {
		v, ok := e.Body.(Void)
		return ok && v.Target == id
	})
}

// apply folds one entry on. Kinds that say nothing of the metal (advice shown,
// alerts, notes) change nothing.
func (s *State) apply(e Entry) {
	switch b := e.Body.(type) {
	case Unknown:
		s.silence("%s", b.Why)
		return
	case Started:
		s.start(e, b)
		return
	case ClockStep:
		s.step(e, b)
		s.doubtClock(b)
		return
	case Shown, Raised, Acknowledged, Note, TorchLit, TorchOut, Lit, Noise, Bath, Drilled, Loosened, Photo:
		return
	}
	if !s.Started {
		s.silence("a %s is logged before the piece was started", e.Kind())
		return
	}
	s.Last = e.At
	at := s.touched(e)
	switch b := e.Body.(type) {
	case Begun:
		s.Flame = e.At
		s.Ledger.count(s.coated(at))
	case Reached, Out:
		s.Flame = e.At
		if s.unbegun(e, at) {
			s.Ledger.count(s.coated(at))
		}
	case Jointed:
		s.joint(b)
		return
	case Weighed:
		s.Weights.add(b)
		return
	case Finished:
		s.finish(e)
		return
	case Planned:
		s.plan(b)
		return
	case Signalled:
		s.hear(e, at, b)
		return
	case Pass, Measured:
		s.Latest = s.namesAt(at)
	case Filed, Dressed, CrackSeen, CrackFiled:
		s.Looked = true
	}
	s.over(e, at)
	courses, heats, intervals, out := len(s.Courses), len(s.Heats), len(s.Intervals), len(s.LeftOut)
	for _, i := range at {
		s.zone(&s.Zones[i], e)
	}
	s.Courses = s.Courses[:min(len(s.Courses), courses+1)] // what several zones teach at once is one lesson
	s.LeftOut = s.LeftOut[:min(len(s.LeftOut), out+1)]
	s.Heats = s.Heats[:min(len(s.Heats), heats+1)]
	s.Intervals = distinct(s.Intervals, intervals)
}

func (s *State) step(e Entry, c ClockStep) {
	s.steps = append(slices.Clip(s.steps), stepped{at: e.At, bench: e.Bench, line: c.Line})
}

func (s *State) silence(format string, args ...any) {
	s.Silenced = append(s.Silenced, fmt.Sprintf(format, args...))
}

func (s *State) start(e Entry, b Started) {
	if s.Started {
		s.silence("the piece is started twice")
		return
	}
	section, err := b.Reading.On(coldwork.Section{})
	if err != nil {
		s.silence("the piece cannot be started: %v", err)
		return
	}
	alloy, err := s.tables().Find(b.Alloy)
	if err != nil {
		s.silence("%v", err)
	}
	*s = State{book: s.book, steps: s.steps, taught: s.taught, Piece: e.Piece, Started: true, At: e.At, Last: e.At, Alloy: alloy, AlloyID: b.Alloy,
		Length: b.Length, Calliper: b.Calliper, Limit: b.Limit, Mark: b.Mark, Stock: b.Stock, Test: b.Test, Silenced: s.Silenced, memo: &limits{}}
	condition := alloys.Wrought
	if b.Cast {
		condition = alloys.Cast
	}
	names := b.Zones
	if len(names) == 0 {
		names = []string{Whole}
	}
	for _, name := range names {
		s.Zones = append(s.Zones, Zone{Name: name, Condition: condition, Since: e.ID, Hand: e.Hand,
			Tally: coldwork.Tally{}.Reset(section)})
	}
}

// touched are the zones an entry is about. A zone that the piece does not have
// silences it: the work went somewhere, and it is not known where.
func (s *State) touched(e Entry) (at []int) {
	if len(e.Zones) == 0 || s.meansAll(e.Zones) {
		for i := range s.Zones {
			at = append(at, i)
		}
		return at
	}
	for _, name := range e.Zones {
		i := slices.IndexFunc(s.Zones, func(z Zone) bool { return z.Name == name })
		if i < 0 {
			s.silence("a %s is logged for zone %q, which the piece does not have", e.Kind(), name)
			continue
		}
		at = append(at, i)
	}
	return at
}

func (s *State) zone(z *Zone, e Entry) {
	switch b := e.Body.(type) {
	case Pass:
		s.pass(z, e, b)
	case Measured:
		s.read(z, e, b.Reading)
	case Filed:
		s.filed(z, b.Reading)
	case Begun:
		s.begin(z, e, b)
	case Reached:
		s.reach(z, e, b.Temp)
	case Out:
		s.enter(z)
		s.leave(z, e)
		z.heat(OutOfFlame, e, b.Temp)
	case Quenched:
		s.leave(z, e)
		z.heat(Cooled, e, 0)
	case FoundCool:
		if z.Heat.Phase.Hot() {
			s.leave(z, e)
			z.heat(Cooled, e, 0)
		}
	case Trace:
		if z.Heat.Phase != Cold {
			z.Heat.Trace, z.Heat.Temp = &b, max(z.Heat.Temp, b.Max)
		}
	case Fluxed:
		z.Surface = heat.Fluxed
	case Pickled:
		z.Pickle = Pickle{In: e.At, Bench: e.Bench}
	case Rinsed:
		z.Pickle, z.Heat.Rinsed = Pickle{}, z.Heat.Phase == Cooled
		z.Surface = heat.Clean
	case Soft:
		s.teach(z, true)
		s.soft(z, e)
	case Springy:
		s.teach(z, false)
		z.unproven()
	case CrackSeen:
		s.end(z, true)
		z.Crack, z.CrackAt = CrackOpen, e.At
	case CrackFiled:
		z.Crack = NoCrack
	case CrackIgnored:
		if z.Crack == CrackOpen {
			z.Crack = CrackOverridden
		}
	}
}

// pass adds courses. Work on a zone whose heat was never proved ends that heat:
// it stays in the count as unproven. Hot metal stays hot under the hammer.
func (s *State) pass(z *Zone, e Entry, p Pass) {
	switch z.Heat.Phase {
	case Cooled:
		z.unproven()
	case InFlame, AtHeat:
		s.leave(z, e)
		z.heat(OutOfFlame, e, 0) // hammered hot, and hot still
	}
	z.Heat.Moved = z.Heat.Phase.Hot()
	z.Hand, z.Pickle = e.Hand, Pickle{}
	z.Courses += p.Count
	z.hurry(e.At, p.Count)
	if !p.Process.Local() && !p.Process.Shaped() {
		z.Process = p.Process
	}
	switch {
	case p.Process.Local():
		z.Stamped += p.Count
		z.Marked = true
	case p.Process == coldwork.Bending:
		z.Bent = true
		strain := coldwork.Bend(z.Tally.Section().Depth(), p.Radius)
		z.Tally = z.Tally.Shape(coldwork.Estimate{Strain: strain * unit.Strain(p.Count)})
	case p.Process == coldwork.Twisting:
		low, high := coldwork.Twist(z.Tally.Section(), p.Turns, p.Over)
		n := unit.Strain(p.Count)
		z.Turned += p.Turns * float64(p.Count)
		z.Tally = z.Tally.Shape(coldwork.Estimate{Strain: high * n, Sigma: (high - low) * n / 2})
	default:
		z.Tally = z.Tally.Wait(p.Process, p.Count)
	}
	s.read(z, e, p.Reading)
}

// read takes a reading and keeps what it says of the hand.
func (s *State) read(z *Zone, e Entry, r Reading) {
	if !r.Taken() {
		return
	}
	section, err := r.On(z.Tally.Section())
	if err != nil {
		s.silence("zone %s: %v", z.Name, err)
		return
	}
	tally, seen := z.Tally.Read(section, s.Calliper)
	z.Tally = tally
	if seen.Count > 0 {
		seen.Hand, seen.Alloy = string(z.Hand), s.AlloyID
		s.hearHand(z, seen)
	}
}

func (s *State) filed(z *Zone, r Reading) {
	section, err := r.On(z.Tally.Section())
	if err != nil {
		s.silence("zone %s: %v", z.Name, err)
		return
	}
	z.Tally = z.Tally.Reset(section)
}

func (z *Zone) heat(phase Phase, e Entry, temp unit.Celsius) {
	z.Heat.Phase, z.Heat.At, z.Heat.Bench = phase, e.At, e.Bench
	z.Heat.Temp = max(z.Heat.Temp, temp)
}

// unproven ends a heat that did not show softness. The count stands.
func (z *Zone) unproven() {
	if z.Heat.Phase == Cold {
		return
	}
	z.Unproven++
	z.Heat = Heat{}
}

// castDone is the share of the first limit of a casting after which a proved
// heat counts it as wrought (a judgement: a bar annealed straight from the
// mould is still a casting).
const castDone = 0.5

// soft resets the zone after a heat that a bend check proved. Without a heat
// since the last work there is nothing to prove, and the count stands.
func (s *State) soft(z *Zone, e Entry) {
	if z.Heat.Phase == Cold {
		return
	}
	s.end(z, false)
	if s.Worked(*z, nil).Strain >= castDone*s.published(alloys.Cast).Strain {
		z.Condition = alloys.Wrought
	}
	z.Tally = z.Tally.Soft()
	z.Split = false
	z.Softened++
	z.Since, z.Courses, z.Stamped, z.Unproven, z.Heat, z.Doubt, z.Sign = e.ID, 0, 0, 0, Heat{}, "", ""
}
