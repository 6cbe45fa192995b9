package record

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"syscall"

	"dullred/schedule/newfile"
)

// opened lists the files of the records that this process has open. Reading a
// header means opening and closing the file, and closing it would drop the
// locks SQLite holds on it for the process: a file in this list is therefore
// not read again. The lock also makes our own goroutines open one at a time.
var opened fileList

type fileList struct {
	sync.Mutex
	files []os.FileInfo
}

func (l *fileList) find(info os.FileInfo) int {
	return slices.IndexFunc(l.files, func(f os.FileInfo) bool { return os.SameFile(f, info) })
}

func (l *fileList) holds(info os.FileInfo) bool { return l.find(info) >= 0 }

func (l *fileList) add(info os.FileInfo) { l.files = append(l.files, info) }

func (l *fileList) remove(info os.FileInfo) {
	if i := l.find(info); i >= 0 {
		l.files = slices.Delete(l.files, i, i+1)
	}
}

// ensureFile makes the folder and an empty file where they are missing, for
// the owner's eyes only, and tells which file the path leads to. SQLite would
// throw away a log whose file is missing or empty; that is refused here.
func ensureFile(path string) (os.FileInfo, error) {
	log := exists(path + "-wal") // looked for first: where there is a log, the file was complete
	info, err := os.Stat(path)
	missing := errors.Is(err, fs.ErrNotExist)
	switch {
	case missing && !log:
		return createFile(path)
	case err != nil && !missing:
		return nil, err
	case !missing && info.IsDir():
		return nil, fmt.Errorf("a folder, %w", ErrNotRecord)
	case !missing && !info.Mode().IsRegular():
		return nil, fmt.Errorf("not a regular file, %w", ErrNotRecord)
	case log && (missing || info.Size() == 0):
		return nil, fmt.Errorf("a log without its record: %w", ErrDamaged)
	}
	return info, nil
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

func createFile(path string) (os.FileInfo, error) {
	folder := filepath.Dir(path)
	if err := ensureFolder(folder); err != nil {
		return nil, err
	}
	file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	newfile.SyncFolder(folder)
	return file.Stat()
}

func ensureFolder(folder string) error {
	if _, err := os.Stat(folder); !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	parent := filepath.Dir(folder)
	if err := ensureFolder(parent); err != nil {
		return err
	}
	if err := os.Mkdir(folder, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	newfile.SyncFolder(parent)
	return nil
}

// refused reports whether the operating system denied us the file or folder.
func refused(err error) bool {
	return errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EROFS)
}
