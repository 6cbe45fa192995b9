package record

import (
	"database/sql"
	"fmt"
	"iter"
)

// saying goes through the bodies of all entries that hold one.
const (
	saying = `SELECT at, id, kind, piece, hand, body FROM entry INDEXED BY entry_said WHERE ` + said + ` AND at >= ? AND at <= ? `
	partly = `AND (instr(lower(body), lower(?)) OR length(body) <> octet_length(body) OR instr(body, '\u')) `
)

// mostPart is as much of the part of a text as is asked for.
const mostPart = 64

// saying gives the entries that match and have the text in their body.
func (r *Record) saying(q Search, m match) iter.Seq2[spot, error] {
	query, args := saying, []any{q.From, q.last()}
	if part := q.Said.Part; part != "" {
		query, args = query+partly, append(args, part[:min(len(part), mostPart)])
	}
	order := `ORDER BY at, id`
	if q.Newest {
		order = `ORDER BY at DESC, id DESC`
	}
	return func(yield func(spot, error) bool) {
		for row, err := range leanly(r.db.Query(query+order, args...)) {
			switch {
			case err != nil:
				yield(spot{}, err)
				return
			case !m.apart(row) || !m.heard(row):
			case !yield(spot{at: row.At, id: row.ID}, nil):
				return
			}
		}
	}
}

// leanly gives what a query for six columns found. The row is the same each time.
func leanly(rows *sql.Rows, err error) iter.Seq2[*Row, error] {
	return func(yield func(*Row, error) bool) {
		if err != nil {
			yield(nil, err)
			return
		}
		defer rows.Close()
		var row Row
		for rows.Next() {
			if err := rows.Scan(&row.At, &row.ID, &row.Kind, &row.Piece, &row.Hand, &row.Body); err != nil {
				yield(nil, fmt.Errorf("%w: %v", ErrDamaged, err))
				return
			}
			if !yield(&row, nil) {
				return
			}
		}
		if err := rows.Err(); err != nil {
			yield(nil, err)
		}
	}
}

// Bodies gives the entries of one kind that hold a body, in the order (at, id), and of
// each the id, the moment, the piece, the hand, the kind and the body alone. It is not
// for advice shown and probe traces, of which it gives none.
func (r *Record) Bodies(kind string) iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) {
		const query = saying + `AND kind = ? ORDER BY at, id`
		for row, err := range leanly(r.db.Query(query, Span{}.From, Span{}.last(), kind)) {
			if err != nil {
				yield(Row{}, r.fail("read", err))
				return
			}
			if !yield(*row, nil) {
				return
			}
		}
	}
}
