package record

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// beside are the endings of the files that make up a record on disk, as far as they are
// there; what SQLite keeps in memory (-shm) it makes anew.
var beside = []string{"", "-wal", "-journal"}

// settling is longer than the steps in which file systems of hard disks date a write.
const settling = 20 * time.Millisecond

// OpenCopy opens a copy of the record at path, and leaves the file as it is, to the
// byte: nothing is made beside it, its log is not folded in and no version changes. It
// need only be readable. The copy lies in the folder for temporary files until done is
// called, which closes it and takes it away.
//
// Nobody may write to the record meanwhile: when another program does so for longer
// than about a second that is ErrBusy. A file that is missing gives fs.ErrNotExist, an
// empty one or one of another kind ErrNotRecord. Where there is no room for the copy that
// is ErrNoCopy. A record that this process has open is refused, since closing its file
// would let go of its locks.
func OpenCopy(path string) (r *Record, done func() error, err error) {
	folder, err := os.MkdirTemp("", "dullred-copy-")
	if err != nil {
		return nil, nil, fmt.Errorf("%w: %v", ErrNoCopy, err)
	}
	defer func() {
		if err != nil {
			_ = os.RemoveAll(folder)
		}
	}()
	target := filepath.Join(folder, "record.db")
	if err := copyQuiet(path, target); err != nil {
		return nil, nil, openError(path, err, true)
	}
	if err := vet(target, len(migrations)); err != nil {
		return nil, nil, openError(path, err, true)
	}
	r, err = Open(target)
	if err != nil {
		return nil, nil, openError(path, bare(err), true)
	}
	return r, func() error { return errors.Join(r.Close(), os.RemoveAll(folder)) }, nil
}

// bare is what an error of a copy means, without the name of the copy.
func bare(err error) error {
	for _, meaning := range []error{ErrNotRecord, ErrNewer, ErrDamaged, ErrReadOnly, ErrBusy, ErrFull, ErrDisk, ErrGone} {
		if errors.Is(err, meaning) {
			return meaning
		}
	}
	return err
}

// copyQuiet copies the files of a record at a moment when nobody writes to them.
func copyQuiet(path, target string) error {
	const looks = 50
	for range looks {
		before, err := glance(path)
		if err != nil {
			return err
		}
		time.Sleep(settling) // a write from here on has another date
		if err := copyFiles(path, target); err != nil {
			return err
		}
		after, err := glance(path)
		if err != nil {
			return err
		}
		if before == after {
			return nil
		}
	}
	return ErrBusy
}

// glimpse is what can be seen of the files of a record from outside.
type glimpse [3]struct {
	size  int64 // -1 when it is not there
	dated int64
}

func glance(path string) (g glimpse, err error) {
	for i, ending := range beside {
		info, err := os.Stat(path + ending)
		switch {
		case i > 0 && errors.Is(err, fs.ErrNotExist):
			g[i].size = -1
			continue
		case err != nil:
			return g, err
		case !info.Mode().IsRegular() || i == 0 && info.Size() == 0:
			return g, ErrNotRecord
		}
		g[i].size, g[i].dated = info.Size(), info.ModTime().UnixNano()
	}
	return g, nil
}

// copyFiles copies what is there, and takes away what an earlier try copied and is gone.
func copyFiles(path, target string) error {
	opened.Lock()
	defer opened.Unlock()
	info, err := os.Stat(path)
	if err != nil {
		return err
	}
	if opened.holds(info) {
		return errors.New("this program has it open")
	}
	for i, ending := range beside {
		err := copyFile(path+ending, target+ending)
		if i > 0 && errors.Is(err, fs.ErrNotExist) {
			err = os.RemoveAll(target + ending)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func copyFile(from, to string) error {
	source, err := os.Open(from)
	if err != nil {
		return err
	}
	defer source.Close()
	file, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return fmt.Errorf("%w: %v", ErrNoCopy, err)
	}
	_, err = io.Copy(file, source)
	if err := errors.Join(err, file.Close()); err != nil {
		return fmt.Errorf("%w: %v", ErrNoCopy, err)
	}
	return nil
}
