package main

import (
	"strings"

	"dullred/schedule"
	"dullred/schedule/record"
)

// stocks are the pieces of a record by what their metal is and where it is from.
type stocks struct {
	ids    map[stockKey][]schedule.ID
	loaded map[stockKey][]*piece
}

// stockKey tells stocks apart, whatever case they were typed in.
type stockKey struct{ alloy, stock string }

func stockOf(alloy, stock string) stockKey { return stockKey{alloy, strings.ToLower(stock)} }

// readStocks finds the stock of every piece by the entry that began it.
func (b *bench) readStocks() (*stocks, error) {
	rows, err := b.rec.Firsts()
	if err != nil {
		return nil, err
	}
	s := &stocks{ids: map[stockKey][]schedule.ID{}, loaded: map[stockKey][]*piece{}}
	for _, e := range entriesOf(rows) {
		if begun, ok := e.Body.(schedule.Started); ok && begun.Stock != "" {
			key := stockOf(begun.Alloy, begun.Stock)
			s.ids[key] = append(s.ids[key], e.Piece)
		}
	}
	return s, nil
}

// ofStock are the pieces of a metal from one source, loaded once. Metal of which
// nobody said where it is from is like no other.
func (b *bench) ofStock(alloy, stock string) (pieces []*piece, err error) {
	if stock == "" {
		return nil, nil
	}
	if b.stocked == nil {
		if b.stocked, err = b.readStocks(); err != nil {
			return nil, err
		}
	}
	key := stockOf(alloy, stock)
	if pieces, known := b.stocked.loaded[key]; known {
		return pieces, nil
	}
	for _, id := range b.stocked.ids[key] {
		p, err := b.load(id, "")
		if err != nil {
			return nil, err
		}
		pieces = append(pieces, p)
	}
	b.stocked.loaded[key] = pieces
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

// words are what was said at any bench of how far the limits of stocks may go, and what
// was taken back there.
func (b *bench) words() (all []schedule.Entry, err error) {
	benches, err := b.rec.Labels(record.BenchClass)
	if err != nil {
		return nil, err
	}
	for _, l := range benches {
		for _, kind := range []schedule.Kind{schedule.KindLoosened, schedule.KindVoid} {
			rows, err := b.rec.OfKind(l.ID, string(kind))
			if err != nil {
				return nil, err
			}
			all = append(all, entriesOf(rows)...)
		}
	}
	return all, nil
}
