package record

import (
	"database/sql"
	"fmt"
	"slices"

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
	return r.AppendWith(labels, nil, rows...)
}

// AppendWith is AppendNamed with derived rows in the same transaction: a derived
// row is passed over when its id is known, whatever stands under it. That is for
// rows whose id follows from their cause, which several programs may find at once.
func (r *Record) AppendWith(labels []Label, derived []Row, rows ...Row) error {
	if err := check(labels, slices.Concat(rows, derived)); err != nil {
		return r.fail("append", err)
	}
	r.writing.Lock()
	defer r.writing.Unlock()
	err := r.prepareInsert()
	switch {
	case err != nil:
	case len(labels)+len(derived)+len(rows) == 0:
	case len(labels)+len(derived) == 0 && len(rows) == 1:
		err = store(r.insert, &rows[0]) // one statement is a transaction of its own
	default:
		err = r.storeAll(labels, derived, rows)
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
		r.insert, err = r.pen.Prepare(insertEntry)
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

func (r *Record) storeAll(labels []Label, derived, rows []Row) error {
	tx, err := r.pen.Begin()
	if err != nil {
		return err
	}
	defer tx.Rollback()
	for _, label := range labels {
		if err := label.store(tx); err != nil {
			return err
		}
	}
	fresh, err := unknown(tx, derived)
	if err != nil {
		return err
	}
	for _, row := range slices.Concat(rows, fresh) {
		if err := store(r.insert, &row); err != nil { // prepared on the pen, so within the transaction
			return err
		}
	}
	return tx.Commit()
}

// unknown are the rows whose ids are not stored.
func unknown(tx *sql.Tx, rows []Row) (fresh []Row, err error) {
	for _, row := range rows {
		var known bool
		if err := tx.QueryRow(`SELECT EXISTS (SELECT 1 FROM entry WHERE id = ?)`, row.ID).Scan(&known); err != nil {
			return nil, err
		}
		if !known {
			fresh = append(fresh, row)
		}
	}
	return fresh, nil
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
