package exchange

import (
	"cmp"
	"slices"

	"dullred/schedule"
)

// seen is what a union must know of all rows together.
type seen struct {
	hands map[string]bool     // with entries here
	once  map[happen][]string // ids of what happens once to a piece
	voids []schedule.Entry
}

// happen is something that happens once to a piece: its start, its end.
type happen struct {
	piece string
	kind  schedule.Kind
}

func newSeen() *seen {
	return &seen{hands: map[string]bool{}, once: map[happen][]string{}}
}

// here takes down a row of the record that is joined to.
func (s *seen) here(r schedule.Row) {
	s.hands[r.Hand] = true
	s.row(r)
}

// row takes down a row of either.
func (s *seen) row(r schedule.Row) {
	switch kind := schedule.Kind(r.Kind); kind {
	case schedule.KindStarted, schedule.KindFinished:
		h := happen{r.Piece, kind}
		s.once[h] = append(s.once[h], r.ID)
	case schedule.KindVoid:
		if e, err := schedule.Decode(r); err == nil {
			s.voids = append(s.voids, e)
		}
	}
}

// twice is what happened more than once and stands, by the ids of the pieces.
func (s *seen) twice() (all []Twice) {
	dead := schedule.Voided(s.voids)
	for h, ids := range s.once {
		standing := slices.DeleteFunc(ids, func(id string) bool { return dead[schedule.ID(id)] })
		if len(standing) > 1 {
			all = append(all, Twice{Piece: h.piece, Kind: h.kind, IDs: standing})
		}
	}
	slices.SortFunc(all, func(a, b Twice) int { return cmp.Or(cmp.Compare(a.Piece, b.Piece), cmp.Compare(b.Kind, a.Kind)) })
	return all
}
