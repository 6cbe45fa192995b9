// Package newfile writes files that are whole or not there under their name.
//
//	err := newfile.Write("evening.jsonl", func(w io.Writer) error {
//		_, err := w.Write(text)
//		return err
//	})
//
// What is written goes into a part beside the file, which is synced and only then
// given its name. Whoever is killed or finds the disk full leaves at most that part,
// called dullred-*.part, which may be removed.
package newfile

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// Write makes a file at path that was not there, for the owner's eyes only (mode
// 0600), and returns when it is on disk. A file that is there is never overwritten:
// that gives fs.ErrExist.
func Write(path string, fill func(io.Writer) error) error {
	return named(path, fresh(path, filled(fill)))
}

// Replace is Write, and takes the place of the file that is there.
func Replace(path string, fill func(io.Writer) error) error {
	return named(path, finish(path, filled(fill), os.Rename))
}

// Make is Write for what fills a file by its name: the part that it is given is there
// and empty. Its errors leave it to the caller to name the file.
func Make(path string, fill func(part string) error) error {
	return cause(fresh(path, fill))
}

func fresh(path string, fill func(part string) error) error {
	if _, err := os.Lstat(path); err == nil {
		return &fs.PathError{Op: "make", Path: path, Err: fs.ErrExist}
	}
	return finish(path, fill, settle)
}

// finish fills a part, and lets it take its name once it is on disk.
func finish(path string, fill func(part string) error, take func(part, path string) error) error {
	part, err := newPart(path)
	if err != nil {
		return err
	}
	defer os.Remove(part)
	for _, step := range []func(string) error{fill, syncFile, func(part string) error { return take(part, path) }} {
		if err := step(part); err != nil {
			return err
		}
	}
	SyncFolder(filepath.Dir(path))
	return nil
}

// filled opens the part for a writer.
func filled(fill func(io.Writer) error) func(string) error {
	return func(part string) error {
		file, err := os.OpenFile(part, os.O_WRONLY, 0)
		if err != nil {
			return err
		}
		return errors.Join(fill(file), file.Close())
	}
}

// newPart makes an empty file beside path. Its own name is short, so that any name that
// a file may have can be taken.
func newPart(path string) (string, error) {
	file, err := os.CreateTemp(filepath.Dir(path), "dullred-*.part")
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

// named is an error about the part as one about the file: nobody named the part.
func named(path string, err error) error {
	if c := cause(err); c != err {
		return &fs.PathError{Op: "write", Path: path, Err: c}
	}
	return err
}

// cause is what the system said, without the name it said it of.
func cause(err error) error {
	if at, ok := errors.AsType[*fs.PathError](err); ok {
		return at.Err
	}
	if at, ok := errors.AsType[*os.LinkError](err); ok {
		return at.Err
	}
	return err
}

// SyncFolder makes a new name in a folder survive a power cut. Its errors are ignored:
// a folder that may not be read, or a file system that cannot sync one, leaves nothing
// to be done.
func SyncFolder(folder string) {
	file, err := os.Open(folder)
	if err != nil {
		return
	}
	defer file.Close()
	_ = file.Sync()
}
