package share

import (
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// ErrBeside is returned by Lone when another carrier works beside the record.
var ErrBeside = errors.New("another dullred-share carries the entries of this record")

// LockPath is where the lock lies that a carrier has beside a record while it works.
func LockPath(record string) string { return record + "-share-lock" }

// Runs reports whether a carrier works beside a record. Where none ever did, no lock is
// made by asking.
func Runs(record string) (bool, error) {
	path := LockPath(record)
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	lock, err := Lone(path)
	if errors.Is(err, ErrBeside) {
		return true, nil
	}
	if err != nil {
		return false, err
	}
	return false, lock.Release()
}

// Lock keeps other carriers away from a record. It goes with the program that has it,
// however that ends.
type Lock struct {
	db *sql.DB
	tx *sql.Tx
}

// Lone takes the lock in the file at path, and makes it where it is missing. Two carriers
// would do no harm to entries, but each would undo what the other knows, so the second
// is refused with ErrBeside. It is the lock of an SQLite file that stays empty.
func Lone(path string) (*Lock, error) {
	if err := private(path); err != nil {
		return nil, fmt.Errorf("lock %s: %w", path, err)
	}
	db, err := sql.Open("sqlite", fileName(path, url.Values{"_txlock": {"exclusive"}, "_busy_timeout": {"0"}}))
	if err != nil {
		return nil, fmt.Errorf("lock %s: %w", path, err)
	}
	db.SetMaxOpenConns(1)
	tx, err := db.Begin()
	if err == nil {
		return &Lock{db, tx}, nil
	}
	_ = db.Close()
	if failure, ok := errors.AsType[*sqlite.Error](err); ok && failure.Code()&0xff == sqlite3.SQLITE_BUSY {
		return nil, ErrBeside
	}
	return nil, fmt.Errorf("lock %s: %w", path, err)
}

// Release gives the lock back.
func (l *Lock) Release() error { return errors.Join(l.tx.Rollback(), l.db.Close()) }
