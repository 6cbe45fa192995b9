package share

import (
	"database/sql"
	"encoding/json"
	"errors"

	"dullred/schedule"
)

// add takes down rows that were found in the record. Those that a bench wrote itself are to
// be sent.
func (l *Ledger) add(rows []schedule.Row, bench string) error {
	if len(rows) == 0 {
		return nil
	}
	return l.within(func(tx *sql.Tx) error { return addRows(tx, rows, bench) })
}

// addRows adds rows, of which those of one bench are to be sent, with "" none.
func addRows(tx *sql.Tx, rows []schedule.Row, bench string) error {
	numbers, err := addSums(tx, SumsOf(rows))
	if err != nil {
		return err
	}
	insert, err := tx.Prepare(`INSERT INTO known (id, piece, digest, own) VALUES (?, ?, ?, ?)`)
	if err != nil {
		return err
	}
	defer insert.Close()
	owe, err := tx.Prepare(`INSERT INTO unsent (id) VALUES (?) ON CONFLICT DO NOTHING`)
	if err != nil {
		return err
	}
	defer owe.Close()
	for _, r := range rows {
		own := bench != "" && r.Bench == bench
		if _, err := insert.Exec(r.ID, numbers[r.Piece], int64(Digest(r)), own); err != nil {
			return err
		}
		if !own {
			continue
		}
		if _, err := owe.Exec(r.ID); err != nil {
			return err
		}
	}
	return nil
}

// addSums adds to the sums of pieces, and gives the number of each. It adds here, since
// SQLite does not go round at 2^64.
func addSums(tx *sql.Tx, sums map[string]Sum) (map[string]int64, error) {
	numbers := map[string]int64{}
	for piece, add := range sums {
		var n, count, digest int64
		err := tx.QueryRow(`SELECT n, count, digest FROM piece WHERE id = ?`, piece).Scan(&n, &count, &digest)
		if errors.Is(err, sql.ErrNoRows) {
			err = tx.QueryRow(`INSERT INTO piece (id) VALUES (?) RETURNING n`, piece).Scan(&n)
		}
		if err != nil {
			return nil, err
		}
		sum := Sum{count, uint64(digest)}.plus(add)
		if _, err := tx.Exec(`UPDATE piece SET count = ?, digest = ? WHERE n = ?`, sum.Count, int64(sum.Digest), n); err != nil {
			return nil, err
		}
		numbers[piece] = n
	}
	return numbers, nil
}

// drop takes ids out that are no longer in the record, because it was put back to an
// earlier state.
func (l *Ledger) drop(ids []string) error {
	if len(ids) == 0 {
		return nil
	}
	return l.within(func(tx *sql.Tx) error {
		less := map[string]Sum{}
		for _, id := range ids {
			var piece string
			var digest int64
			err := tx.QueryRow(`SELECT piece.id, known.digest FROM known JOIN piece ON piece.n = known.piece WHERE known.id = ?`, id).Scan(&piece, &digest)
			if err != nil {
				return err
			}
			less[piece] = less[piece].minus(Sum{1, uint64(digest)})
			if _, err := tx.Exec(`DELETE FROM known WHERE id = ?`, id); err != nil {
				return err
			}
			if _, err := tx.Exec(`DELETE FROM unsent WHERE id = ?`, id); err != nil {
				return err
			}
		}
		_, err := addSums(tx, less)
		return err
	})
}

// ids are up to most known ids after an id, in their order.
func (l *Ledger) ids(after string, most int) ([]string, error) {
	return l.texts(`SELECT id FROM known WHERE id > ? ORDER BY id LIMIT ?`, after, most)
}

// mark is the last of the bench's own ids that carry a time (UUIDv7, RFC 9562) before a bound:
// what the bench writes next comes after it, unless its clock was put back.
func (l *Ledger) mark(bound string) (string, error) {
	ids, err := l.texts(`SELECT id FROM known WHERE own = 1 AND id < ? AND substr(id, 15, 1) = '7' ORDER BY id DESC LIMIT 1`, bound)
	if err != nil || len(ids) == 0 {
		return "", err
	}
	return ids[0], nil
}

// digests are those of the ids that are known.
func (l *Ledger) digests(ids []string) (map[string]uint64, error) {
	list, err := json.Marshal(ids)
	if err != nil {
		return nil, l.fail(err)
	}
	found, err := l.db.Query(`SELECT id, digest FROM known WHERE id IN (SELECT value FROM json_each(?))`, string(list))
	if err != nil {
		return nil, l.fail(err)
	}
	defer found.Close()
	known := map[string]uint64{}
	for found.Next() {
		var id string
		var digest int64
		if err := found.Scan(&id, &digest); err != nil {
			return nil, l.fail(err)
		}
		known[id] = uint64(digest)
	}
	return known, l.fail(found.Err())
}

// total is the sum of all rows that are known.
func (l *Ledger) total() (Sum, error) {
	var all Sum
	var high, low int64 // of the digests, summed apart, because SQLite does not go round
	err := l.db.QueryRow(`SELECT ifnull(sum(count), 0), ifnull(sum(digest >> 32), 0), ifnull(sum(digest & 0xffffffff), 0) FROM piece`).
		Scan(&all.Count, &high, &low)
	all.Digest = uint64(high)<<32 + uint64(low)
	return all, l.fail(err)
}

// sums are those of all pieces with rows, by their ids.
func (l *Ledger) sums() (map[string]Sum, error) {
	rows, err := l.db.Query(`SELECT id, count, digest FROM piece WHERE count <> 0`)
	if err != nil {
		return nil, l.fail(err)
	}
	defer rows.Close()
	sums := map[string]Sum{}
	for rows.Next() {
		var piece string
		var count, digest int64
		if err := rows.Scan(&piece, &count, &digest); err != nil {
			return nil, l.fail(err)
		}
		sums[piece] = Sum{count, uint64(digest)}
	}
	return sums, l.fail(rows.Err())
}

func idsOf(rows []schedule.Row) []string {
	ids := make([]string, len(rows))
	for i, r := range rows {
		ids[i] = r.ID
	}
	return ids
}
