package exchange

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"dullred/schedule"
)

var (
	errNoExport = errors.New("it is not an export of dullred")
	errChanged  = errors.New("it, or a line before it, was changed, moved or taken out after the export")
	errCut      = errors.New("the export ends here, before its end")
	errAfter    = errors.New("there is text after the end of the export")
	errOrder    = errors.New("an id comes twice, or not in the order of the ids")
	errCount    = errors.New("the count is not that of the lines before it")
	errLong     = errors.New("the line is too long")
)

// Read reads a whole export. What it refuses it refuses with a *LineError; one of a
// later version is ErrNewer as well.
func Read(r io.Reader) (*Export, error) {
	lines := bufio.NewScanner(r)
	lines.Buffer(nil, LongestLine+1)
	lines.Split(wholeLines)
	var in reader
	for lines.Scan() {
		in.number++
		if err := in.line(lines.Bytes()); err != nil {
			return nil, &LineError{in.number, err}
		}
	}
	err := lines.Err()
	switch {
	case errors.Is(err, bufio.ErrTooLong):
		return nil, &LineError{in.number + 1, errLong}
	case errors.Is(err, errCut):
		return nil, &LineError{in.number + 1, errCut}
	case err != nil:
		return nil, err
	case !in.ended:
		return nil, &LineError{in.number + 1, errCut}
	}
	return &in.export, nil
}

// wholeLines gives lines without the line feed; one that lacks it was cut.
func wholeLines(data []byte, atEOF bool) (advance int, token []byte, err error) {
	if i := bytes.IndexByte(data, '\n'); i >= 0 {
		return i + 1, data[:i], nil
	}
	if atEOF && len(data) > 0 {
		return 0, nil, errCut
	}
	return 0, nil, nil
}

// reader is how far a text was read.
type reader struct {
	export Export
	number int // of the line, from 1
	chain  chain
	ended  bool
}

func (in *reader) line(text []byte) error {
	if in.ended {
		return errAfter
	}
	if in.number == 1 {
		if err := checkHead(text); err != nil {
			return err
		}
	}
	content, check, ok := unseal(text)
	if !ok || in.chain.next(content) != check {
		return errChanged
	}
	in.chain = check
	l, err := parse(content)
	if err != nil {
		return err
	}
	return in.take(l)
}

// checkHead looks what the text is before its checks are, which may be made otherwise
// in a later version.
func checkHead(text []byte) error {
	var head struct {
		Format  string `json:"format"`
		Version int    `json:"version"`
	}
	if json.Unmarshal(text, &head) != nil || head.Format != format || head.Version < 1 {
		return errNoExport
	}
	if head.Version > Version {
		return fmt.Errorf("%w: it is version %d, this one reads %d", ErrNewer, head.Version, Version)
	}
	return nil
}

// take adds what a line holds: exactly one thing, in its turn.
func (in *reader) take(l line) error {
	first := l.Format != "" || l.Version != 0
	switch {
	case in.number == 1 && l == (line{Format: format, Version: Version}):
		return nil
	case in.number == 1 || first:
		return errContent
	case l == line{Label: l.Label} && l.Label != nil:
		return in.label(*l.Label)
	case l == line{Entry: l.Entry} && l.Entry != nil:
		return in.row(schedule.Row(*l.Entry))
	case l == line{Count: l.Count} && l.Count != nil:
		in.ended = true
		return in.counted(*l.Count)
	}
	return errContent
}

func (in *reader) label(l Label) error {
	known := in.export.Labels
	if n := len(known); len(in.export.Rows) > 0 || n > 0 && known[n-1].ID >= l.ID {
		return errOrder
	}
	in.export.Labels = append(known, l)
	return CheckLabel(l)
}

func (in *reader) row(r schedule.Row) error {
	known := in.export.Rows
	if n := len(known); n > 0 && known[n-1].ID >= r.ID {
		return errOrder
	}
	in.export.Rows = append(known, r)
	return CheckRow(r)
}

func (in *reader) counted(c Count) error {
	if c != (Count{Labels: len(in.export.Labels), Entries: len(in.export.Rows)}) {
		return errCount
	}
	return nil
}
