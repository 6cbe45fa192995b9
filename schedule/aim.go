package schedule

import (
	"time"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/heat"
)

// Ceiling is what no heat of the piece may reach in a condition: its own solidus
// and that of every solder on it, less the margin.
func (s *State) Ceiling(c alloys.Condition) (heat.Ceiling, bool) {
	return heat.CeilingOf(s.Alloy, c, s.Joints, s.SolderMargin())
}

// SolderMargin is how far below the lowest solidus every heat stays.
func (s *State) SolderMargin() unit.Celsius {
	if s.Margin == nil {
		return heat.DefaultMargin
	}
	return *s.Margin
}

// Window is the heat to give a zone: the published annealing window under the
// ceiling, with what the ceiling took of it in words. It is false where nothing
// is published, or nothing is left.
func (s *State) Window(z Zone) (low, high unit.Celsius, why string, ok bool) {
	if low, high, ok = s.window(z); !ok {
		return 0, 0, "", false
	}
	c, known := s.Ceiling(z.Condition)
	if !known {
		return low, high, "", true
	}
	lo, hi, why, ok := c.Window(low, high)
	if ok && hi == high {
		why = ""
	}
	return lo, hi, why, ok
}

// aim is the temperature that a zone is heated to: the middle of its window; 0
// when there is none.
func (s *State) aim(z Zone) unit.Celsius {
	low, high, _, ok := s.Window(z)
	if !ok {
		return 0
	}
	return (low + high) / 2
}

// touch is about when a zone out of the flame is cool enough to touch; 0 when
// that is not known. It never says that it is cool.
func (s *State) touch(z Zone) time.Duration {
	from := s.reachedTemp(z)
	if from == 0 {
		return 0
	}
	d, _ := s.cools(z, from, heat.SafeTouch)
	return d
}
