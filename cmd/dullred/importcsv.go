package main

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"
	"time"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
)

// sheetColumns are the columns of a spreadsheet with passes.
var sheetColumns = []string{"date", "process", "count", "size", "ring"}

const (
	mostSheetBytes = 1 << 20
	mostSheetRows  = 1000 // each is checked against the piece as it was by then
)

// cells is one row of a spreadsheet, by column.
type cells struct {
	line  int // in the file, from 1
	field map[string]string
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
	rows, err := readSheet(path)
	if err != nil {
		return err
	}
	return a.onBench(func(b *bench) error {
		p, err := b.find(name)
		if err != nil {
			return err
		}
		s := passSheet{app: a, bench: b, piece: p, seen: map[string]int{}}
		if err := s.take(rows); err != nil {
			return err
		}
		if !dry {
			if err := b.append(nil, s.fresh...); err != nil {
				return err
			}
		}
		return s.say(path, dry)
	})
}

// readSheet reads the rows below the header.
func readSheet(path string) ([]cells, error) {
	text, err := readUpTo(path, mostSheetBytes)
	if err != nil {
		return nil, err
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff")) // spreadsheets put it before UTF-8
	head, _, _ := bytes.Cut(text, []byte("\n"))
	r := csv.NewReader(bytes.NewReader(text))
	if bytes.ContainsRune(head, ';') {
		r.Comma = ';'
	}
	order, err := readHeader(r)
	if err != nil {
		return nil, err
	}
	return readCells(r, order)
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
		if err := c.checkCommas(r.Comma); err != nil {
			return nil, err
		}
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
		if !slices.Contains(sheetColumns, column) || slices.Contains(order, column) {
			return nil, refuse(example, "row 1: %.60q is no column, or comes twice", f)
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
func (c cells) checkCommas(comma rune) error {
	for _, column := range []string{"count", "size", "ring"} {
		if comma == ',' && strings.Contains(c.field[column], ",") {
			return c.bad("write a decimal point, or part the columns with semicolons", "%.60q has a comma in it", c.field[column])
		}
	}
	return nil
}

// passSheet is a spreadsheet on its way into a piece.
type passSheet struct {
	app   *app
	bench *bench
	piece *piece
	seen  map[string]int // how often a row of the same content came before
	rows  []sheetRow
	fresh []schedule.Entry
}

// sheetRow is what becomes of a row.
type sheetRow struct {
	line  int
	entry schedule.Entry
	known bool
}

// take turns rows into entries and checks each against the piece as it was by then,
// with the rows before it.
func (s *passSheet) take(rows []cells) error {
	for i, c := range rows {
		e, err := s.entry(c, i)
		if err != nil {
			return err
		}
		known := slices.ContainsFunc(s.piece.entries, func(k schedule.Entry) bool { return k.ID == e.ID })
		s.rows = append(s.rows, sheetRow{line: c.line, entry: e, known: known})
	}
	slices.SortStableFunc(s.rows, func(a, b sheetRow) int { return a.entry.At.Compare(b.entry.At) })
	for _, r := range s.rows {
		if r.known {
			continue
		}
		if err := s.accept(r); err != nil {
			return err
		}
		s.piece.entries = append(s.piece.entries, r.entry)
		s.fresh = append(s.fresh, r.entry)
	}
	return nil
}

func (s *passSheet) accept(r sheetRow) error {
	c := cells{line: r.line}
	then := *s.piece
	then.entries = slices.Clone(then.entries) // until takes the later ones out
	then.until(s.bench, r.entry.At)
	if zone, hot := hotZone(&then.state, nil); hot {
		return c.bad("log how it cooled, or mend the date", "%s is HOT (%s) at that time", then.name, zone)
	}
	if err := schedule.AcceptIn(s.bench.book, s.piece.entries, r.entry, s.app.now()); err != nil {
		return c.bad("mend the row", "%w", err)
	}
	return nil
}

// entry is a row as an entry. Its id follows from the piece and what the row says, so
// that a file that is imported twice is logged once.
func (s *passSheet) entry(c cells, index int) (e schedule.Entry, err error) {
	at, err := s.when(c, index)
	if err != nil {
		return e, err
	}
	pass, err := s.pass(c)
	if err != nil {
		return e, err
	}
	content := string(s.piece.id)
	for _, column := range sheetColumns {
		content += "\x00" + c.field[column]
	}
	s.seen[content]++
	id := schedule.DerivedID(fmt.Sprint("row\x00", content, "\x00", s.seen[content]), schedule.KindPass)
	return schedule.Entry{ID: id, At: at, Written: schedule.Moment(s.app.now()), Bench: s.bench.here.bench,
		Hand: s.bench.here.hand, Piece: s.piece.id, Version: 1, Body: pass}, nil
}

// when reads a date. One without a time is noon, and a second later for each row above
// it, so that the rows of a day keep their order.
func (s *passSheet) when(c cells, index int) (time.Time, error) {
	text, place := c.field["date"], s.app.now().Location()
	for _, layout := range layouts {
		if t, err := time.ParseInLocation(layout, text, place); err == nil {
			return schedule.Moment(t), nil
		}
	}
	day, err := time.ParseInLocation(dateLayout, text, place)
	if err != nil {
		return day, c.bad("write 2006-01-02 14:05, or the day alone", "%.60q is not a date that a calendar has", text)
	}
	noon := time.Date(day.Year(), day.Month(), day.Day(), 12, 0, index, 0, place)
	return schedule.Moment(noon), nil
}

func (s *passSheet) pass(c cells) (schedule.Pass, error) {
	body := schedule.Pass{Count: 1}
	var err error
	if body.Process, err = coldwork.ParseProcess(cmp.Or(c.field["process"], string(s.piece.state.Usual()))); err != nil {
		return body, c.bad("mend the process", "%w", err)
	}
	if text := c.field["count"]; text != "" {
		if body.Count, err = strconv.Atoi(text); err != nil || body.Count < 1 {
			return body, c.bad("write a whole number of courses, or leave it away for one", "%.60q is not a count", text)
		}
	}
	if text := c.field["size"]; text != "" {
		if body.Reading.Size, err = unit.ParseSize(text, s.shape()); err != nil {
			return body, c.bad("mend the size, or leave it away for a course without a reading", "%w", err)
		}
	}
	if body.Reading.Ring, err = optionalLength(c.field["ring"]); err != nil {
		return body, c.bad("mend the ring", "%w", err)
	}
	return body, nil
}

// shape is what a single number is of.
func (s *passSheet) shape() unit.Shape {
	shape := unit.Unshaped
	for _, z := range s.piece.state.Zones {
		shape = z.Tally.Section().Shape
	}
	return shape
}

// sheetJSON is what became of a spreadsheet.
type sheetJSON struct {
	File   string         `json:"file"`
	Piece  string         `json:"piece"`
	DryRun bool           `json:"dry_run"`
	New    int            `json:"new"`
	Known  int            `json:"known"`
	Rows   []sheetRowJSON `json:"rows"`
}

// sheetRowJSON is one row, in the order of the times.
type sheetRowJSON struct {
	Row   int    `json:"row"`
	At    string `json:"at"`
	Text  string `json:"text"`
	Known bool   `json:"known"`
}

func (s *passSheet) say(path string, dry bool) error {
	done := sheetJSON{File: path, Piece: clean(s.piece.name), DryRun: dry, New: len(s.fresh), Known: len(s.rows) - len(s.fresh), Rows: []sheetRowJSON{}}
	for _, r := range s.rows {
		at := r.entry.At.In(s.app.now().Location()).Format("2006-01-02 15:04:05")
		done.Rows = append(done.Rows, sheetRowJSON{r.line, at, clean(r.entry.Describe()), r.known})
	}
	return s.app.answer(done, done.text())
}

func (d sheetJSON) text() string {
	var h headed
	head := "import"
	if d.DryRun {
		head = "dry run"
	}
	h.line(head, "%s into %s", brief(d.File), brief(d.Piece))
	for _, r := range d.Rows {
		what := "new"
		if r.Known {
			what = "known"
		}
		if d.DryRun {
			h.line(fmt.Sprint("row ", r.Row), "%s  %s - %s", r.At, r.Text, what)
		}
	}
	h.line("new", "entries %d", d.New)
	h.line("known", "entries %d", d.Known)
	h.line("next", "dullred advise %s", brief(d.Piece))
	return h.String()
}
