package schedule

import (
	"errors"
	"fmt"
	"time"

	"dullred/schedule/heat"
)

// flame is how long a zone in the flame should take to its heat, and why: by what
// this torch and hearth taught, else by the strengths that a hand torch may have.
// It gives a range, never a false exact time.
func (s *State) flame(z Zone, t *Timer) {
	t.Target, t.Basis = heatingTime, heatingBasis
	h, ok := s.heatingOf(z)
	to := s.aim(z)
	if !ok || to <= roomTemp {
		return
	}
	learned := heat.LearnedFrom(s.torch(z.Heat.Torch, z.Heat.Brick))
	low, likely, high, err := learned.Time(h, roomTemp, to)
	if err != nil && !errors.Is(err, heat.ErrNever) {
		return
	}
	if long, ok := s.whole(z); ok {
		if err := long.Lumped(); err != nil {
			t.Basis = err.Error()
			return
		}
	}
	from := fmt.Sprintf("learned from %s of this torch", count(learned.N, "timed heat"))
	if learned.N == 0 {
		from = "no heat of this torch is timed yet: the range of a hand torch, from memory"
	}
	t.Target, t.Low, t.High, t.Learned = likely.Round(time.Second), low, high, learned.N
	switch {
	case err != nil:
		t.Basis = "this flame will not reach it by these numbers; " + from
	case high == 0:
		t.Basis = fmt.Sprintf("%s or longer, or never if it is weak; %s", words0(low), from)
	default:
		t.Basis = fmt.Sprintf("%s to %s; %s", words0(low), words0(high), from)
	}
}
