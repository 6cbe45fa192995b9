package record

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
)

// Places in the header of an SQLite file
// (https://www.sqlite.org/fileformat2.html, section 1.3).
const (
	headerSize    = 100
	magic         = "SQLite format 3\x00"
	pageSizeAt    = 16
	versionAt     = 60
	applicationAt = 68
)

// vet decides by header and size whether SQLite may touch the file. An empty
// file passes: it is what a crash during creation leaves. That the header
// promises no more pages than there are is left to SQLite, which looks under its lock.
//
// It asks for leave to write as well where mode does (os.O_RDWR), because a record that
// cannot be written to is then refused at once.
func vet(path string, newest, mode int) error {
	quiet := !pending(path)
	head, size, err := readHeader(path, mode)
	if err != nil || size == 0 {
		return err
	}
	if len(head) < headerSize || string(head[:len(magic)]) != magic ||
		binary.BigEndian.Uint32(head[applicationAt:]) != application {
		return ErrNotRecord
	}
	version := int32(binary.BigEndian.Uint32(head[versionAt:]))
	if version < 1 {
		return fmt.Errorf("version %d: %w", version, ErrDamaged)
	}
	if version > int32(newest) {
		return ErrNewer
	}
	if quiet && size%pageSize(head) != 0 {
		return ErrDamaged
	}
	return nil
}

// pageSize is the number of bytes in a page. The value 1 stands for 65536, and
// an impossible 0 becomes a size that no file is a multiple of.
func pageSize(head []byte) int64 {
	switch size := binary.BigEndian.Uint16(head[pageSizeAt:]); size {
	case 0:
		return math.MaxInt64
	case 1:
		return 1 << 16
	default:
		return int64(size)
	}
}

// pending reports whether a crash left a log or journal beside the file. The
// file alone is then not the whole record, and may end within a page.
func pending(path string) bool {
	return exists(path+"-wal") || exists(path+"-journal")
}

// readHeader reads up to headerSize bytes and the size of the file.
func readHeader(path string, mode int) ([]byte, int64, error) {
	file, err := os.OpenFile(path, mode, 0)
	if err != nil {
		return nil, 0, err
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return nil, 0, err
	}
	head := make([]byte, headerSize)
	n, err := io.ReadFull(file, head)
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		err = nil
	}
	return head[:n], info.Size(), err
}
