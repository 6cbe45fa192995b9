package share

import (
	"context"
	"maps"
	"slices"
)

// manyPieces is how many pieces that lack something are fetched one by one; of more, the
// store is read from the beginning.
const manyPieces = 200

// audit compares the record with the store by sums, and carries what the cursor and the
// ledger do not show: after either was put back to an earlier state, say. What still
// differs then is settled, and not looked at again before more of it differs: entries
// that wait for their own bench, or that two records hold under one id.
func (s *session) audit(ctx context.Context) error {
	total, err := s.whole(ctx)
	if err != nil {
		return err
	}
	here, err := s.Ledger.total()
	if err != nil || here.minus(total) == s.settledTotal() {
		s.shrunk = s.shrunk && err != nil
		return err
	}
	differ, err := s.differing(ctx)
	if err != nil {
		return err
	}
	if err := s.repairAll(ctx, differ); err != nil {
		return err
	}
	s.shrunk = false
	return s.settle(ctx)
}

// settledTotal is by how much the record is known to differ from the store.
func (c *Carrier) settledTotal() (all Sum) {
	for _, by := range c.settled {
		all = all.plus(by)
	}
	return all
}

// whole is the sum of the store at a moment when all of it was read. If it is not the
// sum of what was read, the store is not what it was, and is read from the beginning.
func (s *session) whole(ctx context.Context) (total Sum, err error) {
	rewound := false
	for range 6 { // others store meanwhile
		if err := s.collect(ctx); err != nil {
			return total, err
		}
		err := s.ask(ctx, patience, func(ctx context.Context) (err error) {
			total, err = s.store.Total(ctx)
			return err
		})
		if err != nil {
			return total, err
		}
		before := s.at
		if before.there == total {
			return total, nil
		}
		if err := s.collect(ctx); err != nil {
			return total, err
		}
		if s.at == before && !rewound {
			rewound = true
			if err := s.again(); err != nil {
				return total, err
			}
		}
	}
	return total, nil
}

// differing are the pieces by whose sums the two differ, and by how much, without those
// that are settled.
func (s *session) differing(ctx context.Context) (map[string]Sum, error) {
	all, err := s.differences(ctx)
	maps.DeleteFunc(all, func(piece string, by Sum) bool { return s.settled[piece] == by })
	return all, err
}

// differences are the pieces by whose sums the two differ, and by how much the record
// has more.
func (s *session) differences(ctx context.Context) (map[string]Sum, error) {
	var there map[string]Sum
	err := s.ask(ctx, sumsPatience, func(ctx context.Context) (err error) {
		there, err = s.store.Sums(ctx)
		return err
	})
	if err != nil {
		return nil, err
	}
	here, err := s.Ledger.sums()
	if err != nil {
		return nil, err
	}
	return apart(here, there), nil
}

// apart is by how much the sums here differ from those there, by piece.
func apart(here, there map[string]Sum) map[string]Sum {
	by := map[string]Sum{}
	for piece, sum := range here {
		by[piece] = sum
	}
	for piece, sum := range there {
		by[piece] = by[piece].minus(sum)
	}
	maps.DeleteFunc(by, func(_ string, by Sum) bool { return by == Sum{} })
	return by
}

// repairAll carries what pieces lack on either side.
func (s *session) repairAll(ctx context.Context, pieces map[string]Sum) error {
	if len(pieces) > manyPieces {
		if err := s.again(); err != nil {
			return err
		}
		if err := s.collect(ctx); err != nil {
			return err
		}
	}
	for _, piece := range slices.Sorted(maps.Keys(pieces)) {
		if err := s.repair(ctx, piece); err != nil {
			return err
		}
	}
	return s.send(ctx)
}

// repair brings the rows of a piece that the record lacks, and has those sent that the
// store lacks.
func (s *session) repair(ctx context.Context, piece string) error {
	var b Batch
	err := s.ask(ctx, patience, func(ctx context.Context) (err error) {
		b, err = s.store.Pieces(ctx, piece)
		return err
	})
	if err != nil {
		return err
	}
	if err := s.into(ctx, b, s.at); err != nil {
		return err
	}
	there := map[string]bool{}
	for _, r := range b.Rows {
		there[r.ID] = true
	}
	rows, err := s.Local.Piece(piece)
	if err != nil {
		return err
	}
	var owed []string
	for _, r := range rows {
		if !there[r.ID] && s.own != "" && r.Bench == s.own {
			owed = append(owed, r.ID)
		}
	}
	s.owes = s.owes || len(owed) > 0
	return s.Ledger.owe(owed)
}

// settle takes down what differs after a repair.
func (s *session) settle(ctx context.Context) error {
	left, err := s.differences(ctx)
	if err == nil {
		s.settled = left
	}
	return err
}
