package share

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"dullred/schedule"
)

// Difference is one piece of which the record and the shared one hold not the same.
type Difference struct {
	Piece       string
	Name        string // here, "" for none
	Here, There Sum

	ToSend    int // entries of this bench that are only here, and will be sent
	ToCollect int // entries that are only there, and will come
	Waiting   int // entries of other benches that are only here, and wait for the carriers of these
	Staying   int // entries of this bench that the shared record does not take
	Other     int // entries that have other content there
}

// Renaming is a label that is called otherwise in the shared record.
type Renaming struct{ Class, Here, There string }

// Comparison is how a record and the shared one differ: by pieces, and in names, which
// are no less right for that.
type Comparison struct {
	Here, There Sum
	Pieces      int // that either of them has entries of
	Differ      []Difference
	Names       []Renaming
}

// Compare compares the record with the shared one by count and digest of each piece, and
// looks into those that differ. With look it first takes down what is new in the record;
// without, what another carrier beside it has taken down.
func (c *Carrier) Compare(ctx context.Context, look bool) (Comparison, error) {
	s, err := c.connect(ctx)
	if err != nil {
		return Comparison{}, err
	}
	found, err := s.compare(ctx, look)
	return found, errors.Join(err, s.store.Close())
}

func (s *session) compare(ctx context.Context, look bool) (found Comparison, err error) {
	if look {
		err = s.scan()
	} else {
		err = s.whose()
	}
	if err != nil {
		return found, err
	}
	here, err := s.Ledger.sums()
	if err != nil {
		return found, err
	}
	var there map[string]Sum
	err = s.ask(ctx, sumsPatience, func(ctx context.Context) (err error) {
		there, err = s.store.Sums(ctx)
		return err
	})
	if err != nil {
		return found, err
	}
	found.count(here, there)
	staying, err := s.Ledger.Staying()
	if err != nil {
		return found, err
	}
	for piece := range apart(here, there) {
		d := Difference{Piece: piece, Here: here[piece], There: there[piece]}
		if err := s.explain(ctx, &d, staying); err != nil {
			return found, err
		}
		found.Differ = append(found.Differ, d)
	}
	return found, s.nameAll(&found)
}

func (c *Comparison) count(here, there map[string]Sum) {
	for piece, sum := range here {
		c.Here = c.Here.plus(sum)
		if _, both := there[piece]; !both {
			c.Pieces++
		}
	}
	for _, sum := range there {
		c.There = c.There.plus(sum)
		c.Pieces++
	}
}

// explain says of each entry by which a piece differs why.
func (s *session) explain(ctx context.Context, d *Difference, staying map[string]string) error {
	rows, err := s.Local.Piece(d.Piece)
	if err != nil {
		return err
	}
	var b Batch
	if d.There.Count > 0 && d.Here.Count > 0 {
		err := s.ask(ctx, patience, func(ctx context.Context) (err error) {
			b, err = s.store.Pieces(ctx, d.Piece)
			return err
		})
		if err != nil {
			return err
		}
	}
	d.ToCollect = int(d.There.Count)
	there := map[string]schedule.Row{}
	for _, r := range b.Rows {
		there[r.ID] = r
	}
	for _, r := range rows {
		other, both := there[r.ID]
		switch {
		case both && Digest(other) == Digest(r):
			d.ToCollect--
		case both:
			d.ToCollect--
			d.Other++
		case r.Bench != s.own:
			d.Waiting++
		case staying[r.ID] != "":
			d.Staying++
		default:
			d.ToSend++
		}
	}
	return nil
}

// nameAll puts the names of pieces to their differences, and finds labels that are
// called otherwise there.
func (s *session) nameAll(found *Comparison) error {
	labels, err := s.Local.Labels()
	if err != nil {
		return err
	}
	names := map[string]string{}
	for _, l := range labels {
		names[l.ID] = l.Text
		if t := s.told[l.ID]; t.there != "" && t.there != s.called(l) {
			found.Names = append(found.Names, Renaming{Class: l.Class, Here: s.called(l), There: t.there})
		}
	}
	for i := range found.Differ {
		found.Differ[i].Name = names[found.Differ[i].Piece]
	}
	slices.SortFunc(found.Differ, func(a, b Difference) int { return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.Piece, b.Piece)) })
	slices.SortFunc(found.Names, func(a, b Renaming) int { return cmp.Or(cmp.Compare(a.Class, b.Class), cmp.Compare(a.Here, b.Here)) })
	return nil
}
