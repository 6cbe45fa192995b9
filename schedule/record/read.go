package record

import (
	"cmp"
	"iter"
	"slices"
)

// All gives every entry in the order (at, id). It reads the record as it stood
// at the first row: what is appended meanwhile does not appear. After an error
// it stops.
//
// Every row is held in memory, as SQLite would do to sort them; but rows come
// from the file in the order of their ids, most of which grow with time, and
// sorting what is nearly in order is quick.
func (r *Record) All() iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) {
		rows, err := r.everything()
		if err != nil {
			yield(Row{}, err)
			return
		}
		for _, row := range rows {
			if !yield(row, nil) {
				return
			}
		}
	}
}

func (r *Record) everything() ([]Row, error) {
	var n int
	if err := r.db.QueryRow(`SELECT count(*) FROM entry`).Scan(&n); err != nil {
		return nil, r.fail("read", err)
	}
	rows, err := collect(r.rows(selectEntry), n)
	slices.SortFunc(rows, byAtAndID)
	return rows, err
}

func byAtAndID(a, b Row) int { return cmp.Or(cmp.Compare(a.At, b.At), cmp.Compare(a.ID, b.ID)) }

// Piece gives the entries of one piece in the order (at, id).
func (r *Record) Piece(id string) ([]Row, error) {
	return collect(r.rows(selectEntry+`WHERE piece = ? ORDER BY at, id`, id), 0)
}

// Find gives up to most entries, in the order (at, id), whose id is or ends in
// handle: four or more hexadecimal digits in either case, with or without
// dashes. It reads every id, unless handle is a full one.
func (r *Record) Find(handle string, most int) ([]Row, error) {
	text, err := tail(handle)
	if err != nil {
		return nil, err
	}
	most = max(most, 0) // to SQLite a negative limit is none
	if isID(text) {
		return collect(r.rows(selectEntry+`WHERE id = ? LIMIT ?`, text, most), 0)
	}
	return collect(r.rows(selectEntry+
		`WHERE id IN (SELECT id FROM entry WHERE substr(id, ?) = ?) ORDER BY at, id LIMIT ?`, -len(text), text, most), 0)
}

const piecesOfHand = `SELECT piece FROM entry WHERE hand = ? ORDER BY at DESC, id DESC LIMIT ?`

// PiecesOfHand gives the pieces that the last entries of a hand are about, the
// newest first and each once. It reads no more than that many entries.
func (r *Record) PiecesOfHand(hand string, last int) ([]string, error) {
	rows, err := r.db.Query(piecesOfHand, hand, max(last, 0))
	if err != nil {
		return nil, r.fail("read", err)
	}
	defer rows.Close()
	var pieces []string
	for rows.Next() {
		var piece string
		if err := rows.Scan(&piece); err != nil {
			return nil, r.fail("read", err)
		}
		if piece != "" && !slices.Contains(pieces, piece) {
			pieces = append(pieces, piece)
		}
	}
	if err := rows.Err(); err != nil {
		return nil, r.fail("read", err)
	}
	return pieces, nil
}

func (r *Record) rows(query string, args ...any) iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) {
		rows, err := r.db.Query(query, args...)
		if err != nil {
			yield(Row{}, r.fail("read", err))
			return
		}
		defer rows.Close()
		for rows.Next() {
			row, err := scan(rows)
			if err != nil {
				yield(Row{}, r.fail("read", err))
				return
			}
			if !yield(row, nil) {
				return
			}
		}
		if err := rows.Err(); err != nil {
			yield(Row{}, r.fail("read", err))
		}
	}
}

// collect gathers about n rows.
func collect(seq iter.Seq2[Row, error], n int) ([]Row, error) {
	rows := slices.Grow([]Row(nil), n)
	for row, err := range seq {
		if err != nil {
			return nil, err
		}
		rows = append(rows, row)
	}
	return rows, nil
}
