package main

import (
	"maps"
	"slices"
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

// stocksHere finds the stock of every piece by the entry that began it, once.
func (b *bench) stocksHere() (*stocks, error) {
	if b.stocked != nil {
		return b.stocked, nil
	}
	rows, err := b.rec.Firsts()
	if err != nil {
		return nil, err
	}
	b.stocked = &stocks{ids: map[stockKey][]schedule.ID{}, loaded: map[stockKey][]*piece{}}
	for _, e := range entriesOf(rows) {
		if begun, ok := e.Body.(schedule.Started); ok {
			key := stockOf(begun.Alloy, begun.Stock)
			b.stocked.ids[key] = append(b.stocked.ids[key], e.Piece)
		}
	}
	return b.stocked, nil
}

// ofStock are the pieces of a metal from one source, loaded once.
func (b *bench) ofStock(key stockKey) (pieces []*piece, err error) {
	s, err := b.stocksHere()
	if err != nil {
		return nil, err
	}
	if pieces, known := s.loaded[key]; known {
		return pieces, nil
	}
	for _, id := range s.ids[key] {
		p, err := b.loadState(id)
		if err != nil {
			return nil, err
		}
		pieces = append(pieces, p)
	}
	s.loaded[key] = pieces
	return pieces, nil
}

// ofMetal are the ids of the pieces of a metal from one source, or of that metal
// altogether where none is named.
func (b *bench) ofMetal(alloy, stock string) (all []schedule.ID, err error) {
	s, err := b.stocksHere()
	if err != nil {
		return nil, err
	}
	keys := slices.SortedFunc(maps.Keys(s.ids), func(x, y stockKey) int { return strings.Compare(x.stock, y.stock) })
	for _, key := range keys {
		if key == stockOf(alloy, stock) || stock == "" && key.alloy == alloy {
			all = append(all, s.ids[key]...)
		}
	}
	return all, nil
}

// takeStock adds what other pieces of the stock of a piece teach, and what was said of
// its limit, to observations that have some of those pieces already.
func (b *bench) takeStock(o *schedule.Observed, p *piece, taken map[schedule.ID]bool) error {
	if p.state.Stock == "" {
		return nil // metal of which nobody said where it is from is like no other
	}
	pieces, err := b.ofStock(stockOf(p.state.AlloyID, p.state.Stock))
	if err != nil {
		return err
	}
	for _, other := range pieces {
		if other.id != p.id && !taken[other.id] {
			o.TakeStock(&other.state)
		}
	}
	o.Words, err = b.words()
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
