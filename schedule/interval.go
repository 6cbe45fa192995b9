package schedule

import (
	"cmp"

	"dullred/alloys"
	"dullred/schedule/split"
)

// Interval is one stretch of work from soft metal, of a stock in a condition: the
// metal was still whole when it was proved soft again, or a crack was seen.
type Interval struct {
	split.Interval
	Alloy     string
	Stock     string // where the metal is from; empty when nobody said
	Condition alloys.Condition
	Piece     ID
	Test      bool   // of a piece that was worked until it splits
	Doubt     string // why nothing is learned from it; empty for one that counts
}

// end keeps what the work of a zone says of its stock. A crack ends an interval
// once, and a heat between that nobody proved leaves it open how long it was.
func (s *State) end(z *Zone, cracked bool) {
	if z.Split || z.Unproven > 0 {
		return
	}
	z.Split = cracked
	work := s.Worked(*z, nil).Strain
	if work == 0 && !cracked {
		return
	}
	i := split.Interval{Strain: work, Split: cracked}
	s.Intervals = append(s.Intervals, Interval{Interval: i, Alloy: s.AlloyID, Stock: s.Stock,
		Condition: z.Condition, Piece: s.Piece, Test: s.Test, Doubt: cmp.Or(split.Doubtful(i), z.Doubt)})
	s.memo = &limits{}
}

// distinct drops what several zones of one entry say alike, from an index on.
func distinct(all []Interval, from int) []Interval {
	out := all[:from:from]
	for _, i := range all[from:] {
		said := false
		for _, o := range out[from:] {
			said = said || o == i
		}
		if !said {
			out = append(out, i)
		}
	}
	return out
}
