package probe

import (
	"bytes"
	"errors"
	"io"
)

// FromNextLine leaves out what comes before the first line end. A serial port is
// opened while the device sends, and 50.5 may be the end of 650.5.
func FromNextLine(source io.ReadCloser) io.ReadCloser { return &fromNextLine{ReadCloser: source} }

type fromNextLine struct {
	io.ReadCloser
	begun bool
}

func (f *fromNextLine) Read(p []byte) (int, error) {
	for {
		n, err := f.ReadCloser.Read(p)
		if f.begun || n == 0 {
			return n, err
		}
		if end := bytes.IndexAny(p[:n], "\r\n"); end >= 0 {
			f.begun = true
			return copy(p, p[end:n]), err
		}
		if err != nil {
			return 0, err
		}
	}
}

// Once makes the end of a source final, for a file or the input of a program:
// io.EOF becomes ErrEnd.
func Once(source io.ReadCloser) io.ReadCloser { return once{source} }

type once struct{ io.ReadCloser }

func (o once) Read(p []byte) (int, error) {
	n, err := o.ReadCloser.Read(p)
	if errors.Is(err, io.EOF) {
		err = ErrEnd
	}
	return n, err
}
