package place

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
)

// ErrNotPlain is of what stands where a file belongs: a folder, a pipe, which would be
// waited for, or a device, which may have no end.
var ErrNotPlain = errors.New("it is no plain file")

// ErrTooLarge is of a file that is larger than it can rightly be.
var ErrTooLarge = errors.New("it is too large")

// Open opens a plain file, and nothing else, to be read. Errors are *fs.PathError.
func Open(path string) (*os.File, error) {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return nil, &fs.PathError{Op: "open", Path: path, Err: ErrNotPlain}
	}
	return os.Open(path)
}

// Read is the whole of a plain file of up to most bytes, of which no more are read.
// Errors are *fs.PathError.
func Read(path string, most int64) ([]byte, error) {
	file, err := Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	text, err := io.ReadAll(io.LimitReader(file, most+1))
	if err == nil && int64(len(text)) > most {
		err = &fs.PathError{Op: "read", Path: path, Err: fmt.Errorf("%w: over %d KiB", ErrTooLarge, most>>10)}
	}
	if err != nil {
		return nil, err
	}
	return text, nil
}
