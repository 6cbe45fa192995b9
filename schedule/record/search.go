package record

import (
	"iter"
	"math"
	"slices"
)

// Search is what entries are looked for by. All that is given must hold; the zero
// Search finds every entry.
type Search struct {
	Span
	Hand   string   // id; "" is every one, and none
	Pieces []string // ids; nil is every one, and none
	Kinds  []string // nil is every one
	Said   *Said    // nil is whatever is said
	Newest bool     // the newest first; otherwise the oldest
}

// Span is from a moment on and before another, in microseconds since 1970 UTC. A zero
// Until is no end; From is one, since nothing was logged before 1970.
type Span struct{ From, Until int64 }

// Said is a text that is looked for.
type Said struct {
	// Part is a part of the text that stands in a body just so, in either case: ASCII
	// letters, digits and blanks, or "". It spares In most bodies. A body that is not
	// ASCII altogether may spell it otherwise, and goes to In in any case.
	Part string
	// In reports whether the text stands in the body of an entry of a kind. It is asked
	// of no advice shown and of no probe trace.
	In func(kind, body string) bool
	// Pieces are the ids of those that bear the text in their name: all that is about
	// them is found.
	Pieces []string
}

// last is the last moment of a span.
func (s Span) last() int64 {
	if s.Until == 0 {
		return math.MaxInt64
	}
	return s.Until - 1
}

func (s Span) holds(at int64) bool { return at >= s.From && at <= s.last() }

// few pieces are looked through whatever else is asked for, since they have fewer
// entries than there may be of a kind, a text or a hand (a judgement by measurement).
const few = 300

// Search gives the entries that were looked for, in the order (at, id) or the reverse
// of it, and holds no more of them than a few of each hand, kind or piece. What is
// appended meanwhile may appear or not; nothing appears twice. After an error it stops.
//
// It goes by the index that leaves least to look through. How long the first entries
// take depends on that, and not on the length of the record: only a kind of the most
// frequent that was logged seldom, or long ago, takes as long as reading all that was
// logged since.
func (r *Record) Search(q Search) iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) {
		for spot, err := range r.spots(q) {
			var row Row
			if err == nil {
				row, err = r.rowAt(spot)
			}
			if err != nil {
				yield(Row{}, r.fail("read", err))
				return
			}
			if !yield(row, nil) {
				return
			}
		}
	}
}

// spot is an entry that was found: its place, and the whole of it where that was read.
type spot struct {
	at  int64
	id  string
	row *Row
}

// rowAt is the entry at a spot.
func (r *Record) rowAt(s spot) (Row, error) {
	if s.row != nil {
		return *s.row, nil
	}
	rows, err := collect(scan(r.db.Query(selectEntry+`WHERE id = ?`, s.id)))
	if err != nil || len(rows) != 1 {
		return Row{}, err
	}
	return rows[0], nil
}

// spots chooses the way through the record.
func (r *Record) spots(q Search) iter.Seq2[spot, error] {
	m := newMatch(q)
	switch {
	case q.Pieces != nil && len(q.Pieces) <= few:
		return r.along(q, m, byPiece, q.Pieces)
	case q.Said != nil && len(q.Said.Pieces) == 0:
		return r.saying(q, m)
	case q.Said != nil:
		return either(r.along(q, m, byPiece, q.Said.Pieces), r.saying(q, m), q.Newest)
	case q.Kinds != nil && !slices.ContainsFunc(q.Kinds, isFrequent):
		return r.along(q, m, byKind, q.Kinds)
	case q.Hand != "":
		return r.along(q, m, byHand, []string{q.Hand})
	case q.Pieces != nil:
		return r.along(q, m, byPiece, q.Pieces)
	}
	return r.fromHandToHand(q, m)
}

func isFrequent(kind string) bool { return slices.Contains(frequent, kind) }

// fromHandToHand goes through all that is left, but not for a kind that was never logged.
func (r *Record) fromHandToHand(q Search, m match) iter.Seq2[spot, error] {
	logged, err := r.logged(q.Kinds)
	if err == nil && q.Kinds != nil && len(logged) == 0 {
		return func(func(spot, error) bool) {}
	}
	var hands []string
	if err == nil {
		hands, err = r.hands()
	}
	if err != nil {
		return func(yield func(spot, error) bool) { yield(spot{}, err) }
	}
	return r.along(q, m, byHand, hands)
}

// logged are those of some kinds that the record has.
func (r *Record) logged(kinds []string) (known []string, err error) {
	for _, kind := range kinds {
		var found bool
		if err := r.db.QueryRow(`SELECT EXISTS (SELECT 1 FROM entry WHERE kind = ?)`, kind).Scan(&found); err != nil {
			return nil, err
		}
		if found {
			known = append(known, kind)
		}
	}
	return known, nil
}

const everyHand = `WITH RECURSIVE known (hand) AS (
		SELECT min(hand) FROM entry
		UNION ALL
		SELECT (SELECT min(hand) FROM entry WHERE hand > known.hand) FROM known WHERE known.hand IS NOT NULL
	) `

// hands are all that made an entry, by the index, and "" where some have none.
func (r *Record) hands() ([]string, error) {
	return texts(r.db.Query(everyHand + `SELECT hand FROM known WHERE hand IS NOT NULL`))
}
