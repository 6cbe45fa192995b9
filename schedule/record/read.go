package record

import (
	"database/sql"
	"iter"
)

// All gives every entry in the order (at, id), and holds them all in memory for
// that. It reads the record as it stood at the first row: what is appended
// meanwhile does not appear. After an error it stops.
func (r *Record) All() iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) { r.read(r.db.Query(selectEntry + `ORDER BY at, id`))(yield) }
}

// Stored gives every entry in the order of the ids, which is how they lie in
// the file, and holds one at a time. Otherwise it is like All.
func (r *Record) Stored() iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) { r.read(r.db.Query(selectEntry))(yield) }
}

// Count gives the number of entries.
func (r *Record) Count() (int, error) {
	var n int
	if err := r.db.QueryRow(`SELECT count(*) FROM entry`).Scan(&n); err != nil {
		return 0, r.fail("read", err)
	}
	return n, nil
}

const selectPiece = selectEntry + `WHERE piece = ? ORDER BY at, id`

// Piece gives the entries of one piece in the order (at, id).
func (r *Record) Piece(id string) ([]Row, error) { return collect(r.read(r.piece.Query(id))) }

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
		return collect(r.read(r.db.Query(selectEntry+`WHERE id = ? LIMIT ?`, text, most)))
	}
	return collect(r.read(r.db.Query(selectEntry+
		`WHERE id IN (SELECT id FROM entry WHERE substr(id, ?) = ?) ORDER BY at, id LIMIT ?`, -len(text), text, most)))
}

const piecesOfHand = `SELECT piece FROM entry WHERE hand = ? ORDER BY at DESC, id DESC LIMIT ?`

// PiecesOfHand gives the pieces that the last entries of a hand are about, the
// newest first and each once. It reads no more than that many entries.
func (r *Record) PiecesOfHand(hand string, last int) ([]string, error) {
	return r.piecesIn(r.db.Query(piecesOfHand, hand, max(last, 0)))
}

// read is scan with errors that say so.
func (r *Record) read(rows *sql.Rows, err error) iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) {
		for row, err := range scan(rows, err) {
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

// scan gives what a query found, once, up to the first error.
func scan(rows *sql.Rows, err error) iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) {
		if err != nil {
			yield(Row{}, err)
			return
		}
		defer rows.Close()
		var row Row
		fields := row.fields()
		for rows.Next() {
			if err := row.scan(rows, fields); err != nil {
				yield(Row{}, err)
				return
			}
			if !yield(row, nil) {
				return
			}
		}
		if err := rows.Err(); err != nil {
			yield(Row{}, err)
		}
	}
}

func collect(seq iter.Seq2[Row, error]) ([]Row, error) {
	var rows []Row
	for row, err := range seq {
		if err != nil {
			return nil, err
		}
		rows = append(rows, row)
	}
	return rows, nil
}
