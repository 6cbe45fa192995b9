package record

import (
	"errors"
	"io/fs"
	"net/url"
	"os"
	"time"
)

// settling is longer than the steps in which file systems of hard disks date a write.
const settling = 20 * time.Millisecond

// glimpse is what can be seen of the files of a record from outside.
type glimpse struct {
	file, log, journal dated
	shared             bool // the log has an index that programs share
}

type dated struct {
	size int64 // -1 when it is not there
	at   int64 // nanoseconds since 1970
}

func glance(path string) (g glimpse, err error) {
	for _, part := range []struct {
		*dated
		ending string
	}{{&g.file, ""}, {&g.log, "-wal"}, {&g.journal, "-journal"}} {
		if *part.dated, err = date(path + part.ending); err != nil {
			return g, err
		}
	}
	switch {
	case g.file.size < 0:
		return g, &fs.PathError{Op: "open", Path: path, Err: fs.ErrNotExist}
	case g.file.size == 0:
		return g, ErrNotRecord
	}
	g.shared = exists(path + "-shm")
	return g, nil
}

func date(path string) (dated, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return dated{size: -1}, nil
	case err != nil:
		return dated{}, err
	case !info.Mode().IsRegular():
		return dated{}, ErrNotRecord
	}
	return dated{info.Size(), info.ModTime().UnixNano()}, nil
}

// manner is how SQLite reads a record without writing anything.
type manner int

const (
	// still is without a log: nothing is locked, and whoever writes is noticed afterwards.
	still manner = iota
	// live is with a log that programs share, or that one that was killed left: what was
	// committed at one moment is read while they go on, and their index is not touched.
	live
	// alone is with a log that has no index, as of a copy of the two files: it is read into
	// memory, and whoever writes is noticed afterwards.
	alone
)

func (g glimpse) manner() manner {
	switch {
	case g.log.size >= 0 && g.shared:
		return live
	case g.log.size > 0:
		return alone
	}
	return still
}

// settings are those of SQLite (https://www.sqlite.org/uri.html, and
// https://www.sqlite.org/wal.html#read_only_databases for the live manner).
func (m manner) settings() url.Values {
	switch m {
	case live:
		return url.Values{"mode": {"ro"}, "readonly_shm": {"1"}}
	case alone:
		return url.Values{"mode": {"ro"}, "vfs": {lockless}}
	}
	return url.Values{"mode": {"ro"}, "immutable": {"1"}}
}

// spoilt reports whether what was read in some manner may be of two moments.
func (g glimpse) spoilt(now glimpse) bool {
	switch g.manner() {
	case live:
		return false
	case alone:
		return g != now
	}
	return g.file != now.file || g.journal != now.journal // a log that came was not read
}
