package record

import (
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"time"

	sqlite3 "modernc.org/sqlite/lib"
)

// patience is how long a writer waits for others, in milliseconds.
const patience = 5000

// Open opens the record at path, and creates it (mode 0600) and its folder
// (mode 0700) when they are missing. A file of zero bytes is taken for a record
// whose creation was cut short. Open refuses with ErrNotRecord, ErrNewer,
// ErrDamaged or ErrReadOnly what it must not or cannot write to.
func Open(path string) (*Record, error) { return open(path, migrations) }

func open(name string, steps []string) (*Record, error) {
	path, err := filepath.Abs(name)
	if err != nil {
		return nil, fmt.Errorf("open %s: %w", name, err)
	}
	// SQLite follows a link and keeps its log beside the file it leads to.
	if file, err := filepath.EvalSymlinks(path); err == nil {
		path = file
	}
	opened.Lock()
	defer opened.Unlock()
	info, err := ensureFile(path)
	if err == nil && !opened.holds(info) {
		err = vet(path, len(steps), os.O_RDWR)
	}
	if err != nil {
		return nil, openError(path, err, true)
	}
	quiet := !pending(path)
	r, err := start(path, steps)
	if err != nil {
		return nil, openError(path, err, quiet)
	}
	if now, err := os.Stat(path); err != nil || !os.SameFile(now, info) {
		_ = r.letGo() // replaced since the first look
		return nil, openError(path, ErrGone, false)
	}
	r.info = info
	opened.add(info)
	return r, nil
}

// openError words a refusal. A log left by a crash is folded into the file
// when SQLite lets go of it, so the file is said to be untouched only where it is.
func openError(path string, err error, untouched bool) error {
	if refused(err) {
		err = ErrReadOnly
	}
	err = fmt.Errorf("open %s: %w", path, plain(err))
	kept := errors.Is(err, ErrNotRecord) || errors.Is(err, ErrNewer) || errors.Is(err, ErrDamaged)
	if kept && untouched {
		return fmt.Errorf("%w; the file was left untouched", err)
	}
	return err
}

// start hands the file to SQLite. A new file becomes a record in one
// transaction under a rollback journal, so that its header is complete from
// the first byte on disk, and only then gets its write-ahead log.
func start(path string, steps []string) (_ *Record, err error) {
	r, err := connect(path)
	if err != nil {
		return nil, err
	}
	defer func() {
		if err != nil {
			_ = r.letGo()
		}
	}()
	if err := r.take(); err != nil {
		return nil, err
	}
	if err := r.migrate(steps); err != nil {
		return nil, err
	}
	if err := r.enterWAL(); err != nil {
		return nil, err
	}
	// A second connection, made now: later the path may lead to another file.
	if r.piece, err = r.db.Prepare(selectPiece); err != nil {
		return nil, err
	}
	if err := r.hold(); err != nil {
		return nil, err
	}
	return r, r.look()
}

// dsn names the file and the settings of every connection to it. secure_delete
// overwrites what Forget erases; trusted_schema keeps a doctored file from
// calling functions with side effects; fullfsync matters on macOS alone, where
// a plain sync stops at the cache of the drive.
func dsn(path string) string {
	return uri(path, url.Values{
		"mode":          {"rw"},
		"_txlock":       {"immediate"},
		"_busy_timeout": {fmt.Sprint(patience)},
		"_synchronous":  {"FULL"},
		"_pragma":       {"fullfsync(ON)", "secure_delete(ON)", "temp_store(MEMORY)", "trusted_schema(OFF)"},
	})
}

// uri names a file to SQLite, and how it is to be opened.
func uri(path string, query url.Values) string {
	slashed := filepath.ToSlash(path)
	if !strings.HasPrefix(slashed, "/") {
		slashed = "/" + slashed
	}
	file := url.URL{Scheme: "file", Path: slashed, RawQuery: query.Encode()}
	return file.String()
}

// enterWAL switches the file to a write-ahead log, which it then keeps. SQLite
// does not wait for others during the switch, so this does.
func (r *Record) enterWAL() error {
	const pause = 5
	var mode string
	var err error
	for range patience / pause {
		err = r.pen.QueryRow(`PRAGMA journal_mode = WAL`).Scan(&mode)
		if primary(err) != sqlite3.SQLITE_BUSY {
			break
		}
		time.Sleep(pause * time.Millisecond)
	}
	if err == nil && mode != "wal" {
		err = errors.New("the file system does not allow a write-ahead log")
	}
	return err
}
