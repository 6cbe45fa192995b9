package exchange

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"dullred/schedule"
)

// columns is a row by the names of its columns. A column that a row gains or loses
// does not compile here until it has a name, and Version a new number.
type columns struct {
	ID       string  `json:"id"`
	At       int64   `json:"at"`
	Written  int64   `json:"written"`
	Bench    string  `json:"bench"`
	Hand     string  `json:"hand"`
	Piece    string  `json:"piece"`
	Zones    string  `json:"zones"`
	Kind     string  `json:"kind"`
	Version  int64   `json:"version"`
	Process  string  `json:"process"`
	Count    int64   `json:"count"`
	Shape    string  `json:"shape"`
	Thick    float64 `json:"thick"`
	Width    float64 `json:"width"`
	Diameter float64 `json:"diameter"`
	Ring     float64 `json:"ring"`
	Length   float64 `json:"length"`
	Temp     float64 `json:"temp"`
	Body     string  `json:"body"`
}

var _ = columns(schedule.Row{})

// line is the content of one line: one of the four.
type line struct {
	Format  string   `json:"format,omitempty"`
	Version int      `json:"version,omitempty"`
	Label   *Label   `json:"label,omitempty"`
	Entry   *columns `json:"entry,omitempty"`
	Count   *Count   `json:"count,omitempty"`
}

// content is a line as it is written, without its check.
func (l line) content() ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(l); err != nil {
		return nil, err
	}
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), nil
}

// errContent is of a line that passes its check and is still none of ours.
var errContent = errors.New("it is not written as an export writes it")

// parse reads the content of a line, and nothing that content would write otherwise.
func parse(content []byte) (line, error) {
	var l line
	d := json.NewDecoder(bytes.NewReader(content))
	d.DisallowUnknownFields()
	if err := d.Decode(&l); err != nil {
		return l, fmt.Errorf("%w: %w", errContent, err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return l, errContent
	}
	again, err := l.content()
	if err != nil || !bytes.Equal(again, content) {
		return l, errContent
	}
	return l, nil
}

const (
	checkDigits = 16
	opening     = `{"check":"`
	closing     = `",`
	headSize    = len(opening) + checkDigits + len(closing)
)

// chain is the check of the line before.
type chain string

// next is the check of the line that follows.
func (c chain) next(content []byte) chain {
	h := sha256.New()
	io.WriteString(h, string(c))
	h.Write(content)
	return chain(hex.EncodeToString(h.Sum(nil))[:checkDigits])
}

// seal is a line with its check.
func (c *chain) seal(content []byte) []byte {
	*c = c.next(content)
	sealed := make([]byte, 0, headSize+len(content))
	sealed = append(sealed, opening...)
	sealed = append(sealed, *c...)
	sealed = append(sealed, closing...)
	return append(sealed, content[1:]...)
}

// unseal takes the check off a line.
func unseal(text []byte) (content []byte, check chain, ok bool) {
	if len(text) <= headSize || !strings.HasPrefix(string(text[:headSize]), opening) ||
		string(text[headSize-len(closing):headSize]) != closing {
		return nil, "", false
	}
	check = chain(text[len(opening) : len(opening)+checkDigits])
	return append([]byte("{"), text[headSize:]...), check, true
}
