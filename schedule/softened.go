package schedule

import (
	"fmt"
	"slices"
	"time"

	"dullred/alloys/unit"
	"dullred/schedule/heat"
)

// Softened is what the heat under way or just over has taken out of the work of a
// zone, by the published band as bend checks narrowed it, and what is to be said
// of that figure; empty when it lies within what is published. It is false where
// nothing is published or nothing was held. It proves nothing: the count stands
// until a bend check.
func (s *State) Softened(z Zone) (soft heat.Softened, outside string, ok bool) {
	k, ok := heat.KineticsOf(s.Alloy)
	if !ok || z.Heat.Worked <= 0 {
		return heat.Softened{}, "", false
	}
	k = k.Proved(s.proofs())
	if history := s.history(z); len(history) > 0 {
		hottest := slices.MaxFunc(history, func(a, b heat.Span) int { return int(a.Temp - b.Temp) })
		return k.Soften(z.Heat.Worked, history), k.Within(z.Heat.Worked, hottest.Temp), true
	}
	held := s.held(z)
	low, high, published := s.window(z)
	if held == 0 || !published || z.Heat.Temp != 0 {
		return heat.Softened{}, "", false
	}
	at := func(t unit.Celsius) heat.Softened { return k.Soften(z.Heat.Worked, []heat.Span{{Temp: t, For: held}}) }
	soft = heat.Softened{Low: at(low).Low, Likely: at((low + high) / 2).Likely, High: at(high).High}
	return soft, "if the colour was right", true
}

// held is how long a zone was held at its heat; 0 when that was not logged.
func (s *State) held(z Zone) time.Duration {
	if z.Heat.Reached.IsZero() || z.Heat.Left.IsZero() {
		return 0
	}
	return s.elapsed(z.Heat.Reached, z.Heat.Bench, z.Heat.Left)
}

// judged is what is to be said of the heat: too cool, too hot, needless or right.
// On the way up it is not yet too cool.
func (w words) judged() []string {
	z, s := w.zone, w.state
	if z.Heat.Phase == Cold || z.Heat.Temp == 0 && z.Heat.Phase == InFlame {
		return nil
	}
	soft, outside, known := s.Softened(z)
	given := heat.HeatGiven{Alloy: s.Alloy, Condition: z.Condition, Worked: z.Heat.Worked, Hottest: z.Heat.Temp,
		Held: s.held(z), Moved: z.Heat.Moved, Softened: soft, Known: known, Outside: outside}
	var out []string
	if low, _, ok := s.window(z); z.Heat.Phase != InFlame || !ok || z.Heat.Temp >= low {
		out = append(out, heat.Verdict(given))
	}
	if c, ok := s.Ceiling(z.Condition); ok && z.Heat.Temp >= c.Temp {
		out = append(out, fmt.Sprintf("%.0f °C is at or over the ceiling of %.0f °C: %s", float64(z.Heat.Temp), float64(c.Temp), c.Because))
	}
	if known {
		out = append(out, fmt.Sprintf("%v by the sum, strain left about %.3f; only the bend check proves it", heat.Judge(soft), soft.Left(z.Heat.Worked)))
	} else if z.Heat.Phase > AtHeat {
		out = append(out, heat.Unpublished(s.Alloy))
	}
	return out
}
