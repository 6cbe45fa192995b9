package record

import (
	"database/sql"
	"fmt"
)

// between goes from hand to hand by the index, and of each takes what it made in a span.
const between = everyHand + `SELECT DISTINCT entry.piece FROM known CROSS JOIN entry INDEXED BY entry_hand
	WHERE entry.hand = known.hand AND entry.at >= ? AND entry.at <= ? AND entry.piece <> '' ORDER BY entry.piece`

// Between gives the pieces that an entry of a span is about, in the order of their ids.
// It reads the entries of the span and no others, whatever the length of the record.
func (r *Record) Between(s Span) ([]string, error) {
	pieces, err := texts(r.db.Query(between, s.From, s.last()))
	if err != nil {
		return nil, r.fail("read", err)
	}
	return pieces, nil
}

// texts are the texts that a query for one column found.
func texts(rows *sql.Rows, err error) (found []string, _ error) {
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var text string
		if err := rows.Scan(&text); err != nil {
			return nil, fmt.Errorf("%w: %v", ErrDamaged, err)
		}
		found = append(found, text)
	}
	return found, rows.Err()
}
