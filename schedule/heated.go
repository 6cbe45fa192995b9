package schedule

import (
	"slices"
	"time"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/heat"
)

// begin is a zone that goes into the flame.
func (s *State) begin(z *Zone, e Entry, b Begun) {
	z.Pickle = Pickle{}
	fresh := z.Heat.Phase == Cold || z.Heat.Phase == Cooled
	if z.Heat.Phase == Cooled || z.Heat.Phase == OutOfFlame {
		z.unproven()
	}
	z.Heat = Heat{Phase: InFlame, Fresh: fresh, At: e.At, Bench: e.Bench, Temp: b.Temp, Begun: e.At, Surface: s.skin(*z),
		Torch: b.Torch, Brick: b.Brick, Worked: s.Worked(*z, nil).Strain}
}

// enter is a heat of which the beginning was not logged.
func (s *State) enter(z *Zone) {
	if z.Heat.Phase == Cold {
		z.Heat.Surface, z.Heat.Worked = s.skin(*z), s.Worked(*z, nil).Strain
	}
}

// unbegun reports whether an entry is the first of a heat whose beginning was not
// logged.
func (s *State) unbegun(e Entry, at []int) bool {
	if k := e.Kind(); k != KindReached && k != KindOut {
		return false
	}
	return len(at) > 0 && !slices.ContainsFunc(at, func(i int) bool { return s.Zones[i].Heat.Phase != Cold })
}

// coated reports whether all of some zones have their coat of flux.
func (s *State) coated(at []int) bool {
	return !slices.ContainsFunc(at, func(i int) bool { return s.Zones[i].Surface != heat.Fluxed })
}

// skin is what the surface of a zone is taken for: clean until something is told
// of it.
func (s *State) skin(z Zone) heat.Surface {
	if z.Surface == heat.SurfaceUnknown {
		return heat.Clean
	}
	return z.Surface
}

// leave is a zone that comes out of the flame, by its first step out of it.
// Without a coat its skin is oxidised from then on, where the metal does that.
func (s *State) leave(z *Zone, e Entry) {
	if z.Heat.Phase != InFlame && z.Heat.Phase != AtHeat {
		return
	}
	z.Heat.Left = e.At
	if z.Surface != heat.Fluxed && s.oxidises() {
		z.Surface = heat.Oxidised
	}
}

// oxidises reports whether a flame blackens the metal: every one that holds
// copper or iron does, by the colour of the piece on any bench (common practice).
func (s *State) oxidises() bool {
	return slices.Contains([]string{"silver", "gold", "copper", "brass", "bronze", "nickel silver", "steel"}, s.Alloy.Family) &&
		s.AlloyID != "AG999" && s.Alloy.ID != "AG999"
}

// over adds a heat to the ledger as its first zone comes out of the flame.
func (s *State) over(e Entry, at []int) {
	switch b := e.Body.(type) {
	case Out, Quenched, FoundCool:
		for _, i := range at {
			if z := &s.Zones[i]; z.Heat.Phase == InFlame || z.Heat.Phase == AtHeat {
				z.Heat.Hot = s.aboveStain(*z, e)
				s.Ledger.Hot += z.Heat.Hot
				return
			}
		}
	case Trace:
		s.Ledger.Hot += b.Hot
		s.Ledger.Measured++
		for _, i := range at {
			s.Ledger.Hot -= s.Zones[i].Heat.Hot // an estimate of the same heat
			s.Zones[i].Heat.Hot = 0
		}
	}
}

// aboveStain is about how long a zone was above 500 °C in a heat that ends with an
// entry: all of the hold, the last part of the way up in proportion to the
// temperature, and the way down by the cooling of the piece.
func (s *State) aboveStain(z Zone, e Entry) time.Duration {
	t := s.reachedTemp(z)
	if t <= stainFrom || z.Heat.Trace != nil {
		return 0
	}
	var hot time.Duration
	if !z.Heat.Reached.IsZero() {
		hot = s.elapsed(z.Heat.Reached, e.Bench, e.At)
		if !z.Heat.Begun.IsZero() {
			up := s.elapsed(z.Heat.Begun, e.Bench, z.Heat.Reached)
			hot += time.Duration(float64(up) * float64(t-stainFrom) / float64(t-roomTemp))
		}
	}
	if c, ok := s.coolingOf(z, heat.Oxidised); ok && e.Kind() == KindOut {
		down, err := c.Time(t, stainFrom)
		if err == nil {
			hot += down
		}
	}
	return hot
}

// reachedTemp is how hot a zone got: measured, else the middle of the window that
// it was heated to by eye; 0 when no window is published.
func (s *State) reachedTemp(z Zone) unit.Celsius {
	if z.Heat.Temp > 0 {
		return z.Heat.Temp
	}
	low, high, ok := s.window(z)
	if !ok {
		return 0
	}
	return (low + high) / 2
}

// window is the published annealing window of a zone.
func (s *State) window(z Zone) (low, high unit.Celsius, ok bool) {
	f, ok := s.Alloy.Default(alloys.Anneal, z.Condition)
	return unit.Celsius(f.Low), unit.Celsius(f.High), ok
}

// reach is a zone that has come to its heat. How long that took teaches the torch.
func (s *State) reach(z *Zone, e Entry, temp unit.Celsius) {
	timed := z.Heat.Phase == InFlame && z.Heat.Fresh
	s.enter(z)
	z.heat(AtHeat, e, temp)
	z.Heat.Reached = e.At
	if !timed {
		return
	}
	h, ok := s.heatingOf(*z)
	took := s.elapsed(z.Heat.Begun, z.Heat.Bench, e.At)
	if !ok || took < leastTimed {
		return
	}
	timing := heat.Timed{Heating: h, From: roomTemp, To: s.reachedTemp(*z), Took: took}
	if found, err := timing.H(); err == nil && found <= strongest*heat.TorchPrior.High {
		s.Heats = append(s.Heats, Heated{Alloy: s.AlloyID, Torch: z.Heat.Torch, Brick: z.Heat.Brick, H: found})
	}
}

// strongest is how much stronger than any hand torch a heat may show a torch to be:
// over that a key was pressed at the wrong moment (a judgement).
const strongest = 3

// leastTimed is the shortest heat that teaches anything of a torch: keys pressed
// one after the other are no heat.
const leastTimed = 5 * time.Second

// teach keeps what a heat that was bent teaches.
func (s *State) teach(z *Zone, soft bool) {
	if z.Heat.Phase == Cold {
		return
	}
	if history := s.history(*z); len(history) > 0 {
		s.Heats = append(s.Heats, Heated{Alloy: s.AlloyID, Proof: &heat.Proof{Worked: z.Heat.Worked, History: history, Soft: soft}})
	}
}

// history is what a zone was held at: the curve of a thermocouple, else its
// measured temperature for as long as it was held. A colour is no measure.
func (s *State) history(z Zone) []heat.Span {
	if z.Heat.Trace != nil {
		return z.Heat.Trace.spans()
	}
	if z.Heat.Temp == 0 || z.Heat.Reached.IsZero() {
		return nil
	}
	end := z.Heat.Left
	if end.IsZero() {
		return nil
	}
	return []heat.Span{{Temp: z.Heat.Temp, For: s.elapsed(z.Heat.Reached, z.Heat.Bench, end)}}
}
