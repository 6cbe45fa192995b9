package record

import (
	"encoding/json"
	"fmt"
)

// IDs gives up to most ids that come after an id, in their order; "" is before all. It
// is for walking a long record in short steps, between which others may write.
func (r *Record) IDs(after string, most int) ([]string, error) {
	return r.ids(`SELECT id FROM entry WHERE id > ? ORDER BY id LIMIT ?`, after, max(most, 0))
}

// Since gives up to most ids of entries that happened at a time, in microseconds since
// 1970 UTC, or later, in their order. It goes by the index of each hand.
func (r *Record) Since(at int64, most int) ([]string, error) {
	return r.ids(`WITH RECURSIVE hands (hand) AS (
			SELECT min(hand) FROM entry
			UNION ALL
			SELECT (SELECT min(hand) FROM entry WHERE hand > hands.hand) FROM hands WHERE hands.hand IS NOT NULL)
		SELECT entry.id FROM hands CROSS JOIN entry ON entry.hand = hands.hand AND entry.at >= ?
		ORDER BY entry.id LIMIT ?`, at, max(most, 0))
}

// Rows gives the entries with some ids, in the order of the ids. An id that is not
// stored gives none.
func (r *Record) Rows(ids ...string) ([]Row, error) {
	list, err := json.Marshal(ids)
	if err != nil {
		return nil, r.fail("read", err)
	}
	return collect(r.read(r.db.Query(selectEntry+
		`WHERE id IN (SELECT value FROM json_each(?)) ORDER BY id`, string(list))))
}

// ids are the results of a query for ids.
func (r *Record) ids(query string, args ...any) (ids []string, err error) {
	rows, err := r.db.Query(query, args...)
	if err != nil {
		return nil, r.fail("read", err)
	}
	defer rows.Close()
	for rows.Next() {
		var id string
		if err := rows.Scan(&id); err != nil {
			return nil, r.fail("read", fmt.Errorf("%w: %v", ErrDamaged, err))
		}
		ids = append(ids, id)
	}
	if err := rows.Err(); err != nil {
		return nil, r.fail("read", err)
	}
	return ids, nil
}
