package term

import (
	"github.com/gdamore/tcell/v2"
	"github.com/rivo/uniseg"
)

// ascii holds the printable characters, so that a cell of one needs no memory.
const ascii = " !\"#$%&'()*+,-./0123456789:;<=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[\\]^_`abcdefghijklmnopqrstuvwxyz{|}~"

// cell is one place of the screen. The zero cell was never drawn on and shows
// as a blank.
type cell struct {
	text  string // one grapheme
	width int    // cells it covers, 1 or 2
	style tcell.Style
}

// grid is a rectangle of cells, in rows from the top. It keeps to the rules of
// tcell.CellBuffer: what lies under the right half of a wide grapheme is kept,
// and ColorNone leaves the colour that was there.
type grid struct {
	width, height int
	cells         []cell
}

// at returns the cell at a place, nil outside.
func (g *grid) at(x, y int) *cell {
	if x < 0 || y < 0 || x >= g.width || y >= g.height {
		return nil
	}
	return &g.cells[y*g.width+x]
}

// resize changes the size and keeps what lies inside both.
func (g *grid) resize(width, height int) {
	cells := make([]cell, width*height)
	for y := range min(height, g.height) {
		copy(cells[y*width:(y+1)*width], g.cells[y*g.width:(y+1)*g.width])
	}
	g.width, g.height, g.cells = width, height, cells
}

// fill sets every cell to one character of width 1.
func (g *grid) fill(r rune, style tcell.Style) {
	text := character(r)
	for i := range g.cells {
		g.cells[i] = cell{text, 1, over(g.cells[i].style, style)}
	}
}

// put sets a cell to the first grapheme of text and returns the rest of it and
// the cells it covers, 0 outside the grid. Text without width shows as a blank.
func (g *grid) put(x, y int, text string, style tcell.Style) (rest string, width int) {
	c := g.at(x, y)
	if c == nil {
		return text, 0
	}
	first, rest, width := grapheme(text)
	*c = cell{first, max(width, 1), over(c.style, style)}
	if width == 0 {
		c.text = " "
	}
	return rest, width
}

// get returns what a cell shows, a blank where nothing was drawn, and a width
// of 0 outside the grid.
func (g *grid) get(x, y int) (string, tcell.Style, int) {
	c := g.at(x, y)
	switch {
	case c == nil:
		return "", tcell.StyleDefault, 0
	case c.text == "":
		return " ", c.style, 1
	}
	return c.text, c.style, c.width
}

// grapheme splits the first one that has a width off a text. Marks without
// width that come before it belong to it.
func grapheme(text string) (first, rest string, width int) {
	if len(text) == 1 && text[0] >= ' ' && text[0] <= '~' {
		return text, "", 1
	}
	state, rest := -1, text
	for width == 0 && rest != "" {
		var part string
		part, rest, width, state = uniseg.FirstGraphemeClusterInString(rest, state)
		first += part
	}
	return first, rest, width
}

// over lays a style on another: ColorNone lets the lower colour through.
func over(lower, style tcell.Style) tcell.Style {
	fg, bg, _ := style.Decompose()
	if fg != tcell.ColorNone && bg != tcell.ColorNone {
		return style
	}
	lowerFg, lowerBg, _ := lower.Decompose()
	if fg == tcell.ColorNone {
		style = style.Foreground(lowerFg)
	}
	if bg == tcell.ColorNone {
		style = style.Background(lowerBg)
	}
	return style
}

// character is a rune and its combining marks as text.
func character(r rune, marks ...rune) string {
	if len(marks) == 0 && r >= ' ' && r <= '~' {
		return ascii[r-' ' : r-' '+1]
	}
	return string(r) + string(marks)
}
