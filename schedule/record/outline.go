package record

import (
	"database/sql"
	"fmt"
	"iter"
	"strings"
)

// Outlines gives the entries of some kinds in the order of their ids, which is that in
// which they lie in the file, and of each all but the bench's other figures: the row
// has no moment of writing, version, process, shape, size or temperature. It holds one
// entry at a time, and takes about half as long as Stored.
func (r *Record) Outlines(kinds ...string) iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) {
		if len(kinds) == 0 {
			return
		}
		for row, err := range outlines(r.db.Query(outlined+`(?`+strings.Repeat(`, ?`, len(kinds)-1)+`)`, anyOf(kinds)...)) {
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

const outlined = `SELECT id, at, ifnull(count, 0), bench, hand, piece, zones, kind, body FROM entry NOT INDEXED WHERE kind IN `

func anyOf(texts []string) (all []any) {
	for _, text := range texts {
		all = append(all, text)
	}
	return all
}

// outlines reads rows of nine columns. Five of them hold the same few texts again and
// again, and of each text one is kept.
func outlines(rows *sql.Rows, err error) iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) {
		if err != nil {
			yield(Row{}, err)
			return
		}
		defer rows.Close()
		kept := map[string]string{}
		for rows.Next() {
			row, err := outline(rows, kept)
			if err != nil {
				yield(Row{}, fmt.Errorf("%w: %v", ErrDamaged, err))
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

func outline(rows *sql.Rows, kept map[string]string) (row Row, err error) {
	var often [5]sql.RawBytes
	err = rows.Scan(&row.ID, &row.At, &row.Count, &often[0], &often[1], &often[2], &often[3], &often[4], &row.Body)
	for i, field := range []*string{&row.Bench, &row.Hand, &row.Piece, &row.Zones, &row.Kind} {
		text, known := kept[string(often[i])]
		if !known {
			text = string(often[i])
			kept[text] = text
		}
		*field = text
	}
	return row, err
}
