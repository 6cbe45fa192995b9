package record

import (
	"fmt"
	"path/filepath"

	"dullred/schedule/newfile"
)

// Backup writes a copy of the record as it stands at one moment to a new file
// at path (mode 0600), and returns when it is on disk. Others may append
// meanwhile. A file that is already there is never overwritten: that gives
// fs.ErrExist. The copy is a record like any other, packed, and free of what
// Forget has erased. The name appears when the copy is complete; a backup that
// is killed leaves at most files in the same folder that end in .part and
// .part-journal, which may be removed (package newfile).
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
	// SQLite fills a file that is there, if it is empty: the mode stays ours.
	return newfile.Make(path, func(part string) error {
		_, err := r.db.Exec(`VACUUM INTO ?`, part)
		return err
	})
}
