package schedule

import (
	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
	"dullred/schedule/heat"
)

// zone folds one entry on a zone that it is about.
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
