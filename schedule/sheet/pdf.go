package sheet

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"dullred/schedule/paper"
)

// PDF is the sheet on A4 pages with margins that also fit Letter, black on white. It
// has the words, facts and tables of the page that HTML makes. The same sheet gives the same
// bytes: the date in the file is that of its latest entry, in UTC.
//
// Latin, Greek and Cyrillic letters are printed; any other is shown by its number, as
// [U+4E2D] (see package paper), in the order in which it is stored, so that a script
// that is written from right to left is not turned.
func (s Sheet) PDF() ([]byte, error) { return PDFPages([]Sheet{s}) }

// PDFPages is several sheets in one PDF, each from a new page on and with page numbers
// of its own. It fails without a sheet.
func PDFPages(all []Sheet) ([]byte, error) {
	if len(all) == 0 {
		return nil, errors.New("no sheet to print")
	}
	head := paper.Head{Title: titled(all)}
	for _, s := range all {
		if at := s.latest(); at.After(head.Made) {
			head.Made = at.UTC()
		}
	}
	d := paper.New(head)
	for _, s := range all {
		s.print(d)
		d.Table(printedFacts("What the words mean", s.styled(words)))
	}
	return d.Bytes()
}

// titled is what the file of some sheets is called.
func titled(all []Sheet) string {
	if len(all) == 1 {
		return all[0].title()
	}
	return fmt.Sprintf("Making records of %d pieces", len(all))
}

func (s Sheet) title() string { return "Making record of " + s.Name }

func (s Sheet) print(d *paper.Doc) {
	d.Part(s.Name)
	d.Heading(s.title())
	d.Text(strings.Join(s.summary(), " "))
	d.Table(printedFacts("Piece", s.styled(s.facts())))
	for _, t := range s.tables() {
		d.Table(t.printed())
	}
	d.Table(printedFacts("Totals", s.styled(s.totals())))
}

// printed is a table on paper: without columns that are empty. Every row says its date
// and hand, so that one at the top of a page can be read alone.
func (t table) printed() paper.Table {
	columns := t.filled()
	pick := func(row []string) (some []string) {
		for _, i := range columns {
			some = append(some, row[i])
		}
		return some
	}
	out := paper.Table{Caption: t.Caption, Heads: pick(t.Heads)}
	for _, row := range t.Rows {
		out.Rows = append(out.Rows, pick(row))
	}
	return out
}

func printedFacts(caption string, all []fact) paper.Table {
	t := paper.Table{Caption: caption}
	for _, f := range all {
		t.Rows = append(t.Rows, []string{f.Head, f.Text})
	}
	return t
}

// latest is when somebody last was at the piece.
func (s Sheet) latest() (at time.Time) {
	for _, h := range s.Hands {
		if h.Last.After(at) {
			at = h.Last
		}
	}
	return at
}
