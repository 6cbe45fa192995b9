package main

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"time"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
)

// passSheet is a spreadsheet on its way into a piece.
type passSheet struct {
	app   *app
	bench *bench
	piece *piece
	seen  map[string]int // how often a row of the same content came before
	rows  []sheetRow     // in the order of the file
	fresh []schedule.Entry

	ignored []string // columns
}

// sheetRow is what becomes of a row.
type sheetRow struct {
	line  int
	entry schedule.Entry
	known bool
	bad   error // why it is refused
}

// take turns rows into entries and checks each against the piece as it was by then,
// with the rows before it that are good.
func (s *passSheet) take(rows []cells) {
	for i, c := range rows {
		r := sheetRow{line: c.line}
		r.entry, r.bad = s.entry(c, i)
		r.known = slices.ContainsFunc(s.piece.entries, func(k schedule.Entry) bool { return k.ID == r.entry.ID })
		s.rows = append(s.rows, r)
	}
	for _, i := range s.inTime() {
		r := &s.rows[i]
		if r.bad = s.accept(*r); r.bad == nil {
			s.piece.entries = append(s.piece.entries, r.entry)
			s.fresh = append(s.fresh, r.entry)
		}
	}
}

// inTime are the rows that may be logged, by their times.
func (s *passSheet) inTime() (order []int) {
	for i, r := range s.rows {
		if r.bad == nil && !r.known {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(i, j int) int { return s.rows[i].entry.At.Compare(s.rows[j].entry.At) })
	return order
}

// refusal is the first bad row, and how many more there are; nil when all are good.
func (s *passSheet) refusal() error {
	bad := slices.DeleteFunc(slices.Clone(s.rows), func(r sheetRow) bool { return r.bad == nil })
	switch len(bad) {
	case 0:
		return nil
	case 1:
		return bad[0].bad
	}
	return refuse("--dry-run shows all of them; mend them, and import the file again",
		"%d rows of %d are refused; the first is %w", len(bad), len(s.rows), bad[0].bad)
}

func (s *passSheet) accept(r sheetRow) error {
	c := cells{line: r.line}
	then := *s.piece
	then.entries = slices.Clone(then.entries) // until takes the later ones out
	then.until(s.bench, r.entry.At)
	if zone, hot := hotZone(&then.state, r.entry.Zones); hot {
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
	if err := c.checkCommas(); err != nil {
		return e, err
	}
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
		Hand: s.bench.here.hand, Piece: s.piece.id, Zones: splitNames(c.field["zone"]), Version: 1, Body: pass}, nil
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
	body := schedule.Pass{Count: 1, Tool: c.field["tool"]}
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
	File    string         `json:"file"`
	Piece   string         `json:"piece"`
	DryRun  bool           `json:"dry_run"`
	New     int            `json:"new"`
	Known   int            `json:"known"`
	Refused int            `json:"refused"`
	Ignored []string       `json:"ignored_columns"`
	Rows    []sheetRowJSON `json:"rows"`
}

// sheetRowJSON is one row, in the order of the file. A row that is refused has neither
// a time nor a text.
type sheetRowJSON struct {
	Row     int    `json:"row"`
	At      string `json:"at,omitempty"`
	Text    string `json:"text,omitempty"`
	Known   bool   `json:"known"`
	Refused string `json:"refused,omitempty"`
}

func (s *passSheet) say(path string, dry bool) error {
	done := sheetJSON{File: path, Piece: clean(s.piece.name), DryRun: dry, New: len(s.fresh), Rows: []sheetRowJSON{}, Ignored: []string{}}
	for _, column := range s.ignored {
		done.Ignored = append(done.Ignored, clean(column))
	}
	for _, r := range s.rows {
		row := sheetRowJSON{Row: r.line, Known: r.known}
		switch {
		case r.bad != nil:
			done.Refused++
			row.Refused = clean(r.bad.Error())
		default:
			row.At = r.entry.At.In(s.app.now().Location()).Format("2006-01-02 15:04:05")
			row.Text = clean(r.entry.Describe())
		}
		done.Rows = append(done.Rows, row)
	}
	done.Known = len(s.rows) - done.New - done.Refused
	return s.app.answer(done, done.text())
}

// word is what becomes of a row.
func (r sheetRowJSON) word() string {
	if r.Known {
		return "known"
	}
	return "new"
}

func (d sheetJSON) text() string {
	var h headed
	head := "import"
	if d.DryRun {
		head = "dry run"
	}
	h.line(head, "%s into %s", brief(d.File), brief(d.Piece))
	for _, column := range d.Ignored {
		h.line("left out", "the column %q", brief(column))
	}
	for _, r := range d.Rows {
		switch {
		case r.Refused != "":
			h.line("refused", "%s", r.Refused)
		case d.DryRun:
			h.line(fmt.Sprint("row ", r.Row), "%s  %s - %s", r.At, r.Text, r.word())
		}
	}
	h.line("new", "entries %d", d.New)
	h.line("known", "entries %d", d.Known)
	if d.Refused > 0 {
		h.line("refused", "rows %d", d.Refused)
		return h.String()
	}
	h.line("next", "dullred advise %s", asWord(brief(d.Piece)))
	return h.String()
}
