package schedule

import (
	"errors"
	"fmt"
	"math"
)

// Drilled is what came of one lesson at a simulated bar. It stands in a record of
// lessons and never beside real pieces: the id of the lesson is in place of a
// piece's.
type Drilled struct {
	Level  int     `json:"level"`
	Seed   uint64  `json:"seed"`
	Asked  int     `json:"asked"`  // how often the courses left were said
	Error  float64 `json:"error"`  // courses that were said too many, on average; below 0 too few
	Heats  int     `json:"heats"`  // that were given
	Wasted int     `json:"wasted"` // of them, on metal that had courses left in plenty
	Faults int     `json:"faults"` // of heats: too cold, too hot, too long, quenched too early
	Splits int     `json:"splits"` // bars that split
}

// KindDrilled is a lesson that was ended.
const KindDrilled Kind = "lesson drilled"

// Kind is KindDrilled.
func (Drilled) Kind() Kind { return KindDrilled }

// mostDrilled is more than any lesson counts.
const mostDrilled = 10_000

func (d Drilled) check() error {
	for _, n := range []int{d.Level, d.Asked, d.Heats, d.Wasted, d.Faults, d.Splits} {
		if n < 0 || n > mostDrilled {
			return fmt.Errorf("a count of %d is not believable", n)
		}
	}
	if math.IsNaN(d.Error) || math.Abs(d.Error) > mostDrilled {
		return errors.New("an error that is not believable")
	}
	return nil
}

func (d Drilled) detail() string {
	return fmt.Sprintf("level %d, seed %d: said %d times, %+.1f courses off on average; %d heats, %d wasted, %d faulty; %d split",
		d.Level, d.Seed, d.Asked, d.Error, d.Heats, d.Wasted, d.Faults, d.Splits)
}
