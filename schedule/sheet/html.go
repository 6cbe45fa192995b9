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
func (s Sheet) HTML() ([]byte, error) { return Pages([]Sheet{s}) }

// Pages is several sheets in one document, each from a new printed page on. Ids within
// their pictures must differ from sheet to sheet.
func Pages(sheets []Sheet) ([]byte, error) {
	var all []leaf
	for i, s := range sheets {
		l := s.leaf(i + 1)
		if len(sheets) > 1 {
			l.number(i + 1)
		}
		all = append(all, l)
	}
	return pages(all, explained(sheets))
}

// explained are the words in the style of the first sheet.
func explained(sheets []Sheet) []fact {
	if len(sheets) == 0 {
		return nil
	}
	return sheets[0].styled(words)
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

func (s Sheet) leaf(n int) leaf {
	id := fmt.Sprintf("s%d-", n)
	l := leaf{Name: s.Name, Summary: s.summary(), Pictures: s.Pictures,
		Described: list{id + "piece", "Piece", "What it is and how it began.", s.styled(s.facts())},
		Total:     list{id + "totals", "Totals", "All of it summed up.", s.styled(s.totals())}}
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
func pages(all []leaf, said []fact) ([]byte, error) {
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
		Words  []fact
	}{title, all, said})
	return out.Bytes(), err
}
