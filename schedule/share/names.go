package share

import (
	"maps"

	"dullred/schedule/exchange"
)

// names are the labels that the record is to get of those that came in, with the texts
// that they get here, and what is then known of labels. The names that the record has
// never change by it. What it had and has no longer was forgotten, and stays so.
func (s *session) names(labels []Label) (add []Label, learned map[string]told, err error) {
	learned = map[string]told{}
	if len(labels) == 0 {
		return nil, learned, nil
	}
	here, err := s.Local.Labels()
	if err != nil {
		return nil, nil, err
	}
	named := map[string]bool{}
	for _, l := range here {
		named[l.ID] = true
	}
	var incoming []exchange.Label
	for _, l := range labels {
		t := s.told[l.ID]
		t.class = l.Class
		if named[l.ID] || !t.had {
			t.there = l.Text
		}
		if exchange.CheckLabel(exchange.Label(l)) == nil && (named[l.ID] || !t.had) {
			incoming, t.had = append(incoming, exchange.Label(l)), true
		}
		learned[l.ID] = t
	}
	plan, err := exchange.Union(s.side(here), exchange.Side{Labels: incoming, Rows: exchange.RowsOf(nil)})
	if err != nil {
		return nil, nil, err
	}
	for _, l := range plan.Labels {
		add = append(add, Label(l))
	}
	return add, learned, nil
}

// letGo erases from the ledger the names that the record has no longer: who is forgotten
// there is not to be found beside it.
func (s *session) letGo(labels []Label) error {
	gone := maps.Clone(s.told)
	for _, l := range labels {
		delete(gone, l.ID)
	}
	maps.DeleteFunc(gone, func(_ string, t told) bool { return t.there == "" && t.sent == "" })
	for id, t := range gone {
		t.there, t.sent = "", ""
		gone[id] = t
	}
	if err := s.Ledger.unname(gone); err != nil {
		return err
	}
	maps.Copy(s.told, gone)
	return nil
}

// side is the names of the record as a union takes them. Where the bench has no label
// yet, its text is kept for it: a record takes the bench with that text for its own.
func (s *session) side(here []Label) exchange.Side {
	side := exchange.Side{Rows: exchange.RowsOf(nil)}
	for _, l := range here {
		side.Labels = append(side.Labels, exchange.Label(l))
	}
	if ownBench(here) == "" {
		side.Labels = append(side.Labels, exchange.Label{ID: "the bench itself", Class: "bench", Text: OwnBench})
	}
	return side
}
