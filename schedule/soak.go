package schedule

import (
	"fmt"
	"time"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/heat"
)

// soakOf is how long a zone is held at heat, and why. Evenness along the piece
// rules, where its length is known: through the thickness heat is even at once.
// Where softening itself is published and slower, it counts.
func (s *State) soakOf(z Zone) (time.Duration, string) {
	target, basis := soakFor(z.Tally.Section().Depth()), soakBasis
	if along, ok := s.evens(z); ok {
		target = min(max(leastSoak, along), mostSoak)
		basis = fmt.Sprintf("heat evens out along %v in about %s; %s", s.Length, words0(along), soakBasis)
	}
	if slow, ok := s.softensIn(z); ok && slow > target {
		target = min(slow, soakMost)
		basis = fmt.Sprintf("at the slow end of what is published it takes %s to soften; %s", words0(slow), soakBasis)
	}
	return target, basis
}

// The ends of a soak with a torch: 30 s is common practice for thin work, 3 min the
// most that is taught.
const (
	leastSoak = 30 * time.Second
	mostSoak  = 3 * time.Minute
)

func words0(d time.Duration) string {
	return unit.FormatDuration(max(time.Second, d.Round(time.Second)))
}

// evens is how long heat takes to even out along the whole piece.
func (s *State) evens(z Zone) (time.Duration, bool) {
	b, ok := s.whole(z)
	if !ok {
		return 0, false
	}
	return b.Even().Settled().Along, true
}

// whole is the whole piece with the section of a zone, where its length is known.
func (s *State) whole(z Zone) (heat.Body, bool) {
	m, err := heat.MetalOf(s.Alloy)
	if err != nil || s.Length == 0 {
		return heat.Body{}, false
	}
	b, err := heat.BodyOf(m, unit.Size(z.Tally.Section()), s.Length)
	return b, err == nil
}

// softensIn is how long a measured heat takes to soften a zone by the slow end of
// the published band.
func (s *State) softensIn(z Zone) (time.Duration, bool) {
	k, ok := heat.KineticsOf(s.Alloy)
	if !ok || z.Heat.Temp == 0 || z.Heat.Worked <= 0 {
		return 0, false
	}
	_, _, slow := k.Time(z.Heat.Worked, z.Heat.Temp, softened)
	return slow, slow > 0
}

// softened is the share of the work that a heat has to take out to be called soft.
const softened = 0.95

// waitOf is how long a zone out of the flame waits for the water: until the last
// red has gone in the dark, or not at all; and until when it may still be
// quenched where cooling slowly hardens it (0 is for ever).
func (s *State) waitOf(z Zone) (target, most time.Duration, basis string) {
	c, depth, from := s.Alloy.Cooling(), z.Tally.Section().Depth(), s.reachedTemp(z)
	target, basis = waitFor(c, depth), waitBasis
	if c == alloys.CoolWhileRed {
		f, ok := s.Alloy.Default(alloys.Ordering, z.Condition)
		if d, known := s.cools(z, from, unit.Celsius(f.Low)); ok && known && from > 0 {
			return target, d, fmt.Sprintf("into water while above %g °C, about %s from the flame; no drop test here", f.Low, words0(d))
		}
		return target, 0, "at once, while it is red; no drop test here"
	}
	if d, ok := s.cools(z, from, blackHeat); ok && from > 0 {
		target = max(leastWait, d.Round(time.Second))
		basis = fmt.Sprintf("to %.0f °C, where the last red goes in the dark, with its skin %s; then the drop of water", float64(blackHeat), s.skin(z))
	}
	return target, 0, basis
}

// blackHeat is where the first red shows in the dark, and the last goes (Draper,
// 1847: 525 °C, as an encyclopaedia gives it). leastWait is a count of 5.
const (
	blackHeat unit.Celsius = 525
	leastWait              = 5 * time.Second
)
