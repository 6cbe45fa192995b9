package record

import (
	"container/heap"
	"fmt"
	"iter"
	"slices"
	"strings"
)

// way is an index that gives the entries of one key in the order (at, id).
type way struct{ column, index, within string }

var (
	byPiece = way{"piece", "entry_piece", "1"}
	byHand  = way{"hand", "entry_hand", "1"}
	byKind  = way{"kind", "entry_kind", rare}
)

// from is the beginning of every query that goes a way.
func (w way) from() string {
	return fmt.Sprintf(`INDEXED BY %s WHERE %s = ? AND %s `, w.index, w.column, w.within)
}

// next are the entries of a key behind a place.
func (w way) next(newest bool) string {
	if newest {
		return selectEntry + w.from() + `AND (at, id) < (?, ?) AND at >= ? ORDER BY at DESC, id DESC LIMIT ?`
	}
	return selectEntry + w.from() + `AND (at, id) > (?, ?) AND at <= ? ORDER BY at, id LIMIT ?`
}

// firsts are the moments of the first entry that each of some keys has in a span, or of
// the last; a key without one is left out.
func (w way) firsts(newest bool, keys int) string {
	order := ""
	if newest {
		order = " DESC"
	}
	return `WITH known (key) AS (VALUES (?)` + strings.Repeat(`, (?)`, keys-1) + `), begun (key, at) AS (SELECT key,
		(SELECT at FROM entry INDEXED BY ` + w.index + ` WHERE ` + w.column + ` = key AND ` + w.within + ` AND at >= ? AND at <= ? ORDER BY at` + order + ` LIMIT 1)
		FROM known) SELECT key, at FROM begun WHERE at IS NOT NULL`
}

// along merges the entries of some keys, and gives those that match.
func (r *Record) along(q Search, m match, w way, keys []string) iter.Seq2[spot, error] {
	return func(yield func(spot, error) bool) {
		next, err := r.db.Prepare(w.next(q.Newest))
		if err != nil {
			yield(spot{}, err)
			return
		}
		defer next.Close()
		h, err := r.strands(q, w, keys)
		h.next = next
		for err == nil && len(h.strands) > 0 {
			row, fresh := h.first()
			if !fresh && m.of(row) && !yield(spot{row.At, row.ID, row}, nil) {
				return
			}
			err = h.advance(fresh)
		}
		if err != nil {
			yield(spot{}, err)
		}
	}
}

// keysAtOnce is how many keys one statement asks after.
const keysAtOnce = 500

// strands finds where the entries of each key begin, and reads none of them.
func (r *Record) strands(q Search, w way, keys []string) (*sheaf, error) {
	h := &sheaf{newest: q.Newest, bound: q.last()}
	if q.Newest {
		h.bound = q.From
	}
	keys = slices.Compact(slices.Sorted(slices.Values(keys)))
	for some := range slices.Chunk(keys, keysAtOnce) {
		rows, err := r.db.Query(w.firsts(q.Newest, len(some)), append(anyOf(some), q.From, q.last())...)
		if err != nil {
			return h, err
		}
		if err := h.begin(rows); err != nil {
			return h, err
		}
	}
	heap.Init(h)
	return h, nil
}

// either merges what two ways give in one order, each spot once.
func either(a, b iter.Seq2[spot, error], newest bool) iter.Seq2[spot, error] {
	return func(yield func(spot, error) bool) {
		one, stop := pulled(a)
		defer stop()
		two, stop := pulled(b)
		defer stop()
		for one.ok || two.ok {
			takeOne := one.ok && (!two.ok || !before(two.spot, one.spot, newest))
			takeTwo := two.ok && (!one.ok || !before(one.spot, two.spot, newest))
			took := *one
			if !takeOne {
				took = *two
			}
			if !yield(took.spot, took.err) || took.err != nil {
				return
			}
			if takeOne {
				one.pull()
			}
			if takeTwo {
				two.pull()
			}
		}
	}
}

// puller is a way whose spots are taken one by one.
type puller struct {
	next func() (spot, error, bool)
	spot spot
	err  error
	ok   bool
}

func pulled(way iter.Seq2[spot, error]) (*puller, func()) {
	next, stop := iter.Pull2(way)
	p := &puller{next: next}
	p.pull()
	return p, stop
}

func (p *puller) pull() { p.spot, p.err, p.ok = p.next() }
