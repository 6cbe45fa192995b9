package sheet

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
)

//go:embed sheet.html
var pageSource string

// HTML is the sheet as one page that asks for nothing else: no script, no style or
// file from elsewhere. It prints in black on A4 or Letter.
func (s Sheet) HTML() ([]byte, error) { return s.Page() }

// Page is HTML with pictures between the summary and the tables. They stand as they
// are given, so that they must be safe, ask for nothing, and say in words what they
// show (an inline svg element with role="img" and a title).
func (s Sheet) Page(pictures ...template.HTML) ([]byte, error) {
	return pages([]leaf{s.leaf(1, pictures)})
}

// Pages is several sheets in one document, each from a new printed page on.
func Pages(sheets []Sheet) ([]byte, error) { return Illustrated(sheets, nil) }

// Illustrated is Pages with the pictures of each sheet, as Page has them; nil draws
// none. Ids within them must differ from sheet to sheet.
func Illustrated(sheets []Sheet, pictures func(Sheet) []template.HTML) ([]byte, error) {
	var all []leaf
	for i, s := range sheets {
		var drawn []template.HTML
		if pictures != nil {
			drawn = pictures(s)
		}
		all = append(all, s.leaf(i+1, drawn))
	}
	if len(all) > 1 {
		for i, l := range all {
			l.number(i + 1)
		}
	}
	return pages(all)
}

// leaf is a sheet as its page lays it out.
type leaf struct {
	Name             string
	Summary          []string
	Pictures         []template.HTML
	Described, Total list
	Grids            []grid
}

// list is facts below each other. Ids differ between the sheets of one document.
type list struct {
	ID, Caption, Note string
	Facts             []fact
}

func (s Sheet) leaf(n int, pictures []template.HTML) leaf {
	id := fmt.Sprintf("s%d-", n)
	l := leaf{Name: s.Name, Summary: s.summary(), Pictures: pictures,
		Described: list{id + "piece", "Piece", "What it is and how it began.", s.facts()},
		Total:     list{id + "totals", "Totals", "All of it summed up.", s.totals()}}
	for i, t := range s.tables() {
		g := t.grid()
		g.ID = fmt.Sprintf("%s%d", id, i+1)
		l.Grids = append(l.Grids, g)
	}
	return l
}

// number tells the tables of a sheet from those of others.
func (l leaf) number(n int) {
	for i := range l.Grids {
		l.Grids[i].Label += fmt.Sprintf(", sheet %d", n)
	}
}

// pages writes the document; what a sheet holds is escaped where it stands.
func pages(all []leaf) ([]byte, error) {
	title := fmt.Sprintf("Making records of %d pieces", len(all))
	if len(all) == 1 {
		title = "Making record of " + all[0].Name
	}
	// Parsed here and not at the start of the program, which has other things to do.
	page, err := template.New("sheet").Parse(pageSource)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = page.Execute(&out, struct {
		Title  string
		Leaves []leaf
	}{title, all})
	return out.Bytes(), err
}
