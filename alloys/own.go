package alloys

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"sync"
)

// ownMost is the most bytes of a file of one's own: a thousand alloys fit.
const ownMost = 1 << 20

// ReadOwn reads a user's own alloys, which stand beside the embedded ones (see
// Book.With). One file holds several tables in the format of the embedded ones:
// a table begins at its head row and ends at the next head row. Tables may stand
// in any order and more than once. Own figures may cite embedded sources; they
// belong to own alloys and solders, and no embedded id, name or source key may be
// taken. Everything that Read checks is checked. The error is a *TableError for
// the first thing wrong, with name as its table, and then there is no Book.
func ReadOwn(name string, from io.Reader) (*Book, error) {
	text, err := io.ReadAll(io.LimitReader(from, ownMost+1))
	if err != nil {
		return nil, &TableError{name, 1, 1, err}
	}
	if len(text) > ownMost {
		return nil, &TableError{name, 1, 1, fmt.Errorf("the file is larger than %d bytes", ownMost)}
	}
	if bytes.HasPrefix(text, []byte("\xff\xfe")) || bytes.HasPrefix(text, []byte("\xfe\xff")) {
		return nil, &TableError{name, 1, 1, errors.New("the file is in UTF-16, expected UTF-8")}
	}
	d := newReader(embedded())
	d.book.version = sync.OnceValue(func() string { return digest(string(text)) })
	tables := d.ownTables()
	if err := sortRows(Text{name, bytes.NewReader(text)}, tables); err != nil {
		return nil, err
	}
	for _, t := range tables {
		for _, r := range t.rows {
			if t.take(r); r.err != nil {
				return nil, r.err
			}
		}
	}
	return d.finish()
}

// ownTable is one of the tables of a file of one's own.
type ownTable struct {
	columns []string
	take    func(*row)
	rows    []*row
}

// ownTables stand in the order in which they are taken.
func (d *reader) ownTables() []*ownTable {
	return []*ownTable{
		{columns: sourceColumns, take: d.source},
		{columns: alloyColumns, take: d.alloy},
		{columns: solderColumns, take: d.solder},
		{columns: figureColumns, take: d.figure},
		{columns: ruleColumns, take: d.rule},
	}
}

// spots are the places of the fields of a row that was read before.
type spots [][2]int

// FieldPos gives the line and column of a field.
func (s spots) FieldPos(field int) (line, column int) { return s[field][0], s[field][1] }

// sortRows hands each row of a file to the table whose head row it stands under.
func sortRows(t Text, tables []*ownTable) error {
	in := csv.NewReader(skipByteOrderMark(t.From))
	in.Comment = '#'
	in.FieldsPerRecord = -1
	var under *ownTable
	for last := (&row{table: t.Name}); ; {
		fields, err := in.Read()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return last.broken(err)
		}
		r := &row{table: t.Name, in: spotsOf(in, fields), fields: fields}
		if head := headed(r, tables); head != nil {
			under = head
			r.checkWidth(under.columns)
			if r.err == nil {
				r.header(under.columns)
			}
		} else if r.put(under); r.err == nil {
			under.rows = append(under.rows, r)
		}
		if r.err != nil {
			return r.err
		}
		last.line, _ = r.in.FieldPos(0)
	}
}

func spotsOf(in *csv.Reader, fields []string) spots {
	s := make(spots, len(fields))
	for i := range fields {
		s[i][0], s[i][1] = in.FieldPos(i)
	}
	return s
}

// headed returns the table that a row is the head of, or nil for any other row.
// A head begins with a word that begins one and is of the table with which it
// shares most columns, so that a misspelt column is found where it stands.
func headed(r *row, tables []*ownTable) *ownTable {
	var best *ownTable
	most := 0
	for _, t := range tables {
		if strings.TrimSpace(r.fields[0]) != t.columns[0] {
			continue
		}
		shared := 0
		for _, f := range r.fields {
			if slices.Contains(t.columns, strings.TrimSpace(f)) {
				shared++
			}
		}
		if shared > most {
			best, most = t, shared
		}
	}
	return best
}

// put refuses a row that stands under no head, or has another number of fields.
func (r *row) put(under *ownTable) {
	if under == nil {
		r.failAt(0, errors.New("no head row stands above this row; a table begins with one, such as "+strings.Join(alloyColumns, ",")))
		return
	}
	r.checkWidth(under.columns)
}

func (r *row) checkWidth(columns []string) {
	if got, want := len(r.fields), len(columns); got != want {
		r.failWhole("%d fields, where this table has %d: %s", got, want, strings.Join(columns, ","))
	}
}
