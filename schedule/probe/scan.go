package probe

import (
	"bytes"
	"errors"
	"io"
)

// ErrEnd is the error of a Read at an end that is final, such as that of a file:
// Follow does not open the source again.
var ErrEnd = errors.New("the readings have ended")

// patience is how often a reader may give nothing before it counts as broken.
const patience = 100

// scanner cuts what a source sends into lines.
type scanner struct {
	from  io.Reader
	chunk [4096]byte
	rest  []byte // of the chunk
	line  []byte // that has no end yet
	skip  bool   // the line was too long; its rest is left out
	err   error
}

// next is the next line without its end, which may be empty. A line that is too
// long is told as soon as it is. The last line counts without an end only where
// the end is final: from a device it may be half a number.
func (s *scanner) next() (line string, long bool, err error) {
	for {
		if line, long, ok := s.cut(); ok {
			return line, long, nil
		}
		if s.err == nil {
			s.fill()
			continue
		}
		if last := string(s.line); errors.Is(s.err, ErrEnd) && last != "" {
			s.line = nil
			return last, false, nil
		}
		return "", false, s.err
	}
}

// cut takes a line out of what was read, if there is a whole one.
func (s *scanner) cut() (line string, long, ok bool) {
	for len(s.rest) > 0 {
		end := bytes.IndexAny(s.rest, "\r\n")
		part := s.rest
		if end >= 0 {
			part, s.rest = s.rest[:end], s.rest[end+1:]
		} else {
			s.rest = nil
		}
		if !s.skip {
			s.line = append(s.line, part...)
		}
		whole, skipped := string(s.line), s.skip
		tooLong := len(s.line) > maxLine
		if s.skip = end < 0 && (skipped || tooLong); end >= 0 || tooLong {
			s.line = s.line[:0]
		}
		if tooLong {
			return whole[:maxLine], true, true
		}
		if end >= 0 && !skipped {
			return whole, false, true
		}
	}
	return "", false, false
}

func (s *scanner) fill() {
	for range patience {
		n, err := s.from.Read(s.chunk[:])
		s.rest, s.err = s.chunk[:n], err
		if n > 0 || err != nil {
			return
		}
	}
	s.err = io.ErrNoProgress
}
