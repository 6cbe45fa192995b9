package share

import (
	"context"
	"errors"
	"maps"
	"slices"
	"strings"
	"time"

	"dullred/schedule"
	"dullred/schedule/exchange"
	"dullred/schedule/record"
)

// collect brings what was stored after the cursor.
func (s *session) collect(ctx context.Context) error {
	for more := true; more; {
		var err error
		if more, err = s.page(ctx); err != nil {
			return err
		}
	}
	return nil
}

// page brings one page and reports whether there is more. A store that is not the one
// that was read, or holds less, is read from the beginning.
func (s *session) page(ctx context.Context) (more bool, err error) {
	at := s.at
	var p Page
	err = s.ask(ctx, patience, func(ctx context.Context) (err error) {
		p, err = s.store.After(ctx, at.cursor, s.limit)
		return err
	})
	if errors.Is(err, ErrRewound) && at.cursor > 0 || err == nil && at.record != "" && p.Record != at.record {
		return true, s.again()
	}
	if err != nil || p.Next == at.cursor && p.Record == at.record {
		return false, err
	}
	at.record, at.cursor = p.Record, p.Next
	for _, r := range p.Rows {
		at.there = at.there.Add(r)
	}
	return p.More, s.into(ctx, Batch{Labels: p.Labels, Rows: p.Rows}, at)
}

// again has the store read from the beginning.
func (c *Carrier) again() error {
	if err := c.Ledger.rewind(); err != nil {
		return err
	}
	c.owes = true
	return c.recall()
}

// into takes what came in into the record, a bounded number of rows at once, and lets
// the bench have its turn between. Rows that the record has, and those that no record
// takes, are passed over. With the last of them the store is read up to at.
func (s *session) into(ctx context.Context, b Batch, at reach) error {
	for first := true; first || len(b.Rows) > 0; first = false {
		n, upto := min(len(b.Rows), mostRows), s.at
		if n == len(b.Rows) {
			upto = at
		}
		start := time.Now()
		if err := s.some(Batch{Labels: b.Labels, Rows: b.Rows[:n]}, upto); err != nil {
			return err
		}
		b = Batch{Rows: b.Rows[n:]}
		if n > 1 {
			rest(ctx, time.Since(start))
		}
	}
	return ctx.Err()
}

// rest waits, or until ctx ends.
func rest(ctx context.Context, d time.Duration) {
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
	case <-ctx.Done():
	}
}

// some takes up to mostRows rows in. The bench may write the same row or name at that
// moment, and then the record is looked at again.
func (s *session) some(b Batch, at reach) error {
	var err error
	for range 3 {
		var fresh []schedule.Row
		if fresh, err = s.unknown(b.Rows); err != nil {
			return err
		}
		err = s.keep(b.Labels, fresh, at)
		if !errors.Is(err, record.ErrConflict) && !errors.Is(err, record.ErrNameTaken) {
			return err
		}
		if err := s.scan(); err != nil {
			return err
		}
	}
	return err
}

// unknown are the rows that the record does not have, in the order of their ids.
func (s *session) unknown(rows []schedule.Row) ([]schedule.Row, error) {
	known, err := s.Ledger.digests(idsOf(rows))
	if err != nil {
		return nil, err
	}
	var fresh []schedule.Row
	for _, r := range rows {
		if _, here := known[r.ID]; !here && exchange.CheckRow(r) == nil {
			fresh = append(fresh, r)
		}
	}
	slices.SortFunc(fresh, func(a, b schedule.Row) int { return strings.Compare(a.ID, b.ID) })
	return fresh, nil
}

// keep writes rows and names to the record, and then to the ledger, together with how far
// the store is read. A row that is written and not in the ledger is found by the next scan.
func (s *session) keep(labels []Label, rows []schedule.Row, at reach) error {
	names, learned, err := s.names(labels)
	if err != nil {
		return err
	}
	var alerts, others []schedule.Row
	for _, r := range rows {
		if isAlert(r) {
			alerts = append(alerts, r)
			continue
		}
		others = append(others, r)
	}
	if len(names)+len(rows) > 0 {
		if err := s.Local.Append(names, alerts, others); err != nil {
			return err
		}
	}
	s.collected += len(rows)
	if err := s.Ledger.collected(rows, learned, at); err != nil {
		return err
	}
	maps.Copy(s.told, learned)
	s.at = at
	return nil
}
