package picture

import "math"

// canvas is a plot in the cells of a terminal: lines in dots, eight to a cell, or one
// letter a cell where the terminal has no more, and whole letters over them.
type canvas struct {
	w, h    int // cells
	plain   bool
	dots    []uint8 // the dots of each cell, as Unicode numbers those of braille
	letters []rune  // 0 for none
	lines   []rune  // of the last line through each cell, where a cell is one dot
}

func newCanvas(w, h int, plain bool) *canvas {
	return &canvas{w: w, h: h, plain: plain, dots: make([]uint8, w*h), letters: make([]rune, w*h), lines: make([]rune, w*h)}
}

// grain is how many dots a cell has, across and up.
func (c *canvas) grain() (x, y int) {
	if c.plain {
		return 1, 1
	}
	return 2, 4
}

// braille are the bits of the dots of a cell, by column and row (Unicode, Braille
// Patterns).
var braille = [2][4]uint8{{0x01, 0x02, 0x04, 0x40}, {0x08, 0x10, 0x20, 0x80}}

// dot sets a dot of a stroke, counted from the top left.
func (c *canvas) dot(x, y int, s Stroke) {
	gx, gy := c.grain()
	if x < 0 || y < 0 || x >= c.w*gx || y >= c.h*gy {
		return
	}
	i := y/gy*c.w + x/gx
	c.dots[i] |= braille[x%gx][y%gy]
	c.lines[i] = strokeLetters[s]
}

// letter puts a letter in the cell of a place, 0 to 1 from the left and the foot.
func (c *canvas) letter(x, y float64, r rune) {
	c.put(c.cell(x, c.w), c.h-1-c.cell(y, c.h), r)
}

// put puts a letter in a cell, counted from the top left.
func (c *canvas) put(x, y int, r rune) {
	if x >= 0 && y >= 0 && x < c.w && y < c.h {
		c.letters[y*c.w+x] = r
	}
}

// cell is that of a share of so many.
func (c *canvas) cell(share float64, of int) int {
	return min(of-1, max(0, int(settled(share*float64(of)))))
}

// settled is a place in dots or cells without the digits in which processors differ: some
// multiply and add in one step and round once. Else a dot on the edge of two cells would
// be in one of them here and in the other there.
func settled(f float64) float64 {
	const parts = 1024 // of a dot
	return math.Round(f*parts) / parts
}

// patterns are the strokes in dots: so many on, so many off.
var patterns = [...][2]int{Solid: {1, 0}, Dashed: {3, 2}, Dotted: {1, 2}, DashDot: {2, 1}, LongDash: {6, 3}}

// strokeLetters are the strokes where a cell is one dot.
var strokeLetters = [...]rune{NoStroke: ' ', Solid: '.', Dashed: '-', Dotted: ':', DashDot: '~', LongDash: '='}

// line joins two places, 0 to 1 from the left and the foot. A pattern goes on from
// the dots that were drawn before it.
func (c *canvas) line(a, b spot, s Stroke, before int) (drawn int) {
	gx, gy := c.grain()
	x0, y0 := settled(a.x*float64(c.w*gx-1)), settled((1-a.y)*float64(c.h*gy-1))
	x1, y1 := settled(b.x*float64(c.w*gx-1)), settled((1-b.y)*float64(c.h*gy-1))
	n := int(math.Ceil(max(math.Abs(x1-x0), math.Abs(y1-y0))))
	for i := range n + 1 {
		share := float64(i) / float64(max(n, 1))
		if c.on(s, before+i) {
			c.dot(int(math.Round(settled(x0+(x1-x0)*share))), int(math.Round(settled(y0+(y1-y0)*share))), s)
		}
	}
	return before + n
}

// on reports whether a dot of a stroke is drawn.
func (c *canvas) on(s Stroke, n int) bool {
	if int(s) >= len(patterns) || s == NoStroke {
		return false
	}
	p := patterns[s]
	if c.plain {
		return n%2 == 0 || s == Solid
	}
	return n%(p[0]+p[1]) < p[0]
}

// row is a row of cells as text.
func (c *canvas) row(y int) string {
	out := make([]rune, c.w)
	for x := range out {
		i := y*c.w + x
		switch {
		case c.letters[i] != 0:
			out[x] = c.letters[i]
		case c.dots[i] == 0:
			out[x] = ' '
		case c.plain:
			out[x] = c.lines[i]
		default:
			out[x] = 0x2800 + rune(c.dots[i])
		}
	}
	return string(out)
}

// signs are the markers as letters, and on a terminal without any.
var signs = [...][2]rune{NoMarker: {0, 0}, Disc: {'●', '*'}, Ring: {'○', 'o'}, Square: {'■', '#'}, Cross: {'×', 'x'},
	Triangle: {'▲', '^'}, Diamond: {'◆', '+'}}

// sign is a marker as a letter; 0 for none.
func (c *canvas) sign(m Marker) rune {
	switch {
	case int(m) >= len(signs):
		return 0
	case c.plain:
		return signs[m][1]
	}
	return signs[m][0]
}
