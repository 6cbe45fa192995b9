package sheet

import "slices"

// grid is a table of the page: without columns that are empty, and with what a step
// says once in one cell over all of its rows.
type grid struct {
	ID, Caption, Note string
	Label             string // the caption, with the sheet where there are several
	Heads             []cell
	Steps             [][][]cell // steps of rows of cells
}

// cell is one cell; with a scope it is a head.
type cell struct {
	Text, Class, Scope string
	Rows               int // how many it spans
}

// classes is what stands under a head, where it is no text that somebody typed:
// figures, which stand under each other, dates, or words that are not broken.
var classes = map[string]string{
	"Courses": "figure", "Strain": "figure", "Strain since soft": "figure", "Limit spent": "figure", "Weight": "figure", "Fire-stain": "figure",
	"In the flame": "figure", "At heat": "figure",
	"Date": "date", "Seen": "date", "First": "date", "Last": "date",
	"Begun": "word", "Reached": "word", "Out": "word", "Cooled": "word", "Flux": "word", "Stands": "word", "Advice": "word", "Followed": "word",
}

// grid lays a table out.
func (t table) grid() grid {
	g := grid{Caption: t.Caption, Label: t.Caption, Note: t.Note}
	columns := t.filled()
	for _, i := range columns {
		g.Heads = append(g.Heads, cell{Text: t.Heads[i], Class: classes[t.Heads[i]], Scope: "col", Rows: 1})
	}
	row := 0
	for _, rows := range t.steps() {
		g.Steps = append(g.Steps, t.step(t.Rows[row:row+rows], columns))
		row += rows
	}
	return g
}

// filled are the columns in which something stands.
func (t table) filled() (columns []int) {
	for i := range t.Heads {
		if slices.ContainsFunc(t.Rows, func(row []string) bool { return row[i] != "" }) {
			columns = append(columns, i)
		}
	}
	return columns
}

// steps is how many rows each step has.
func (t table) steps() []int {
	if t.Steps != nil {
		return t.Steps
	}
	return slices.Repeat([]int{1}, len(t.Rows))
}

// step is the cells of one step: the columns that are said once in its first row.
func (t table) step(rows [][]string, columns []int) (out [][]cell) {
	for r, row := range rows {
		var cells []cell
		for _, i := range columns {
			c := cell{Text: row[i], Class: classes[t.Heads[i]], Rows: 1}
			if i < t.Once {
				c.Rows = len(rows)
			}
			if i < t.Once && r > 0 {
				continue
			}
			c.Scope = t.scope(i, c.Rows)
			cells = append(cells, c)
		}
		out = append(out, cells)
	}
	return out
}

// scope is what a cell is the head of: the first of its step, and the first after
// those that are said once of its row.
func (t table) scope(column, rows int) string {
	switch {
	case column == 0 && rows > 1:
		return "rowgroup"
	case column == 0 || column == t.Once:
		return "row"
	}
	return ""
}
