package alloys

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Text is one table to be read. Name is what errors call it.
type Text struct {
	Name string
	From io.Reader
}

// TableError is something wrong in a table, and where. Line and Column count
// from 1, the column in bytes.
type TableError struct {
	Table        string
	Line, Column int
	Err          error
}

// Error gives table:line:column and what is wrong there.
func (e *TableError) Error() string {
	return fmt.Sprintf("%s:%d:%d: %v", e.Table, e.Line, e.Column, e.Err)
}

// Unwrap returns what is wrong, without the place.
func (e *TableError) Unwrap() error { return e.Err }

// readTable reads comma-separated UTF-8 with # comment lines and hands each row
// below the header to take. It stops at the first error.
func readTable(t Text, columns []string, take func(*row)) error {
	in := csv.NewReader(skipByteOrderMark(t.From))
	in.Comment = '#'
	in.FieldsPerRecord = len(columns)
	in.ReuseRecord = true // the fields are strings of their own; only the slice is used again
	r := row{table: t.Name, in: in}
	for header := true; ; header = false {
		fields, err := in.Read()
		if err == io.EOF && !header {
			return nil
		}
		if err != nil {
			return r.broken(err)
		}
		r.fields, r.next = fields, 0
		if header {
			r.header(columns)
		} else {
			take(&r)
		}
		if r.err != nil {
			return r.err
		}
	}
}

// skipByteOrderMark leaves out the mark with which some spreadsheets begin a file.
func skipByteOrderMark(from io.Reader) io.Reader {
	in := bufio.NewReader(from)
	if mark, _ := in.Peek(3); string(mark) == "\uFEFF" {
		_, _ = in.Discard(3) // it was peeked at, so it is there
	}
	return in
}

// row hands out the fields of one row from left to right. The first thing
// wrong with any of them is kept in err; what is read after it means nothing.
type row struct {
	table  string
	in     places
	fields []string
	next   int
	line   int
	err    error
}

// places says where a field of the row stands; a csv.Reader does.
type places interface {
	FieldPos(field int) (line, column int)
}

// header checks that the first row names the columns.
func (r *row) header(columns []string) {
	for _, want := range columns {
		if got := r.text(); got != want {
			r.fail("column %.60q should be %.60q", got, want)
		}
	}
}

// broken places an error of the comma-separated format or of the reader below it.
func (r *row) broken(err error) error {
	if p, ok := errors.AsType[*csv.ParseError](err); ok {
		return &TableError{r.table, p.Line, max(p.Column, 1), p.Err}
	}
	if err == io.EOF {
		err = errors.New("no header row")
	}
	return &TableError{r.table, r.line + 1, 1, err}
}

// fail keeps what is wrong with the field that was read last.
func (r *row) fail(format string, args ...any) {
	r.failAt(max(r.next-1, 0), fmt.Errorf(format, args...))
}

// failWhole keeps what is wrong with the row as a whole.
func (r *row) failWhole(format string, args ...any) {
	r.failAt(0, fmt.Errorf(format, args...))
}

func (r *row) failAt(field int, err error) {
	if r.err == nil {
		line, column := r.in.FieldPos(field)
		r.err = &TableError{r.table, line, column, err}
	}
}

// text reads a field, which may be empty.
func (r *row) text() string {
	s := strings.TrimSpace(r.fields[r.next])
	r.line, _ = r.in.FieldPos(r.next)
	r.next++
	if !utf8.ValidString(s) {
		r.fail("%.60q is not UTF-8", s)
	}
	return s
}

// word reads a field that must not be empty.
func (r *row) word(what string) string {
	s := r.text()
	if s == "" {
		r.fail("%s is missing", what)
	}
	return s
}

// number reads a finite number.
func (r *row) number(what string) float64 {
	s := r.word(what)
	f, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(f) || math.IsInf(f, 0) {
		r.fail("%s %.60q is not a number", what, s)
	}
	return f
}

// oneOf reads a field that must be one of the known words.
func oneOf[T ~string](r *row, what string, known ...T) T {
	s := T(r.text())
	if !slices.Contains(known, s) {
		r.fail("%s %.60q is not one of %s", what, s, quoted(known))
	}
	return s
}

func quoted[T ~string](words []T) string {
	var q []string
	for _, w := range words {
		q = append(q, strconv.Quote(string(w)))
	}
	return strings.Join(q, ", ")
}
