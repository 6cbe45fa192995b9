package totals

import (
	"slices"
	"time"

	"dullred/alloys/unit"
	"dullred/schedule"
)

// By is the length of the periods that are summed.
type By uint8

// The periods: of the calendar of the place.
const (
	Month By = iota
	Year
)

// begins is the beginning of the period that a moment is in.
func (by By) begins(t time.Time) time.Time {
	month := t.Month()
	if by == Year {
		month = time.January
	}
	return time.Date(t.Year(), month, 1, 0, 0, 0, 0, t.Location())
}

// Terms are what is summed, and how.
type Terms struct {
	By    By
	Place *time.Location // of the calendar; nil is UTC

	From, Until time.Time            // only what was from one moment on and before another; zero is no bound
	Pieces      map[schedule.ID]bool // only these; nil is all, and the torches
	Hand        schedule.ID          // only what this hand did; "" is every one

	Dead  map[schedule.ID]bool // entries that were taken back
	Steps []schedule.Entry     // of the clocks of all benches
}

// GasFrom says what minutes of gas were reckoned from.
type GasFrom uint8

// The zero GasFrom is of a period in which nothing burned.
const (
	NoGas     GasFrom = 0
	FromHeats GasFrom = 1
	FromTorch GasFrom = 2
	FromBoth  GasFrom = FromHeats | FromTorch // each on days of its own
)

// String is the word for it.
func (g GasFrom) String() string { return []string{"none", "heats", "torch", "both"}[g] }

// Counts are the sums of one period, or of several.
type Counts struct {
	Started  int // pieces
	Finished int
	Passes   int // courses
	Heats    int
	Soft     int // of them, proved soft and by no zone springy
	Untimed  int // of them, without a beginning or an end
	Flame    time.Duration
	Gas      time.Duration
	GasFrom  GasFrom

	In, Out, Scrap, Lost unit.Gram
	Unweighed            int // finished pieces that were weighed less than twice: in none of the last three
}

// Sum is what one period comes to.
type Sum struct {
	Begins time.Time
	Counts
}

// Add is both together.
func (c Counts) Add(d Counts) Counts {
	c.Started, c.Finished, c.Passes = c.Started+d.Started, c.Finished+d.Finished, c.Passes+d.Passes
	c.Heats, c.Soft, c.Untimed = c.Heats+d.Heats, c.Soft+d.Soft, c.Untimed+d.Untimed
	c.Flame, c.Gas, c.GasFrom = c.Flame+d.Flame, c.Gas+d.Gas, c.GasFrom|d.GasFrom
	c.In, c.Out, c.Scrap, c.Lost = c.In+d.In, c.Out+d.Out, c.Scrap+d.Scrap, c.Lost+d.Lost
	c.Unweighed += d.Unweighed
	return c
}

// sheet is the sums by the beginning of their periods.
type sheet struct {
	Terms
	at map[time.Time]*Counts
}

// counts is where something counts that a hand did at a moment; false if it does not.
func (s *sheet) counts(at time.Time, hand schedule.ID) (*Counts, bool) {
	if at.Before(s.From) || !s.Until.IsZero() && !at.Before(s.Until) || s.Hand != "" && hand != s.Hand {
		return nil, false
	}
	begins := s.By.begins(at.In(s.Place))
	if s.at[begins] == nil {
		s.at[begins] = &Counts{}
	}
	return s.at[begins], true
}

// sums are the periods in which something counts, the first one first.
func (s *sheet) sums() (all []Sum) {
	for begins, c := range s.at {
		if *c != (Counts{}) {
			all = append(all, Sum{begins, *c})
		}
	}
	slices.SortFunc(all, func(a, b Sum) int { return a.Begins.Compare(b.Begins) })
	return all
}
