package record

import (
	"context"
	"database/sql"
	"database/sql/driver"

	"modernc.org/sqlite"
)

// heldFile is a file that SQLite keeps open for us, and the path it had.
type heldFile struct {
	path string
	identity
}

// inPlace reports whether the path still leads to the file. While a file is
// held the system does not give its number to another.
func (f heldFile) inPlace() bool {
	found, err := identify(f.path)
	return err == nil && f.same(found)
}

// mayCommit is asked by SQLite, under its write lock, before every commit; an
// answer other than 0 turns the commit into a rollback. Writing to a file or
// log that has been removed, moved or replaced would succeed, and what was
// written could never be found again.
func (r *Record) mayCommit() int32 {
	for _, file := range r.held {
		if !file.inPlace() {
			return 1
		}
	}
	return 0
}

// connector makes every connection of a record ask mayCommit. None is made once
// the path leads elsewhere: it would read another file.
type connector struct {
	driver.Connector
	record *Record
}

func (c connector) Connect(ctx context.Context) (driver.Conn, error) {
	if c.record.mayCommit() != 0 {
		return nil, ErrGone
	}
	conn, err := c.Connector.Connect(ctx)
	if err != nil {
		return nil, err
	}
	conn.(sqlite.HookRegisterer).RegisterCommitHook(c.record.mayCommit)
	return conn, nil
}

// connect makes a record of a file that has not been looked into yet.
func connect(path string) (*Record, error) {
	// Where the platform has fdatasync, a commit need not wait for timestamps.
	_, _ = sqlite.Fdatasync(true)
	base, err := sqlite.NewConnector(dsn(path))
	if err != nil {
		return nil, err
	}
	r := &Record{path: path}
	r.db = sql.OpenDB(connector{base, r})
	return r, nil
}

// hold remembers the record and its log as they are now, for mayCommit. SQLite
// makes the log with the first look into the file, and keeps it until the last
// connection is closed.
func (r *Record) hold() error {
	if _, err := r.pen.Exec(`SELECT 1 FROM entry LIMIT 1`); err != nil {
		return err
	}
	for _, path := range []string{r.path, r.path + "-wal"} {
		id, err := identify(path)
		if err != nil {
			return err
		}
		r.held = append(r.held, heldFile{path, id})
	}
	return nil
}
