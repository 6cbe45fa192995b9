package record

import (
	"errors"
	"fmt"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// Every error of this package says what was being done to which file and holds
// at most one of these.
var (
	// ErrNotRecord is returned by Open for a file of another kind or another application.
	ErrNotRecord = errors.New("not a dullred record")
	// ErrNewer is returned by Open for a record this program is too old for.
	ErrNewer = errors.New("written by a newer version of dullred")
	// ErrDamaged is returned when the file is a record but cannot be made sense of.
	ErrDamaged = errors.New("the record is damaged")
	// ErrReadOnly is returned when the file or its folder cannot be written.
	ErrReadOnly = errors.New("the file or its folder cannot be written")
	// ErrBusy is returned when another program kept the record locked for five seconds.
	ErrBusy = errors.New("another program keeps the record locked")
	// ErrFull is returned when the disk has no room left.
	ErrFull = errors.New("the disk is full")
	// ErrDisk is returned when the disk failed to read or write.
	ErrDisk = errors.New("the disk failed to read or write")
	// ErrGone is returned when the file or its log is no longer where it was
	// opened; nothing was written.
	ErrGone = errors.New("the record was moved or removed while open")
	// ErrConflict is returned by Append for a known id with other content.
	ErrConflict = errors.New("already recorded with other content")
	// ErrNameTaken is returned by AppendNamed when another id of the same class bears the name.
	ErrNameTaken = errors.New("the name is taken")
)

// meanings says in our words what SQLite's result codes mean here
// (https://www.sqlite.org/rescode.html). The header has been checked before
// SQLite sees the file, so NOTADB is damage too. Our statements are constant
// and valid, so ERROR means that the file lacks a table or column of ours. The
// file is known to exist, so CANTOPEN means that those beside it cannot be made.
var meanings = map[int]error{
	sqlite3.SQLITE_CORRUPT:  ErrDamaged,
	sqlite3.SQLITE_ERROR:    ErrDamaged,
	sqlite3.SQLITE_NOTADB:   ErrDamaged,
	sqlite3.SQLITE_READONLY: ErrReadOnly,
	sqlite3.SQLITE_CANTOPEN: ErrReadOnly,
	sqlite3.SQLITE_BUSY:     ErrBusy,
	sqlite3.SQLITE_PROTOCOL: ErrBusy,
	sqlite3.SQLITE_FULL:     ErrFull,
	sqlite3.SQLITE_IOERR:    ErrDisk,

	sqlite3.SQLITE_CONSTRAINT_COMMITHOOK: ErrGone, // only mayCommit answers so
}

// code is SQLite's extended result code for err, 0 if err is not from SQLite.
func code(err error) int {
	failure, ok := errors.AsType[*sqlite.Error](err)
	if !ok {
		return 0
	}
	return failure.Code()
}

// primary is the low byte of SQLite's result code, which tells the kind of failure.
func primary(err error) int { return code(err) & 0xff }

// plain replaces an error from SQLite by what it means; others pass unchanged.
func plain(err error) error {
	for _, c := range []int{code(err), primary(err)} {
		if meaning, ok := meanings[c]; ok {
			return meaning
		}
	}
	return err
}

// fail wraps err once with what was being done and to which file.
func (r *Record) fail(doing string, err error) error {
	return fmt.Errorf("%s %s: %w", doing, r.path, plain(err))
}
