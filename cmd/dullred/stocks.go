package main

import (
	"strings"

	"dullred/schedule"
	"dullred/schedule/record"
)

// ofStock are the pieces of a metal from one source, loaded once. Metal of which
// nobody said where it is from is like no other.
func (b *bench) ofStock(alloy, stock string) ([]*piece, error) {
	if stock == "" {
		return nil, nil
	}
	key := alloy + "\x00" + strings.ToLower(stock)
	if pieces, known := b.stocked[key]; known {
		return pieces, nil
	}
	rows, err := b.rec.Firsts()
	if err != nil {
		return nil, err
	}
	var pieces []*piece
	for _, e := range entriesOf(rows) {
		s, ok := e.Body.(schedule.Started)
		if !ok || s.Alloy != alloy || !strings.EqualFold(s.Stock, stock) {
			continue
		}
		p, err := b.load(e.Piece, "")
		if err != nil {
			return nil, err
		}
		pieces = append(pieces, p)
	}
	if b.stocked == nil {
		b.stocked = map[string][]*piece{}
	}
	b.stocked[key] = pieces
	return pieces, nil
}

// takeStock adds what other pieces of the stock of a piece teach, and what was said of
// its limit, to observations that have some of those pieces already.
func (b *bench) takeStock(o *schedule.Observed, p *piece, taken map[schedule.ID]bool) error {
	pieces, err := b.ofStock(p.state.AlloyID, p.state.Stock)
	if err != nil {
		return err
	}
	for _, other := range pieces {
		if other.id != p.id && !taken[other.id] {
			o.TakeStock(&other.state)
		}
	}
	if p.state.Stock != "" {
		o.Words, err = b.words()
	}
	return err
}

// words are what was said at any bench of how far the limits of stocks may go.
func (b *bench) words() (all []schedule.Entry, err error) {
	benches, err := b.rec.Labels(record.BenchClass)
	if err != nil {
		return nil, err
	}
	for _, l := range benches {
		rows, err := b.rec.OfKind(l.ID, string(schedule.KindLoosened))
		if err != nil {
			return nil, err
		}
		all = append(all, entriesOf(rows)...)
	}
	return all, nil
}
