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
	if f, ok := s.Alloy.Default(alloys.SoakTime, z.Condition); ok {
		return minutes(f.Low), fmt.Sprintf("the source of its heat holds it %s", span(f.Low, f.High, "min"))
	}
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

func minutes(n float64) time.Duration { return time.Duration(n * float64(time.Minute)) }

// soakEnds is when a zone has been held too long.
func (s *State) soakEnds(z Zone) time.Duration {
	if f, ok := s.Alloy.Default(alloys.SoakTime, z.Condition); ok {
		return max(soakMost, minutes(f.High))
	}
	return soakMost
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
		if f, ok := s.Alloy.Default(alloys.Ordering, z.Condition); ok {
			if d := s.soonest(z, unit.Celsius(f.Low)); d > 0 {
				return target, d, fmt.Sprintf("into water while above %g °C, within about %s of the flame; no drop test here", f.Low, words0(d))
			}
		}
		return target, 0, "at once, at its heat; no drop test here"
	}
	if d, ok := s.cools(z, from, blackHeat); ok && from > 0 {
		target = max(leastWait, d.Round(time.Second))
		basis = fmt.Sprintf("to %.0f °C, where the last red goes in the dark, with its skin %s; then the drop of water", float64(blackHeat), s.skin(z))
	}
	return target, 0, basis
}

// soonest is the shortest time in which a zone can cool to a temperature, by the
// skin that loses most and from the low end of its window unless it was measured:
// what must be in the water before that must not come late.
func (s *State) soonest(z Zone, to unit.Celsius) (least time.Duration) {
	from := z.Heat.Temp
	if low, _, ok := s.window(z); from == 0 && ok {
		from = low
	}
	for _, skin := range s.skins() {
		z.Surface = skin
		if d, ok := s.cools(z, from, to); ok && d > 0 && (least == 0 || d < least) {
			least = d
		}
	}
	return least
}

// blackHeat is where the first red shows in the dark, and the last goes (Draper,
// 1847: 525 °C, as an encyclopaedia gives it). leastWait is a count of 5.
const (
	blackHeat unit.Celsius = 525
	leastWait              = 5 * time.Second
)
