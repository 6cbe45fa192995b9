package schedule

import (
	"cmp"
	"time"

	"dullred/alloys/unit"
	"dullred/schedule/heat"
)

// roomTemp is the air that a bench is taken to stand in.
const roomTemp unit.Celsius = 20

// bodyOf is a zone as heat meets it: a metre of it, since its length is seldom
// known and the skin of its ends counts for little. It is false where the
// tables or the readings lack a figure.
func (s *State) bodyOf(z Zone) (heat.Body, bool) {
	m, err := heat.MetalOf(s.Alloy)
	if err != nil {
		return heat.Body{}, false
	}
	b, err := heat.BodyOf(m, unit.Size(z.Tally.Section()), 0)
	return b, err == nil
}

// coolingOf is a zone that cools in the air of the bench.
func (s *State) coolingOf(z Zone, skin heat.Surface) (heat.Cooling, bool) {
	b, ok := s.bodyOf(z)
	e, known := s.emissivity(skin)
	return heat.Cooling{Body: b, Emissivity: e, Room: roomTemp}, ok && known
}

// heatingOf is a zone in the flame that it was put in.
func (s *State) heatingOf(z Zone) (heat.Heating, bool) {
	b, ok := s.bodyOf(z)
	e, known := s.emissivity(cmp.Or(z.Heat.Surface, heat.Clean))
	return heat.Heating{Body: b, Emissivity: e, Room: roomTemp,
		Flame: heat.Flame{Temp: heat.BenchFlame, Faces: 1, Brick: z.Heat.Brick}}, ok && known
}

// emissivity is that of a skin, or the smith's own for all of them.
func (s *State) emissivity(skin heat.Surface) (float64, bool) {
	if s.own > 0 {
		return s.own, true
	}
	e, ok := heat.EmissivityOf(s.Alloy, skin)
	return e.Value, ok
}

// shine is the same for the light that a skin gives.
func (s *State) shine(skin heat.Surface) (float64, bool) {
	if s.own > 0 {
		return s.own, true
	}
	e, ok := heat.ShineOf(s.Alloy, skin)
	return e.Value, ok
}

// cools is how long a zone takes from a temperature down to another in the air, by
// its skin as the flame leaves it.
func (s *State) cools(z Zone, from, to unit.Celsius) (time.Duration, bool) {
	skin := s.skin(z)
	c, ok := s.coolingOf(z, skin)
	if !ok || from <= to {
		return 0, ok && from <= to
	}
	d, err := c.Time(from, to)
	return d, err == nil
}
