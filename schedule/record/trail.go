package record

import "iter"

const trail = `SELECT id, at, ifnull(count, 0), bench, hand, piece, zones, kind, '' FROM entry WHERE piece = ? ORDER BY at DESC, id DESC`

// Trail gives the entries of one piece backwards, the newest first, and of each what
// Outlines gives without the body. It reads no further than it is asked to.
func (r *Record) Trail(piece string) iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) {
		for row, err := range outlines(r.db.Query(trail, piece)) {
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
