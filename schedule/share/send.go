package share

import (
	"context"
	"errors"

	"dullred/schedule"
	"dullred/schedule/exchange"
)

// otherThere is why an entry stays here that the store has under its id, but other.
const otherThere = "the shared record has another entry under its id"

// send carries what the store has not acknowledged, in batches.
func (s *session) send(ctx context.Context) error {
	if s.as != s.own && s.barred == nil {
		return errAnew
	}
	for s.owes && !s.mute && s.own != "" {
		ids, err := s.Ledger.unsent(s.limit)
		if err != nil {
			return err
		}
		if s.owes = len(ids) > 0; !s.owes {
			break
		}
		if err := s.sendSome(ctx, ids); err != nil {
			return err
		}
	}
	return s.rename(ctx)
}

// sendSome sends the rows with some ids. Those that are no longer in the record, or of
// another bench, are no longer to be sent.
func (s *session) sendSome(ctx context.Context, ids []string) error {
	rows, err := s.Local.Rows(ids...)
	if err != nil {
		return err
	}
	var b Batch
	stay := map[string]string{}
	for _, r := range rows {
		switch err := CheckRow(r); {
		case err != nil:
			stay[r.ID] = err.Error()
		case r.Bench == s.own:
			b.Rows = append(b.Rows, r)
		}
	}
	if b.Labels, err = s.namesOf(b.Rows); err != nil {
		return err
	}
	if err := s.sendBatch(ctx, b, stay); err != nil {
		return err
	}
	return s.Ledger.sent(ids, stay)
}

// sendBatch sends a batch, and adds to what must stay here. A store that takes a batch
// for damaged gets its rows one by one, so that one of them does not keep the others.
func (s *session) sendBatch(ctx context.Context, b Batch, stay map[string]string) error {
	if len(b.Rows)+len(b.Labels) == 0 {
		return nil
	}
	var done Receipt
	err := s.ask(ctx, patience, func(ctx context.Context) (err error) {
		done, err = s.store.Send(ctx, b)
		return err
	})
	damaged := errors.Is(err, schedule.ErrRow) || errors.Is(err, exchange.ErrLabel)
	switch {
	case damaged && len(b.Rows) > 1:
		for _, r := range b.Rows {
			if err := s.sendBatch(ctx, Batch{Labels: b.Labels, Rows: []schedule.Row{r}}, stay); err != nil {
				return err
			}
		}
		return nil
	case damaged && len(b.Rows) == 1:
		stay[b.Rows[0].ID] = err.Error()
		return nil
	case err != nil:
		return err
	}
	s.sent += len(b.Rows) - len(done.Refused)
	for _, id := range done.Refused {
		stay[id] = otherThere
	}
	return s.remember(s.answered(b.Labels, done))
}

// answered is what is known of labels after they were sent.
func (s *session) answered(labels []Label, done Receipt) map[string]told {
	all := map[string]told{}
	for _, l := range labels {
		all[l.ID] = told{class: l.Class, had: true, there: l.Text, sent: l.Text}
	}
	for _, l := range done.Renamed {
		t := all[l.ID]
		t.there = l.Text
		all[l.ID] = t
	}
	for _, l := range done.Stayed {
		all[l.ID] = told{class: l.Class, had: true, there: l.Text}
	}
	for _, id := range done.Forgotten {
		t := all[id]
		t.there = ""
		all[id] = t
	}
	return all
}

// namesOf are the names that rows need and the store was not seen to have.
func (s *session) namesOf(rows []schedule.Row) ([]Label, error) {
	need := map[string]bool{}
	for _, r := range rows {
		for _, id := range []string{r.Bench, r.Hand, r.Piece} {
			if t := s.told[id]; t.there == "" && t.sent == "" {
				need[id] = true
			}
		}
	}
	if len(need) == 0 {
		return nil, nil
	}
	labels, err := s.Local.Labels()
	return s.wanted(labels, func(l Label) bool { return need[l.ID] }), err
}

// rename sends the names that this bench gave and has changed since, and lets go of those
// that the record has no longer.
func (s *session) rename(ctx context.Context) error {
	if !s.named || s.mute {
		return nil
	}
	labels, err := s.Local.Labels()
	if err == nil {
		err = s.letGo(labels)
	}
	if err == nil {
		changed := s.wanted(labels, func(l Label) bool {
			t := s.told[l.ID]
			return s.own != "" && t.sent != "" && t.sent != l.Text
		})
		err = s.sendBatch(ctx, Batch{Labels: changed}, nil)
	}
	s.named = err != nil
	return err
}

// wanted are the labels of the record that a store takes and that are wanted, as they are
// to be called there. A bench has no name for another.
func (s *session) wanted(labels []Label, want func(Label) bool) (out []Label) {
	for _, l := range labels {
		l.Text = s.called(l)
		if want(l) && CheckLabel(l) == nil && (l.Class != "bench" || l.ID == s.own) {
			out = append(out, l)
		}
	}
	return out
}

// called is what the others are to call whom a label of the record names.
func (c *Carrier) called(l Label) string {
	if l.ID == c.own && c.Name != "" {
		return c.Name
	}
	return l.Text
}
