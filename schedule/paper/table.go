package paper

// Table is a table with its caption. The row of heads stands again on every page.
type Table struct {
	Caption string
	Heads   []string // none where the first cell of a row is its head
	Rows    [][]string
}

// A table is set in bodySize, or in leastSize where its longest words do not go side
// by side otherwise.
const (
	bodySize  = 9.0
	leastSize = 8.0
	padding   = 2.5  // above and below the text of a cell
	side      = 3.5  // and beside it
	airAbove  = 12.0 // a table
	fewest    = 3    // lines of a row that are left on a page, where it has more
)

// cell is a shaped text.
type cell struct {
	style
	text string
}

// grid is a table with the widths of its columns.
type grid struct {
	doc    *Doc
	size   float64
	widths []float64
	heads  []cell
}

// Table prints a table; none without rows. A row that does not go on the page goes on
// the next, and one that is higher than a page goes over several.
func (d *Doc) Table(t Table) {
	if d.err != nil || len(t.Rows) == 0 {
		return
	}
	all := [][]cell{d.row(bold, bold, t.Heads)}
	first := regular
	if len(t.Heads) == 0 {
		first = bold
	}
	for _, row := range t.Rows {
		all = append(all, d.row(first, regular, row))
	}
	g := grid{doc: d, size: bodySize, heads: all[0]}
	c := g.measure(all)
	if c.least > right-left {
		g.size = leastSize
		c = g.measure(all)
	}
	g.widths = c.share(right - left)
	g.open(t.Caption, all[1])
	for _, row := range all[1:] {
		g.row(row)
	}
}

// row shapes the cells of a row, the first of which may be in another style.
func (d *Doc) row(first, others style, texts []string) (row []cell) {
	for i, text := range texts {
		s := others
		if i == 0 {
			s = first
		}
		row = append(row, cell{s, d.faces[s].shape(text)})
	}
	return row
}

// open prints the caption and the heads, on the page where the first row begins.
func (g *grid) open(caption string, first []cell) {
	d := g.doc
	if d.y > top {
		d.y += airAbove
	}
	_, heads := g.broken(g.heads)
	_, lines := g.broken(first)
	d.room(captionSize*leading + padding + g.height(heads) + g.height(min(lines, fewest)))
	d.flow(bold, captionSize, caption)
	d.y += padding
	g.line(d.y)
	g.again()
}

// again prints the heads.
func (g *grid) again() {
	if len(g.heads) > 0 {
		cells, lines := g.broken(g.heads)
		g.print(cells, lines)
	}
}

// row prints a row, over as many pages as it takes.
func (g *grid) row(row []cell) {
	cells, lines := g.broken(row)
	for {
		free := int((bottom - g.doc.y - 2*padding) / g.leading())
		if lines <= free {
			g.print(cells, lines)
			return
		}
		if free >= fewest && g.height(lines) > (bottom-top)/2 {
			g.print(cells, free)
			cells, lines = after(cells, free), lines-free
		}
		g.doc.newPage()
		g.line(g.doc.y)
		g.again()
	}
}

// broken cuts the cells of a row into lines, and says how many the highest has.
func (g *grid) broken(row []cell) (cells []broken, highest int) {
	for i, c := range row {
		space := fit{g.doc.faces[c.style], g.size, g.widths[i] - 2*side}
		b := broken{c.style, space.lines(c.text)}
		cells, highest = append(cells, b), max(highest, len(b.lines))
	}
	return cells, max(highest, 1)
}

// broken is a cell in lines.
type broken struct {
	style
	lines []string
}

// after leaves the first lines of every cell away.
func after(cells []broken, n int) (rest []broken) {
	for _, c := range cells {
		rest = append(rest, broken{c.style, c.lines[min(n, len(c.lines)):]})
	}
	return rest
}

// print prints the first lines of a row, and a line below it.
func (g *grid) print(cells []broken, lines int) {
	d, x := g.doc, left
	for i, c := range cells {
		d.set(c.style, g.size)
		for n, line := range c.lines[:min(lines, len(c.lines))] {
			d.pdf.Text(x+side, d.y+padding+float64(n)*g.leading()+g.size, line)
		}
		x += g.widths[i]
	}
	d.y += g.height(lines)
	g.line(d.y)
}

func (g *grid) leading() float64 { return g.size * leading }

func (g *grid) height(lines int) float64 { return float64(lines)*g.leading() + 2*padding }

func (g *grid) line(y float64) { g.doc.pdf.Line(left, y, right, y) }
