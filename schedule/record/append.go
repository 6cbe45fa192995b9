package record

import (
	"database/sql"
	"fmt"

	sqlite3 "modernc.org/sqlite/lib"
)

// Append stores rows and returns when they are on disk: all of them, or on an
// error none. A row that is already stored is passed over. A known id with
// other content gives ErrConflict.
func (r *Record) Append(rows ...Row) error {
	return r.AppendNamed(nil, rows...)
}

// AppendNamed stores labels and rows in one transaction, so that a piece never
// stands in the record without its name. A label under a known id renames it;
// a name that another id of the same class bears gives ErrNameTaken.
func (r *Record) AppendNamed(labels []Label, rows ...Row) error {
	if err := check(labels, rows); err != nil {
		return r.fail("append", err)
	}
	r.writing.Lock()
	defer r.writing.Unlock()
	err := r.prepareInsert()
	switch {
	case err != nil:
	case len(labels) == 0 && len(rows) == 0:
	case len(labels) == 0 && len(rows) == 1:
		err = store(r.insert, &rows[0]) // one statement is a transaction of its own
	default:
		err = r.storeAll(labels, rows)
	}
	if err != nil {
		return r.fail("append", err)
	}
	return nil
}

// prepareInsert compiles the insert and its triggers with the first append:
// whoever only reads need not wait for it.
func (r *Record) prepareInsert() (err error) {
	if r.insert == nil {
		r.insert, err = r.db.Prepare(insertEntry)
	}
	return err
}

func check(labels []Label, rows []Row) error {
	for _, label := range labels {
		if err := label.check(); err != nil {
			return err
		}
	}
	for i := range rows {
		if err := rows[i].check(); err != nil {
			return err
		}
	}
	return nil
}

func (r *Record) storeAll(labels []Label, rows []Row) error {
	tx, err := r.db.Begin()
	if err != nil {
		return err
	}
	defer tx.Rollback()
	for _, label := range labels {
		if err := label.store(tx); err != nil {
			return err
		}
	}
	insert := tx.Stmt(r.insert)
	for i := range rows {
		if err := store(insert, &rows[i]); err != nil {
			return err
		}
	}
	return tx.Commit()
}

func store(insert *sql.Stmt, row *Row) error {
	_, err := insert.Exec(row.values()...)
	if code(err) == sqlite3.SQLITE_CONSTRAINT_TRIGGER {
		return fmt.Errorf("entry %s: %w", row.ID, ErrConflict)
	}
	if primary(err) == sqlite3.SQLITE_CONSTRAINT {
		return fmt.Errorf("entry %s: %w", row.ID, err)
	}
	return err
}
