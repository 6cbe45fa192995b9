package pdfread

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf16"
)

// Page is what is printed on a page.
type Page struct {
	Texts []Text
	Lines []Line
}

// Text is one run of letters. X and Y are in points from the lower left corner to the
// beginning of its baseline.
type Text struct {
	X, Y, Size float64
	Font       string
	Text       string
}

// Line is a straight line in points from the lower left corner.
type Line struct{ X1, Y1, X2, Y2 float64 }

// Words are the words of a page in the order in which they were printed.
func (p Page) Words() (all []string) {
	for _, t := range p.Texts {
		all = append(all, strings.Fields(t.Text)...)
	}
	return all
}

// Words are those of all pages.
func (f File) Words() (all []string) {
	for _, p := range f.Pages {
		all = append(all, p.Words()...)
	}
	return all
}

// reader walks the operators of a page (ISO 32000-1, annex A).
type reader struct {
	page  Page
	stack []string
	now   Text
	from  [2]float64 // where a line begins
}

func pageOf(stream []byte) (Page, error) {
	var r reader
	for len(stream) > 0 {
		var word string
		if word, stream = token(stream); word == "" {
			break
		}
		if strings.HasPrefix(word, "(") || strings.HasPrefix(word, "/") || isNumber(word) {
			r.stack = append(r.stack, word)
			continue
		}
		if err := r.do(word); err != nil {
			return r.page, err
		}
		r.stack = nil
	}
	return r.page, nil
}

// token is the next number, name, string or operator.
func token(s []byte) (word string, rest []byte) {
	s = bytes.TrimLeft(s, " \r\n")
	if len(s) == 0 {
		return "", nil
	}
	if s[0] == '(' {
		m := literal.Find(s)
		return string(m), s[len(m):]
	}
	end := bytes.IndexAny(s, " \r\n(")
	if end < 0 {
		end = len(s)
	}
	return string(s[:end]), s[end:]
}

func isNumber(word string) bool {
	_, err := strconv.ParseFloat(word, 64)
	return err == nil
}

// takes is how many operands the operators have that may stand in a page.
var takes = map[string]int{"G": 1, "g": 1, "J": 1, "j": 1, "w": 1, "BT": 0, "ET": 0, "Tf": 2, "Td": 2, "Tj": 1, "m": 2, "l": 2, "S": 0}

func (r *reader) do(operator string) error {
	if n, ok := takes[operator]; !ok || n != len(r.stack) {
		return fmt.Errorf("the operator %.20q with %d operands", operator, len(r.stack))
	}
	switch operator {
	case "G", "g":
		if r.at(0) != 0 {
			return fmt.Errorf("a grey of %s", r.stack[0])
		}
	case "Tf":
		r.now.Font, r.now.Size = r.stack[0], r.at(1)
	case "Td":
		r.now.X, r.now.Y = r.at(0), r.at(1)
	case "Tj":
		text := r.stack[0]
		r.now.Text = utf16Of(unescaped([]byte(text[1 : len(text)-1])))
		r.page.Texts = append(r.page.Texts, r.now)
	case "m":
		r.from = [2]float64{r.at(0), r.at(1)}
	case "l":
		r.page.Lines = append(r.page.Lines, Line{r.from[0], r.from[1], r.at(0), r.at(1)})
	}
	return nil
}

func (r *reader) at(i int) float64 {
	f, _ := strconv.ParseFloat(r.stack[i], 64)
	return f
}

// unescaped is what a literal string means (7.3.4.2), as far as the files use it.
func unescaped(s []byte) (out []byte) {
	for i := 0; i < len(s); i++ {
		if s[i] == '\\' {
			if i++; s[i] == 'r' {
				out = append(out, '\r')
				continue
			}
		}
		out = append(out, s[i])
	}
	return out
}

// utf16Of is a text of two bytes a letter, with or without its mark.
func utf16Of(b []byte) string {
	b = bytes.TrimPrefix(b, []byte{0xFE, 0xFF})
	units := make([]uint16, len(b)/2)
	for i := range units {
		units[i] = binary.BigEndian.Uint16(b[2*i:])
	}
	return string(utf16.Decode(units))
}
