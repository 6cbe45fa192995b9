package record

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"iter"
	"os"
	"path/filepath"
	"time"

	sqlite3 "modernc.org/sqlite/lib"
)

// Reading is another record as it stood at one moment, read where it lies. Nothing is
// written: the file and its log stay as they are, to the byte, nothing is made beside
// them or copied, and no version changes. They need only be readable.
type Reading struct {
	path string
	seen glimpse
	conn pen
	end  func() error // gives back what the reading was made with
}

// Read opens the record at path for a Reading. Others may write to it meanwhile if they
// had it open before; where somebody comes to write later, the Reading gives ErrBusy at
// its end. A file that is missing gives fs.ErrNotExist, an empty one or one of another
// kind ErrNotRecord. A record that this process has open is refused, since closing its
// file would let go of its locks.
func Read(path string) (*Reading, error) {
	db, err := sql.Open("sqlite", ":memory:")
	if err != nil {
		return nil, openError(path, err, true)
	}
	conn, err := db.Conn(context.Background())
	if err != nil {
		return nil, errors.Join(openError(path, err, true), db.Close())
	}
	o, err := begin(pen{conn}, path)
	if err != nil {
		return nil, errors.Join(openError(path, err, true), conn.Close(), db.Close())
	}
	o.end = func() error { return errors.Join(conn.Close(), db.Close()) }
	return o, nil
}

// Beside is Read, of a record that Take then takes entries from. Until the Reading is
// closed nothing else can be written through this Record.
func (r *Record) Beside(path string) (*Reading, error) {
	r.writing.Lock()
	o, err := begin(r.pen, path)
	if err != nil {
		r.writing.Unlock()
		return nil, openError(path, err, true)
	}
	o.end = func() error {
		defer r.writing.Unlock()
		return nil
	}
	return o, nil
}

// begin attaches a record to a connection, and begins a transaction that reads it.
func begin(conn pen, name string) (*Reading, error) {
	path, err := filepath.Abs(name)
	if err != nil {
		return nil, err
	}
	// SQLite follows a link and keeps its log beside the file it leads to.
	if file, err := filepath.EvalSymlinks(path); err == nil {
		path = file
	}
	const looks = 50 // with settling, about a second
	for range looks {
		o := &Reading{path: path, conn: conn}
		if o.seen, err = glance(path); err != nil {
			return nil, err
		}
		if o.seen.journal.size >= 0 {
			err = fmt.Errorf("%w, or was cut off while it made it", ErrBusy)
			time.Sleep(settling)
			continue
		}
		err = o.attach()
		now, lost := glance(path)
		if err == nil && lost == nil && !o.seen.spoilt(now) {
			return o, nil
		}
		err = errors.Join(err, o.detach())
		if lost != nil {
			return nil, lost
		}
		if err != nil && now == o.seen {
			return nil, err
		}
	}
	if err == nil {
		err = ErrBusy
	}
	return nil, err
}

// attach looks into the file, and then lets SQLite.
func (o *Reading) attach() error {
	if o.seen.manner() != live {
		time.Sleep(settling) // a write from here on has another date
	}
	if err := o.vetFile(); err != nil {
		return err
	}
	m := o.seen.manner()
	if m == alone { // SQLite then keeps the index of the log in memory
		if _, err := o.conn.Exec(`PRAGMA locking_mode = EXCLUSIVE; PRAGMA main.locking_mode = NORMAL`); err != nil {
			return err
		}
		defer func() { _, _ = o.conn.Exec(`PRAGMA locking_mode = NORMAL`) }()
	}
	if _, err := o.conn.Exec(`ATTACH ? AS other`, uri(o.path, m.settings())); err != nil {
		return err
	}
	if _, err := o.conn.Exec(`BEGIN DEFERRED`); err != nil {
		return err
	}
	return o.vetObjects()
}

func (o *Reading) vetFile() error {
	opened.Lock()
	defer opened.Unlock()
	info, err := os.Stat(o.path)
	if err != nil {
		return err
	}
	if opened.holds(info) {
		return errors.New("this program has it open")
	}
	return vet(o.path, len(migrations), os.O_RDONLY)
}

func (o *Reading) vetObjects() error {
	var version int
	if err := o.conn.QueryRow(`PRAGMA other.user_version`).Scan(&version); err != nil {
		return err
	}
	_, found, err := objectsIn(o.conn.Query(selectOther, version))
	if err != nil {
		return err
	}
	return vetFound(version, found, migrations)
}

// detach ends the transaction, if there is one, and gives back the file.
func (o *Reading) detach() error {
	_, _ = o.conn.Exec(`ROLLBACK`) // fails where it was committed or never begun
	_, err := o.conn.Exec(`DETACH other`)
	if err != nil && primary(err) == sqlite3.SQLITE_ERROR {
		return nil // it was never attached
	}
	return err
}

// Close ends the reading.
func (o *Reading) Close() error {
	if err := errors.Join(o.detach(), o.end()); err != nil {
		return o.fail("close", err)
	}
	return nil
}

// Sound gives ErrBusy when somebody wrote to the file so that what was read since the
// beginning may be of two moments.
func (o *Reading) Sound() error {
	now, err := glance(o.path)
	if errors.Is(err, fs.ErrNotExist) || err == nil && o.seen.spoilt(now) {
		err = ErrBusy
	}
	if err != nil {
		return o.fail("read", err)
	}
	return nil
}

// Labels gives the labels of a class in the order of their texts.
func (o *Reading) Labels(class Class) ([]Label, error) {
	labels, err := labelsIn(o.conn.Query(`SELECT id, class, text FROM other.label WHERE class = ? ORDER BY folded`, class))
	if err != nil {
		return nil, o.fail("read", err)
	}
	return labels, o.Sound()
}

// Stored gives every entry in the order of the ids and holds one at a time, like
// Record.Stored.
func (o *Reading) Stored() iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) {
		for row, err := range scan(o.conn.Query(selectFields + `other.entry ORDER BY id`)) {
			if err != nil {
				yield(Row{}, o.fail("read", err))
				return
			}
			if !yield(row, nil) {
				return
			}
		}
		if err := o.Sound(); err != nil {
			yield(Row{}, err)
		}
	}
}

// fail wraps err once, and prefers to say that somebody wrote.
func (o *Reading) fail(doing string, err error) error {
	if now, lost := glance(o.path); lost != nil || o.seen.spoilt(now) {
		err = ErrBusy
	}
	return fmt.Errorf("%s %s: %w", doing, o.path, plain(err))
}
