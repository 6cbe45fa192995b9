package record

import (
	"encoding/json"
	"fmt"
)

// IDs gives up to most ids that come after an id, in their order; "" is before all. It
// is for walking a long record in short steps, between which others may write.
func (r *Record) IDs(after string, most int) ([]string, error) {
	rows, err := r.db.Query(`SELECT id FROM entry WHERE id > ? ORDER BY id LIMIT ?`, after, max(most, 0))
	if err != nil {
		return nil, r.fail("read", err)
	}
	defer rows.Close()
	var ids []string
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
