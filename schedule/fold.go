package schedule

import (
	"fmt"
	"slices"

	"dullred/alloys"
	"dullred/schedule/coldwork"
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

// apply folds one entry on.
func (s *State) apply(e Entry) {
	if s.aside(e) {
		return
	}
	if !s.Started {
		s.silence("a %s is logged before the piece was started", e.Kind())
		return
	}
	s.Last = e.At
	at := s.touched(e)
	if s.ofPiece(e, at) {
		return
	}
	switch e.Body.(type) {
	case Begun:
		s.Flame = e.At
		s.Ledger.count(s.coated(at))
	case Reached, Out:
		s.Flame = e.At
		if s.unbegun(e, at) {
			s.Ledger.count(s.coated(at))
		}
	case Pass, Measured:
		s.Latest = s.namesAt(at)
	case Filed, Dressed, CrackSeen, CrackFiled:
		s.Looked = true
	}
	s.over(e, at)
	s.teachOnce(func() {
		for _, i := range at {
			s.zone(&s.Zones[i], e)
		}
	})
}

// aside takes what does not need a piece that was started, and reports whether that was
// it. Kinds that say nothing of the metal (advice shown, alerts, notes) change nothing.
func (s *State) aside(e Entry) bool {
	switch b := e.Body.(type) {
	case Unknown:
		s.silence("%s", b.Why)
	case Started:
		s.start(e, b)
	case ClockStep:
		s.step(e, b)
		s.doubtClock(b)
	case Shown, Raised, Acknowledged, Note, TorchLit, TorchOut, Lit, Noise, Bath, Drilled, Loosened, Photo:
	default:
		return false
	}
	return true
}

// ofPiece takes what is about the piece and not about its zones, and reports whether that
// was it.
func (s *State) ofPiece(e Entry, at []int) bool {
	switch b := e.Body.(type) {
	case Jointed:
		s.joint(b)
	case Weighed:
		s.Weights.add(b)
	case Finished:
		s.finish(e)
	case Planned:
		s.plan(b)
	case Signalled:
		s.hear(e, at, b)
	default:
		return false
	}
	return true
}

// teachOnce lets an entry change several zones: what they all teach is one lesson.
func (s *State) teachOnce(change func()) {
	courses, heats, intervals, out := len(s.Courses), len(s.Heats), len(s.Intervals), len(s.LeftOut)
	change()
	s.Courses = s.Courses[:min(len(s.Courses), courses+1)]
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
