// Package record keeps the entries of a workshop on disk, for good.
//
// An entry is one thing that was done or measured: a course of hammering, an
// anneal, a section read off with the callipers. This package knows rows, not
// metal. It stores a Row, gives it back unchanged and in order, and leaves
// every meaning to its callers.
//
//	r, err := record.Open(path)
//	if err != nil {
//		return err
//	}
//	defer r.Close()
//	if err := r.Append(row); err != nil {
//		return err // not recorded: show nothing
//	}
//	rows, err := r.Piece(row.Piece)
//
// # Durable first
//
// Append returns when the row is on disk and not before. The file is an SQLite
// database with a write-ahead log and synchronous=FULL: every commit ends in a
// sync of the log. Several programs may have the record open and write to it
// at once; each waits up to five seconds for its turn and then gets ErrBusy.
//
// # Append-only
//
// Entries are never changed and never deleted; a correction is a further
// entry. Triggers in the file refuse UPDATE and DELETE. They also refuse a
// second row under a known id, because INSERT OR REPLACE deletes the old row
// without asking a delete trigger. A second row that is the same in every
// column is taken for a repeated message and ignored, so that appending may be
// retried. All this guards against accidents, a stray script for example. It
// is no guard against an attacker: whoever can write the file can drop the
// triggers, change an entry and put them back.
//
// # Names
//
// Entries hold ids, never names. What a piece, a hand or a bench is called
// stands in a table of its own, and Forget erases a name without touching an
// entry.
//
// # Other people's files
//
// Open reads the first hundred bytes itself before SQLite may touch the file
// (https://www.sqlite.org/fileformat2.html, section 1.3). A file of another
// kind, of another application or of a newer version is refused unchanged. So
// is a record whose tables, indexes and triggers are not to the letter what
// this package makes: what is found in it would not be what was appended. Every
// row is checked when it is read, and Check reads them all.
//
// # Others who write
//
// A program that keeps a record open while others append to it asks Changed
// whether there is anything new, and then reads what it shows again. Watch says
// when to ask, and costs nothing while nobody writes. Everything that a Record
// writes goes through one connection, since that is how SQLite tells our own
// commits from those of others.
//
//	stop, err := r.Watch(ask) // ask calls Changed, and reads again if it is true
//	if err != nil {
//		// no events here: call ask every second
//	}
//
// # Files that go away
//
// A file that is removed, moved or replaced while a program has it open takes
// what is written to it along. Before every commit the record therefore asks
// whether its path still leads to the file, and the path of the log to the log;
// if not, nothing is written and Append returns ErrGone. Backup makes a copy
// that is whole.
//
// While a record is open, the same process must not open and close its file by
// other means, not even to copy it: the operating system then drops every lock
// the process holds on that file (https://www.sqlite.org/howtocorrupt.html,
// section 2.2). Opening one record twice through Open is safe.
package record

import (
	"database/sql"
	"os"
	"sync"
)

// Record is an open record. Its methods may be called from several goroutines.
type Record struct {
	path string
	db   *sql.DB     // for reading
	info os.FileInfo // identifies the file among those this process has open
	held []heldFile  // must be in place for anything to be written

	writing sync.Mutex // one writer at a time, so that our own goroutines never wait by polling
	pen     pen        // for writing
	insert  *sql.Stmt  // prepared on the pen by the first append
	version int64      // of the data, when Changed was last asked

	piece   *sql.Stmt
	closing sync.Once
}

// Path is the absolute path of the record, without links.
func (r *Record) Path() string { return r.path }

// Close lets go of the file, when an Append under way has ended. The last program to close a record folds the log
// into it and removes the two files beside it. Closing twice does nothing.
func (r *Record) Close() error {
	var err error
	r.closing.Do(func() {
		r.writing.Lock()
		defer r.writing.Unlock()
		opened.Lock()
		defer opened.Unlock()
		err = r.letGo()
		opened.remove(r.info)
	})
	if err != nil {
		return r.fail("close", err)
	}
	return nil
}
