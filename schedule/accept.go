package schedule

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// Refusals that a caller may tell apart.
var (
	ErrZone    = errors.New("no such zone")
	ErrTime    = errors.New("impossible time")
	ErrNoHeat  = errors.New("no heat to prove")
	ErrNoCrack = errors.New("no crack is open")
	ErrHot     = errors.New("hot metal")
	ErrCold    = errors.New("it is not hot")
	ErrBath    = errors.New("it is not in the pickle")
)

// Accept checks a new entry against the entries of its piece before it is
// written. A refusal says what is wrong in one clause; nothing else has happened.
func Accept(entries []Entry, e Entry, now time.Time) error {
	return AcceptIn(alloys.Default(), entries, e, now)
}

// AcceptIn is Accept with the alloys of a book, which may hold the smith's own.
func AcceptIn(book *alloys.Book, entries []Entry, e Entry, now time.Time) error {
	if err := acceptBody(e); err != nil {
		return err
	}
	if e.At.After(now) {
		return fmt.Errorf("%w: %s has not happened yet", ErrTime, e.At.Format(time.RFC3339))
	}
	if !Plausible(e.At) {
		return fmt.Errorf("%w: %s is not believable", ErrTime, e.At.Format(time.RFC3339))
	}
	if e.Kind().OfBench() {
		return nil
	}
	if b, ok := e.Body.(Started); ok {
		return acceptStart(book, entries, b)
	}
	s := FoldIn(book, before(entries, e))
	if !s.Started {
		return fmt.Errorf("%w: %s is before the piece was started", ErrTime, e.At.Format(time.RFC3339))
	}
	for _, name := range e.Zones {
		if _, ok := s.Zone(name); !ok && !s.meansAll(e.Zones) {
			return fmt.Errorf("%w: %.60q; this piece has %s", ErrZone, name, strings.Join(s.zoneNames(), ", "))
		}
	}
	if err := s.acceptDone(e.Body); err != nil {
		return err
	}
	return s.acceptZones(e)
}

// acceptBody checks the body by itself, by the rules that hold when it is read back.
func acceptBody(e Entry) error {
	if err := checkZones(e.Zones); err != nil {
		return err
	}
	if c, ok := e.Body.(checked); ok {
		return c.check()
	}
	return nil
}

// acceptStart refuses a start that would silence the piece.
func acceptStart(book *alloys.Book, entries []Entry, b Started) error {
	if FoldIn(book, entries).Started {
		return errors.New("the piece is started already")
	}
	if _, err := b.Reading.On(coldwork.Section{}); err != nil {
		return err
	}
	alloy, err := cmp.Or(book, alloys.Default()).Find(b.Alloy)
	if err != nil {
		return err
	}
	if _, err := coldwork.LimitOf(alloy, alloys.Cast, b.Limit); err == nil {
		return nil
	}
	_, err = coldwork.LimitOf(alloy, alloys.Wrought, b.Limit)
	return err
}

func before(entries []Entry, e Entry) []Entry {
	return slices.DeleteFunc(slices.Clone(entries), func(other Entry) bool { return order(other, e) > 0 })
}

func (s *State) zoneNames() (names []string) {
	for _, z := range s.Zones {
		names = append(names, z.Name)
	}
	return names
}

func (s *State) acceptZones(e Entry) error {
	var zones []Zone
	for _, i := range s.touched(e) {
		zones = append(zones, s.Zones[i])
	}
	switch b := e.Body.(type) {
	case Pass:
		return s.acceptReading(zones, b.Reading, b.Process)
	case Measured:
		return s.acceptReading(zones, b.Reading, "")
	case Filed:
		return s.acceptTrim(zones, b.Reading)
	case Soft, Springy:
		return acceptProof(zones)
	case Pickled:
		if anyZone(zones, Zone.hot) {
			return fmt.Errorf("%w is never quenched in pickle: it spits acid and fumes", ErrHot)
		}
	case Jointed:
		if len(zones) > 0 && b.Solidus >= s.melts(zones[0]) {
			return fmt.Errorf("a solder of %v melts no sooner than the piece, at %v", b.Solidus, s.melts(zones[0]))
		}
	case Planned:
		return s.acceptPlan(b.Plan)
	case Finished:
		return s.acceptEnd()
	case Fluxed:
		if anyZone(zones, Zone.hot) {
			return fmt.Errorf("%w is not fluxed: spirit in the flux takes fire; let it cool", ErrHot)
		}
	case Rinsed:
		if !anyZone(zones, Zone.inPickle) {
			return ErrBath
		}
	case FoundCool:
		if !anyZone(zones, Zone.hot) {
			return ErrCold
		}
	case CrackFiled:
		if !anyZone(zones, func(z Zone) bool { return z.Crack != NoCrack }) {
			return ErrNoCrack
		}
	case CrackIgnored:
		if !anyZone(zones, func(z Zone) bool { return z.Crack == CrackOpen }) {
			return ErrNoCrack
		}
	}
	return nil
}

// acceptProof refuses a bend check of metal that was not heated, or of which
// nobody has said more than that it went under the torch.
func acceptProof(zones []Zone) error {
	if !anyZone(zones, func(z Zone) bool { return z.Heat.Phase != Cold }) {
		return fmt.Errorf("%w: none is logged since the last work", ErrNoHeat)
	}
	if !anyZone(zones, func(z Zone) bool { return z.Heat.Phase > InFlame }) {
		return fmt.Errorf("%w: it is still in the flame, and its heat is not reached", ErrHot)
	}
	return nil
}

func anyZone(zones []Zone, is func(Zone) bool) bool { return slices.ContainsFunc(zones, is) }

func (z Zone) hot() bool      { return z.Heat.Phase.Hot() }
func (z Zone) inPickle() bool { return !z.Pickle.In.IsZero() }

// acceptReading refuses sections that no course makes.
func (s *State) acceptReading(zones []Zone, r Reading, p coldwork.Process) error {
	for _, z := range zones {
		was := z.Tally.Section()
		if p == coldwork.Bending && !was.Known() {
			return fmt.Errorf("the thickness of zone %s is not known, so a bend cannot be reckoned", z.Name)
		}
		if p == coldwork.Twisting && (was.Shape == unit.Sheet || was.Shape == unit.Ring) {
			return fmt.Errorf("a %v section is not twisted", was.Shape)
		}
		if !r.Taken() {
			continue
		}
		section, err := r.On(was)
		if err != nil {
			return err
		}
		if p == coldwork.Caulk {
			continue // blows on the edge thicken it
		}
		if was.Shape == unit.Sheet && was.Diameter == 0 {
			was.Diameter = section.Diameter // the first ring of a disc starts the vessel
		}
		if err := was.CheckChange(section, s.Calliper); err != nil {
			return err
		}
	}
	return nil
}

// acceptTrim refuses a section that filing cannot leave.
func (s *State) acceptTrim(zones []Zone, r Reading) error {
	for _, z := range zones {
		was := z.Tally.Section()
		section, err := r.On(was)
		if err != nil {
			return err
		}
		if was.Known() && !was.Comparable(section) {
			return fmt.Errorf("%v and %v %w", was, section, coldwork.ErrShape)
		}
		if was.Grown(section, s.Calliper) {
			return fmt.Errorf("filing takes metal off: from %v to %v a side grew", was, section)
		}
	}
	return nil
}
