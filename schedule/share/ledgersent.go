package share

import (
	"database/sql"
	"errors"

	"dullred/schedule"
)

// unsent are up to most ids of this bench that the store has not acknowledged.
func (l *Ledger) unsent(most int) ([]string, error) {
	return l.texts(`SELECT id FROM unsent WHERE why = '' ORDER BY id LIMIT ?`, most)
}

// owe has ids sent, again where need be; those that stay for a reason still do.
func (l *Ledger) owe(ids []string) error {
	if len(ids) == 0 {
		return nil
	}
	return l.within(func(tx *sql.Tx) error {
		for _, id := range ids {
			if _, err := tx.Exec(`INSERT INTO unsent (id) VALUES (?) ON CONFLICT DO NOTHING`, id); err != nil {
				return err
			}
		}
		return nil
	})
}

// sent takes down what became of ids that were sent: those with a reason stay here, the
// others have arrived.
func (l *Ledger) sent(ids []string, stay map[string]string) error {
	return l.within(func(tx *sql.Tx) error {
		for _, id := range ids {
			query, args := `DELETE FROM unsent WHERE id = ?`, []any{id}
			if why := stay[id]; why != "" {
				query, args = `UPDATE unsent SET why = ? WHERE id = ?`, []any{why, id}
			}
			if _, err := tx.Exec(query, args...); err != nil {
				return err
			}
		}
		return nil
	})
}

// Waiting counts the entries of this bench that are to be sent, and those that stay here
// for a reason.
func (l *Ledger) Waiting() (waiting, staying int, err error) {
	err = l.db.QueryRow(`SELECT count(*) FILTER (WHERE why = ''), count(*) FILTER (WHERE why <> '') FROM unsent`).Scan(&waiting, &staying)
	return waiting, staying, l.fail(err)
}

// Known counts the entries of the record that a carrier has looked at.
func (l *Ledger) Known() (int, error) {
	all, err := l.total()
	return int(all.Count), err
}

// Staying are the reasons for which entries of this bench stay here, by their ids.
func (l *Ledger) Staying() (map[string]string, error) {
	rows, err := l.db.Query(`SELECT id, why FROM unsent WHERE why <> ''`)
	if err != nil {
		return nil, l.fail(err)
	}
	defer rows.Close()
	all := map[string]string{}
	for rows.Next() {
		var id, why string
		if err := rows.Scan(&id, &why); err != nil {
			return nil, l.fail(err)
		}
		all[id] = why
	}
	return all, l.fail(rows.Err())
}

// reach is how far the store was read: the cursor, and the sum of all rows before it.
type reach struct {
	record string // id of the shared record, "" before the first page
	cursor int64
	there  Sum
}

func (l *Ledger) reach() (reach, error) {
	var r reach
	var digest int64
	err := l.db.QueryRow(`SELECT record, cursor, count, digest FROM store`).Scan(&r.record, &r.cursor, &r.there.Count, &digest)
	r.there.Digest = uint64(digest)
	return r, l.fail(err)
}

func setReach(tx *sql.Tx, r reach) error {
	_, err := tx.Exec(`UPDATE store SET record = ?, cursor = ?, count = ?, digest = ?`, r.record, r.cursor, r.there.Count, int64(r.there.Digest))
	return err
}

// collected takes down at once the rows that were brought, what was learned of labels, and
// how far the store was read for it.
func (l *Ledger) collected(rows []schedule.Row, learned map[string]told, at reach) error {
	return l.within(func(tx *sql.Tx) error {
		if err := addRows(tx, rows, ""); err != nil {
			return err
		}
		if err := tellLabels(tx, learned); err != nil {
			return err
		}
		return setReach(tx, at)
	})
}

// rewind has the store read from the beginning, and its names learned anew.
func (l *Ledger) rewind() error {
	return l.within(func(tx *sql.Tx) error {
		var name string
		if err := tx.QueryRow(`SELECT name FROM store`).Scan(&name); err != nil {
			return err
		}
		return forgetStore(tx, name)
	})
}

// forgetStore knows nothing of a store but its name. Reasons to keep an entry here were
// those of the other one.
func forgetStore(tx *sql.Tx, name string) error {
	var failures []error
	for _, statement := range []string{
		`DELETE FROM store`,
		`UPDATE label SET there = '', sent = ''`,
		`UPDATE unsent SET why = ''`,
	} {
		_, err := tx.Exec(statement)
		failures = append(failures, err)
	}
	_, err := tx.Exec(`INSERT INTO store (name, record, cursor, count, digest) VALUES (?, '', 0, 0, 0)`, name)
	return errors.Join(append(failures, err)...)
}
