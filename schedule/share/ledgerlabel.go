package share

import "database/sql"

// told is what a ledger knows of a label.
type told struct {
	class string
	had   bool   // the record has, or had, a label under its id
	there string // its text in the store, "" if there is none that we know of
	sent  string // the text here when it was last sent, "" if never
}

// labels are all that is known of labels, by their ids.
func (l *Ledger) labels() (map[string]told, error) {
	rows, err := l.db.Query(`SELECT id, class, had, there, sent FROM label`)
	if err != nil {
		return nil, l.fail(err)
	}
	defer rows.Close()
	all := map[string]told{}
	for rows.Next() {
		var id string
		var t told
		if err := rows.Scan(&id, &t.class, &t.had, &t.there, &t.sent); err != nil {
			return nil, l.fail(err)
		}
		all[id] = t
	}
	return all, l.fail(rows.Err())
}

// tell takes down what is known of labels.
func (l *Ledger) tell(all map[string]told) error {
	if len(all) == 0 {
		return nil
	}
	return l.within(func(tx *sql.Tx) error { return tellLabels(tx, all) })
}

func tellLabels(tx *sql.Tx, all map[string]told) error {
	for id, t := range all {
		_, err := tx.Exec(`INSERT INTO label (id, class, had, there, sent) VALUES (?, ?, ?, ?, ?) ON CONFLICT (id) DO UPDATE
			SET class = excluded.class, had = excluded.had, there = excluded.there, sent = excluded.sent`, id, t.class, t.had, t.there, t.sent)
		if err != nil {
			return err
		}
	}
	return nil
}

// unname erases the texts of labels, and what the log of the ledger still has of them.
func (l *Ledger) unname(gone map[string]told) error {
	if len(gone) == 0 {
		return nil
	}
	if err := l.tell(gone); err != nil {
		return err
	}
	_, err := l.db.Exec(`PRAGMA wal_checkpoint(TRUNCATE)`)
	return l.fail(err)
}
