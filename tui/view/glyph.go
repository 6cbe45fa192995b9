package view

import (
	"strings"
	"unicode"
)

// The block letters. A cell of a terminal is about one wide and two high, so two
// columns of stroke are as thick as one row: uprights are two columns, bars one
// row, and a letter of six columns by five rows is 3:5 in shape (M, N and W have
// eight, for their diagonals).
//
// Five rows suffice because character heights of 20 to 22 minutes of arc are
// preferred (NUREG-0700 rev. 2, 1.3.1-4, with the formula height = 6.283 D MA /
// 21600; ISO 9241-3 gives the same figures and 16 as the least). At two metres 22
// minutes are 12.8 mm; a screen 194 mm high (15.6 inches, 16:9) gives five rows that
// height up to 75 rows of text. Width 3:5 to 1:1 of the height, strokes about 1/6
// of it dark on light and 1/7 to 1/8 light on dark, no serifs but where I and 1
// need them: DOD-HDBK-791(AM), 6-5.3.2.
//
// Only the full block and the blank are used. In a locale without it the screen
// library writes '#', which still reads.
const stroke = '█'

// Size is how large a block letter is drawn. The zero value is the smallest.
type Size uint8

// The sizes. Seven is Five drawn taller, for small panels with many rows: its
// strokes are a seventh of its height, less than the sixth wanted for dark
// letters on light. Ten is Five at twice the scale.
const (
	Five Size = iota
	Seven
	Ten
)

// Rows is the height in rows: 5, 7 or 10.
func (s Size) Rows() int {
	switch s {
	case Seven:
		return 7
	case Ten:
		return 10
	}
	return shapeRows
}

// scale is how often a column of the shape is repeated.
func (s Size) scale() int {
	if s == Ten {
		return 2
	}
	return 1
}

// gap is the number of blank columns between letters.
func (s Size) gap() int { return s.scale() }

// tallRows says which row of the shape each row of Seven shows.
var tallRows = [...]int{0, 1, 1, 2, 3, 3, 4}

// source is the row of the shape shown in row of this size.
func (s Size) source(row int) int {
	if s == Seven {
		return tallRows[row]
	}
	return row / s.scale()
}

// Width is the number of columns that s takes in block letters, 0 for nothing.
// There are letters, digits, ": . , % + - / ? ! ( )", the blank, U+2300, the sign of
// a diameter, and U+2423, drawn as a wide key. Small letters are drawn as capitals except x, which like U+00D7 is
// the sign between two sides; other dashes are drawn as '-', and what there is
// no shape for as '?'.
func Width(s string, size Size) int {
	w := 0
	for i, r := range glyphs(s) {
		if i > 0 {
			w += size.gap()
		}
		w += shapeOf(r).width(size)
	}
	return w
}

// glyphs is s as the block letters know it.
func glyphs(s string) []rune {
	runes := columns(s)
	for i, r := range runes {
		runes[i] = glyphOf(r)
	}
	return runes
}

func glyphOf(r rune) rune {
	switch r {
	case 'x', '×':
		return 'x'
	case '−', '–', '—':
		return '-'
	}
	if r = unicode.ToUpper(r); shapes[r] == nil {
		return '?'
	}
	return r
}

const shapeRows = 5

// shape is a block letter: its rows, '#' for a stroke, all of one length.
type shape []string

func shapeOf(r rune) shape { return shapes[r] }

func (g shape) width(size Size) int { return len(g[0]) * size.scale() }

// inked tells whether the letter has a stroke at this column and row of a size.
func (g shape) inked(col, row int, size Size) bool {
	return g[size.source(row)][col/size.scale()] == '#'
}

// second tells of the second column of an upright stroke: one of exactly two
// columns. It is left out where letters are thin.
func (g shape) second(col, row int, size Size) bool {
	if size == Ten {
		return g.second(col/2, row/2, Five)
	}
	at := func(c int) bool { return c >= 0 && c < g.width(size) && g.inked(c, row, size) }
	return at(col-1) && !at(col-2) && !at(col+1)
}

var shapes = cut(map[rune]string{
	'A': ".####. ##..## ###### ##..## ##..##",
	'B': "#####. ##..## #####. ##..## #####.",
	'C': ".##### ##.... ##.... ##.... .#####",
	'D': "####.. ##.##. ##..## ##.##. ####..",
	'E': "###### ##.... ####.. ##.... ######",
	'F': "###### ##.... ####.. ##.... ##....",
	'G': ".####. ##.... ##.### ##..## .####.",
	'H': "##..## ##..## ###### ##..## ##..##",
	'I': "## ## ## ## ##",
	'J': "....## ....## ....## ##..## .####.",
	'K': "##..## ##.##. ####.. ##.##. ##..##",
	'L': "##.... ##.... ##.... ##.... ######",
	'M': "##....## ###..### ######## ##.##.## ##....##",
	'N': "##....## ####..## ##.##.## ##..#### ##....##",
	'O': ".####. ##..## ##..## ##..## .####.",
	'P': "#####. ##..## #####. ##.... ##....",
	'Q': ".####. ##..## ##..## .####. ...###",
	'R': "#####. ##..## #####. ##.##. ##..##",
	'S': ".##### ##.... .####. ....## #####.",
	'T': "###### ..##.. ..##.. ..##.. ..##..",
	'U': "##..## ##..## ##..## ##..## .####.",
	'V': "##..## ##..## ##..## .####. ..##..",
	'W': "##....## ##.##.## ######## ###..### ##....##",
	'X': "##..## .####. ..##.. .####. ##..##",
	'Y': "##..## ##..## .####. ..##.. ..##..",
	'Z': "###### ...##. ..##.. .##... ######",
	'0': "###### ##..## ##..## ##..## ######",
	'1': "..##.. ####.. ..##.. ..##.. ######",
	'2': "###### ....## ###### ##.... ######",
	'3': "###### ....## ..#### ....## ######",
	'4': "##..## ##..## ###### ....## ....##",
	'5': "###### ##.... ###### ....## #####.",
	'6': ".##### ##.... ###### ##..## ######",
	'7': "###### ....## ...##. ..##.. ..##..",
	'8': "###### ##..## .####. ##..## ######",
	'9': "###### ##..## ###### ....## ######",
	':': ".. ## .. ## ..",
	'.': ".. .. .. .. ##",
	',': "... ... ... .## ##.",
	'%': "##..## ...##. ..##.. .##... ##..##",
	'+': "...... ..##.. ###### ..##.. ......",
	'-': ".... .... #### .... ....",
	'/': "....## ...##. ..##.. .##... ##....",
	'?': "#####. ....## ..###. ...... ..##..",
	'!': "## ## ## .. ##",
	'(': "..## ##.. ##.. ##.. ..##",
	')': "##.. ..## ..## ..## ##..",
	'x': "...... ##..## ..##.. ##..## ......",
	' ': "... ... ... ... ...",
	'⌀': ".####.## ##..###. ##.##.## .###..## ##.####.",
	'␣': ".......... .......... ##......## ##......## ##########",
})

// cut parts the rows of each shape.
func cut(rows map[rune]string) map[rune]shape {
	parted := make(map[rune]shape, len(rows))
	for r, s := range rows {
		parted[r] = strings.Fields(s)
	}
	return parted
}
