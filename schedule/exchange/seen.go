package exchange

import (
	"maps"
	"slices"

	"dullred/schedule"
)

// seen is what a union must know of all rows together.
type seen struct {
	hands  map[string]bool     // with entries here
	starts map[string][]string // ids of the starts of a piece
	voids  []schedule.Entry
}

func newSeen() *seen {
	return &seen{hands: map[string]bool{}, starts: map[string][]string{}}
}

// here takes down a row of the record that is joined to.
func (s *seen) here(r schedule.Row) {
	s.hands[r.Hand] = true
	s.row(r)
}

// row takes down a row of either.
func (s *seen) row(r schedule.Row) {
	switch schedule.Kind(r.Kind) {
	case schedule.KindStarted:
		s.starts[r.Piece] = append(s.starts[r.Piece], r.ID)
	case schedule.KindVoid:
		if e, err := schedule.Decode(r); err == nil {
			s.voids = append(s.voids, e)
		}
	}
}

// twice are the pieces with more than one start that stands, in the order of their ids.
func (s *seen) twice() (all []Twice) {
	dead := schedule.Voided(s.voids)
	for _, piece := range slices.Sorted(maps.Keys(s.starts)) {
		standing := slices.DeleteFunc(s.starts[piece], func(id string) bool { return dead[schedule.ID(id)] })
		if len(standing) > 1 {
			all = append(all, Twice{Piece: piece, Starts: standing})
		}
	}
	return all
}
