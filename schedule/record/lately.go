package record

import (
	"database/sql"
	"fmt"
)

// lately goes from hand to hand by the index: each step seeks the first hand
// after the one before (a loose index scan), and of each hand the index gives
// the newest entries. No step reads past what it returns, so the length of the
// record does not matter; the number of hands does.
const lately = `WITH RECURSIVE known (hand) AS (
		SELECT min(hand) FROM entry
		UNION ALL
		SELECT (SELECT min(hand) FROM entry WHERE hand > known.hand) FROM known WHERE known.hand IS NOT NULL
	)
	SELECT entry.piece FROM known CROSS JOIN entry
	WHERE entry.id IN (SELECT id FROM entry AS own WHERE own.hand = known.hand ORDER BY at DESC, id DESC LIMIT ?)
	ORDER BY entry.at DESC, entry.id DESC`

// Lately gives the pieces that the newest entries of every hand are about, up
// to last entries of each: the piece with the newest entry first and each once.
// Entries about no piece count among the last and give nothing. A hand is who
// made an entry; entries without one count as made by one more hand.
func (r *Record) Lately(last int) ([]string, error) {
	return r.piecesIn(r.db.Query(lately, max(last, 0)))
}

// piecesIn gives the pieces that a query found, each where it came first.
func (r *Record) piecesIn(rows *sql.Rows, err error) ([]string, error) {
	if err != nil {
		return nil, r.fail("read", err)
	}
	defer rows.Close()
	var pieces []string
	seen := map[string]bool{"": true}
	for rows.Next() {
		var piece string
		if err := rows.Scan(&piece); err != nil {
			return nil, r.fail("read", fmt.Errorf("%w: %v", ErrDamaged, err))
		}
		if !seen[piece] {
			seen[piece] = true
			pieces = append(pieces, piece)
		}
	}
	if err := rows.Err(); err != nil {
		return nil, r.fail("read", err)
	}
	return pieces, nil
}
