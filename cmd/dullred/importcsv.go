package main

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
)

// sheetColumns are the columns of a spreadsheet with passes; others are left out.
var sheetColumns = []string{"date", "process", "count", "size", "ring", "zone", "tool"}

const (
	mostSheetBytes = 1 << 20
	mostSheetRows  = 1000 // each is checked against the piece as it was by then
)

// cells is one row of a spreadsheet, by column.
type cells struct {
	line  int // in the file, from 1
	field map[string]string
	bare  bool // commas part the columns
}

// bad is what is wrong with a row, and what to do.
func (c cells) bad(do, format string, args ...any) error {
	return refuse(do+", and import the file again", "row %d: %w", c.line, fmt.Errorf(format, args...))
}

// importSheet logs the passes of a spreadsheet: all of them or none.
func (a *app) importSheet(path, name string, dry bool) error {
	if name == "" {
		return refuse("dullred import --csv passes.csv --piece spoon", "passes are of a piece, and --piece is missing")
	}
	table, err := readTable(path)
	if err != nil {
		return err
	}
	return a.onBench(func(b *bench) error {
		p, err := b.find(name)
		if err != nil {
			return err
		}
		s := passSheet{app: a, bench: b, piece: p, seen: map[string]int{}, ignored: table.ignored}
		s.take(table.rows)
		if dry {
			return errors.Join(s.say(path, dry), s.refusal())
		}
		if err := s.refusal(); err != nil {
			return err
		}
		if err := b.append(nil, s.fresh...); err != nil {
			return err
		}
		return s.say(path, dry)
	})
}

// table is what was read of a spreadsheet.
type table struct {
	rows    []cells
	ignored []string // columns that are none of sheetColumns
}

// readTable reads the header and the rows below it.
func readTable(path string) (t table, err error) {
	text, err := readUpTo(path, mostSheetBytes)
	if err != nil {
		return t, err
	}
	return parseTable(text)
}

func parseTable(text []byte) (t table, err error) {
	text = bytes.TrimPrefix(text, []byte("\ufeff")) // spreadsheets put it before UTF-8
	if bytes.HasPrefix(text, []byte("\xff\xfe")) || bytes.HasPrefix(text, []byte("\xfe\xff")) {
		return t, refuse("save it as CSV in UTF-8, and import it again", "the file is in UTF-16")
	}
	head, _, _ := bytes.Cut(text, []byte("\n"))
	r := csv.NewReader(bytes.NewReader(text))
	if bytes.ContainsRune(head, ';') {
		r.Comma = ';'
	}
	order, err := readHeader(r)
	if err != nil {
		return t, err
	}
	for _, column := range order {
		if !slices.Contains(sheetColumns, column) {
			t.ignored = append(t.ignored, column)
		}
	}
	t.rows, err = readCells(r, order)
	return t, err
}

// readCells reads rows to the end.
func readCells(r *csv.Reader, order []string) (rows []cells, err error) {
	for {
		fields, err := r.Read()
		switch {
		case errors.Is(err, io.EOF):
			return rows, nil
		case err != nil:
			return nil, refuse("mend that row, and import the file again", "the rows cannot be read: %w", err)
		case len(rows) == mostSheetRows:
			return nil, refuse("cut the file into several", "there are more than %d rows", mostSheetRows)
		}
		line, _ := r.FieldPos(0)
		c := cells{line: line, field: map[string]string{}}
		for i, column := range order {
			c.field[column] = strings.TrimSpace(fields[i])
		}
		c.bare = r.Comma == ','
		rows = append(rows, c)
	}
}

func readUpTo(path string, most int64) ([]byte, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, noFile(path, err)
	}
	defer file.Close()
	text, err := io.ReadAll(io.LimitReader(file, most+1))
	if err != nil {
		return nil, noFile(path, err)
	}
	if int64(len(text)) > most {
		return nil, refuse("cut it into several files", "%.200q is over %d bytes", path, most)
	}
	return text, nil
}

// readHeader gives the column at each place.
func readHeader(r *csv.Reader) (order []string, err error) {
	example := "the first row names the columns, as in " + strings.Join(sheetColumns, ",")
	fields, err := r.Read()
	if err != nil {
		return nil, refuse(example, "there is no header that can be read")
	}
	for _, f := range fields {
		column := strings.ToLower(strings.TrimSpace(f))
		if slices.Contains(sheetColumns, column) && slices.Contains(order, column) {
			return nil, refuse(example, "row 1: the column %.60q comes twice", f)
		}
		order = append(order, column)
	}
	if !slices.Contains(order, "date") {
		return nil, refuse(example, "row 1: there is no column date")
	}
	return order, nil
}

// checkCommas refuses a decimal comma where commas part the columns: 7,2x7,8 would
// pass when it is quoted, and be another figure when it is not.
func (c cells) checkCommas() error {
	for _, column := range []string{"count", "size", "ring"} {
		if c.bare && strings.Contains(c.field[column], ",") {
			return c.bad("write a decimal point, or part the columns with semicolons", "%.60q has a comma in it", c.field[column])
		}
	}
	return nil
}
