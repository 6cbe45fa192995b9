package record

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Backup writes a copy of the record as it stands at one moment to a new file
// at path (mode 0600), and returns when it is on disk. Others may append
// meanwhile. A file that is already there is never overwritten: that gives
// fs.ErrExist. The copy is a record like any other, packed, and free of what
// Forget has erased. The name appears when the copy is complete; a backup that
// is killed leaves at most files in the same folder that end in .part and
// .part-journal, which may be removed.
func (r *Record) Backup(path string) error {
	target, err := filepath.Abs(path)
	if err == nil {
		err = r.copyTo(target)
	}
	if refused(err) {
		err = ErrReadOnly
	}
	if err != nil {
		return r.fail("back up", fmt.Errorf("to %s: %w", path, plain(err)))
	}
	return nil
}

func (r *Record) copyTo(path string) error {
	if _, err := os.Lstat(path); err == nil {
		return fs.ErrExist
	}
	part, err := newPart(path)
	if err != nil {
		return err
	}
	defer os.Remove(part)
	// SQLite fills a file that is there, if it is empty: the mode stays ours.
	if _, err := r.db.Exec(`VACUUM INTO ?`, part); err != nil {
		return err
	}
	if err := syncFile(part); err != nil {
		return err
	}
	if err := settle(part, path); err != nil {
		return err
	}
	syncFolder(filepath.Dir(path))
	return nil
}

// newPart makes an empty file beside path, for the owner's eyes only.
func newPart(path string) (string, error) {
	file, err := os.CreateTemp(filepath.Dir(path), filepath.Base(path)+".*.part")
	if err != nil {
		return "", err
	}
	return file.Name(), file.Close()
}

func syncFile(path string) error {
	file, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(file.Sync(), file.Close())
}

// settle gives a finished file its name, and never takes the name from
// another: a second link is refused by the system where a name is taken. Many
// memory sticks know no second links; there a look must do.
func settle(part, path string) error {
	err := os.Link(part, path)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	if _, err := os.Lstat(path); err == nil {
		return fs.ErrExist
	}
	return os.Rename(part, path)
}
