package share

import (
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"

	_ "modernc.org/sqlite" // the driver of the ledger
)

// Ledger is what a carrier keeps beside a record: which entries it has seen, which of
// them the store has not acknowledged, and how far it has read there. All of it follows
// from the record and the store. A ledger that is lost or older than the record costs
// time and no entry.
type Ledger struct{ db *sql.DB }

// ledgerVersion changes with the tables; a ledger of another version is made anew.
const ledgerVersion = 1

// An own row was written by the bench, and not brought back by the carrier. What is
// unsent for a reason is not tried again. An empty text of a label is none: there, what
// the store calls it; sent, what this bench last told the store.
const ledgerTables = `
CREATE TABLE IF NOT EXISTS known (
	id     TEXT NOT NULL PRIMARY KEY,
	piece  INTEGER NOT NULL,
	digest INTEGER NOT NULL,
	own    INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX IF NOT EXISTS known_own ON known (id) WHERE own = 1;

CREATE TABLE IF NOT EXISTS piece (
	n      INTEGER PRIMARY KEY,
	id     TEXT NOT NULL UNIQUE,
	count  INTEGER NOT NULL DEFAULT 0,
	digest INTEGER NOT NULL DEFAULT 0
) STRICT;

CREATE TABLE IF NOT EXISTS unsent (
	id  TEXT NOT NULL PRIMARY KEY,
	why TEXT NOT NULL DEFAULT ''
) STRICT, WITHOUT ROWID;

CREATE TABLE IF NOT EXISTS label (
	id    TEXT NOT NULL PRIMARY KEY,
	class TEXT NOT NULL DEFAULT '',
	had   INTEGER NOT NULL DEFAULT 0,
	there TEXT NOT NULL DEFAULT '',
	sent  TEXT NOT NULL DEFAULT ''
) STRICT, WITHOUT ROWID;

CREATE TABLE IF NOT EXISTS store (
	name   TEXT NOT NULL,
	record TEXT NOT NULL,
	cursor INTEGER NOT NULL,
	count  INTEGER NOT NULL,
	digest INTEGER NOT NULL
) STRICT;
`

// OpenLedger opens the ledger at path for one store, and makes it where it is missing or
// cannot be read. The name is of the store, without a password; with another one than
// last time, what was known of the store is forgotten.
func OpenLedger(path, store string) (*Ledger, error) {
	l, err := openLedger(path, store)
	if err == nil {
		return l, nil
	}
	for _, name := range []string{path, path + "-wal", path + "-shm"} {
		if err := os.Remove(name); err != nil && !errors.Is(err, os.ErrNotExist) {
			return nil, fmt.Errorf("open %s: %w", path, err)
		}
	}
	if l, err = openLedger(path, store); err != nil {
		return nil, fmt.Errorf("open %s: %w", path, err)
	}
	return l, nil
}

func openLedger(path, store string) (_ *Ledger, err error) {
	if err := private(path); err != nil {
		return nil, err
	}
	db, err := sql.Open("sqlite", fileName(path, ledgerSettings))
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1) // so that a step never sees half of another
	l := &Ledger{db}
	defer func() {
		if err != nil {
			_ = db.Close()
		}
	}()
	return l, l.within(func(tx *sql.Tx) error { return prepareLedger(tx, store) })
}

// private makes a file that its user alone may read, unless it is there. SQLite would let
// others read it, and gives the files beside it the same mode.
func private(path string) error {
	file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return err
	}
	return file.Close()
}

// ErrNoLedger is returned by ReadLedger where no carrier has been, or one for another store.
var ErrNoLedger = errors.New("nothing was carried yet between this record and that shared one")

// ReadLedger opens the ledger that another carrier may use at this moment, for one store
// or with "" for any, and leaves it as it is.
func ReadLedger(path, store string) (*Ledger, error) {
	if _, err := os.Stat(path); err != nil {
		return nil, ErrNoLedger
	}
	db, err := sql.Open("sqlite", fileName(path, ledgerSettings))
	if err != nil {
		return nil, fmt.Errorf("open %s: %w", path, err)
	}
	db.SetMaxOpenConns(1)
	var name string
	if err = db.QueryRow(`SELECT name FROM store`).Scan(&name); err == nil && (store == "" || name == store) {
		return &Ledger{db}, nil
	}
	_ = db.Close()
	return nil, ErrNoLedger
}

// ledgerSettings are of its connection. Its log need not be on disk at once: what is
// lost with it is found again. What is erased is overwritten.
var ledgerSettings = url.Values{"_txlock": {"immediate"}, "_busy_timeout": {"5000"}, "_synchronous": {"NORMAL"}, "_pragma": {"journal_mode(WAL)", "secure_delete(on)"}}

// fileName names a file to SQLite.
func fileName(path string, settings url.Values) string {
	if whole, err := filepath.Abs(path); err == nil {
		path = whole
	}
	slashed := filepath.ToSlash(path)
	if !strings.HasPrefix(slashed, "/") {
		slashed = "/" + slashed
	}
	file := url.URL{Scheme: "file", Path: slashed, RawQuery: settings.Encode()}
	return file.String()
}

func prepareLedger(tx *sql.Tx, store string) error {
	var version, tables int
	if err := tx.QueryRow(`SELECT user_version, (SELECT count(*) FROM sqlite_schema) FROM pragma_user_version`).Scan(&version, &tables); err != nil {
		return err
	}
	if tables > 0 && version != ledgerVersion {
		return fmt.Errorf("version %d of the ledger", version)
	}
	if _, err := tx.Exec(ledgerTables + fmt.Sprintf(`PRAGMA user_version = %d`, ledgerVersion)); err != nil {
		return err
	}
	var name string
	err := tx.QueryRow(`SELECT name FROM store`).Scan(&name)
	if err == nil && name == store {
		return nil
	}
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return err
	}
	return forgetStore(tx, store)
}

// Close lets go of the file.
func (l *Ledger) Close() error { return l.db.Close() }

// within does something in one transaction.
func (l *Ledger) within(do func(*sql.Tx) error) error {
	tx, err := l.db.Begin()
	if err != nil {
		return l.fail(err)
	}
	defer tx.Rollback()
	if err := do(tx); err != nil {
		return l.fail(err)
	}
	return l.fail(tx.Commit())
}

func (l *Ledger) fail(err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("the ledger of the carrier: %w", err)
}

// texts are the results of a query for one text.
func (l *Ledger) texts(query string, args ...any) (all []string, err error) {
	rows, err := l.db.Query(query, args...)
	if err != nil {
		return nil, l.fail(err)
	}
	defer rows.Close()
	for rows.Next() {
		var text string
		if err := rows.Scan(&text); err != nil {
			return nil, l.fail(err)
		}
		all = append(all, text)
	}
	return all, l.fail(rows.Err())
}
