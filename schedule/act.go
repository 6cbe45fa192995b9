package schedule

import (
	"slices"

	"dullred/alloys"
)

// Act is the one next thing to do with a piece, as a key or a command offers it.
type Act string

// The acts that advice can call for.
const (
	ActNone   Act = "" // look at the log
	ActPass   Act = "course"
	ActBegin  Act = "heat begun"
	ActReach  Act = "colour reached"
	ActOut    Act = "out of the flame"
	ActQuench Act = "quenched"
	ActCool   Act = "found cool"
	ActPickle Act = "in the pickle"
	ActRinse  Act = "out of the pickle"
	ActProve  Act = "bend check"
	ActFile   Act = "crack filed out"
)

// NextAct is the act that the advice comes to in the zone that decides.
func (s *State) NextAct(a Advice) Act {
	z, _ := s.Zone(a.Zone)
	switch a.Verdict {
	case VerdictCarryOn, VerdictNoAnneal:
		return ActPass
	case VerdictAnnealSoon:
		if a.Courses.Likely > 0 {
			return ActPass
		}
		return ActBegin
	case VerdictAnnealNow:
		return ActBegin
	case VerdictHeating:
		return s.inFlameAct()
	case VerdictSoak:
		return ActOut
	case VerdictWait:
		if s.Alloy.Cooling().Quenched() {
			return ActQuench
		}
		return ActCool
	case VerdictPickle:
		return ActRinse
	case VerdictFileCrack:
		return ActFile
	case VerdictProve:
		if s.pickled() && !z.Heat.Rinsed {
			return ActPickle
		}
		return ActProve
	}
	return ActNone
}

func (s *State) inFlameAct() Act {
	if s.Alloy.SelfSoftening {
		return ActOut
	}
	return ActReach
}

// pickled reports whether metal of this kind goes into the pickle after a heat.
// Iron never does: it plates copper onto all that is in the bath.
func (s *State) pickled() bool {
	return slices.Contains([]string{"silver", "gold", "copper", "brass", "bronze", "nickel silver"}, s.Alloy.Family) &&
		s.Alloy.Cooling() != alloys.CoolSlow
}
