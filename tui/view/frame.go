package view

import (
	"fmt"
	"strings"
	"unicode"

	"dullred/alloys/unit"
)

// Role says what a cell means. What it looks like is the theme's affair
// (Theme.Ink), and what it says in words is the view's: no role is ever the only
// sign of a state.
type Role uint8

// The roles. Those from Calm to Fault, and Alarm, are states of the piece or of
// the bench; Glow0 to Glow5 are swatches, always with their word beside them.
const (
	Plain Role = iota // ordinary text and the empty page
	Dim               // hints for the reader at half a metre
	Bold              // headings of a page read close
	Title             // the title bar
	Calm              // carry on
	Soon              // anneal soon
	Act               // anneal now
	Fire              // heating, soaking
	Hot               // hot though it does not glow
	Ask               // prove it, or unknown
	Fault             // a crack
	Full              // the spent part of the gauge
	Over              // the part of the gauge beyond the limit
	Rest              // the part of the gauge not spent
	Tick              // the marks of courses on the gauge
	Key               // key caps
	Mark              // the mark of invented data
	Alarm             // the alert bar
	Toast             // the one-line answer to a key
	Field             // a field of a form
	Focus             // the field with the cursor
	Glow0             // no glow
	Glow1             // faint red
	Glow2             // dull red
	Glow3             // cherry
	Glow4             // bright red
	Glow5             // orange

	roleCount = int(Glow5) + 1
)

// roleNames gives each role its name and its letter in Frame.Roles: capitals for
// states, digits for swatches.
var roleNames = [roleCount]struct {
	name   string
	letter byte
}{
	Plain: {"plain", 'p'}, Dim: {"dim", 'd'}, Bold: {"bold", 'b'}, Title: {"title", 't'},
	Calm: {"calm", 'C'}, Soon: {"soon", 'S'}, Act: {"act", 'A'}, Fire: {"fire", 'F'},
	Hot: {"hot", 'H'}, Ask: {"ask", 'Q'}, Fault: {"fault", 'X'},
	Full: {"full", 'u'}, Over: {"over", 'o'}, Rest: {"rest", 'r'}, Tick: {"tick", 'i'},
	Key: {"key", 'k'}, Mark: {"mark", 'm'}, Alarm: {"alarm", 'L'}, Toast: {"toast", 'a'},
	Field: {"field", 'f'}, Focus: {"focus", 'c'},
	Glow0: {"glow 0", '0'}, Glow1: {"glow 1", '1'}, Glow2: {"glow 2", '2'},
	Glow3: {"glow 3", '3'}, Glow4: {"glow 4", '4'}, Glow5: {"glow 5", '5'},
}

// String is the role's name in small letters.
func (r Role) String() string {
	if int(r) >= roleCount {
		return fmt.Sprintf("role %d", uint8(r))
	}
	return roleNames[r].name
}

// letter stands for the role in Frame.Roles.
func (r Role) letter() byte {
	if int(r) >= roleCount {
		return '?'
	}
	return roleNames[r].letter
}

// Cell is one column of one row: a rune one column wide, and what it means.
type Cell struct {
	Rune rune
	Role Role
}

var blank = Cell{Rune: ' '}

// Frame is a rectangle of cells, column 0 and row 0 at the top left. Drawing
// outside it is cut off and never an error, so that a view drawn for a large
// screen does no harm on a small one. The zero Frame has no cells.
type Frame struct {
	w, h  int
	cells []Cell
	thin  bool       // block letters have upright strokes of one column
	style unit.Style // of the figures in what Wrap and clip write
}

// New makes a blank frame of w columns and h rows; negative sizes count as 0.
func New(w, h int) *Frame {
	w, h = max(w, 0), max(h, 0)
	f := &Frame{w: w, h: h, cells: make([]Cell, w*h)}
	for i := range f.cells {
		f.cells[i] = blank
	}
	return f
}

// Size is the number of columns and rows.
func (f *Frame) Size() (w, h int) { return f.w, f.h }

// At is the cell at column x of row y, a blank one outside the frame.
func (f *Frame) At(x, y int) Cell {
	if !f.holds(x, y) {
		return blank
	}
	return f.cells[y*f.w+x]
}

// Set puts one rune at column x of row y. A rune that Text would drop leaves a
// blank in the role.
func (f *Frame) Set(x, y int, r rune, role Role) {
	if !f.holds(x, y) {
		return
	}
	c, ok := column(r)
	if !ok {
		c = ' '
	}
	f.cells[y*f.w+x] = Cell{c, role}
}

func (f *Frame) holds(x, y int) bool {
	return x >= 0 && y >= 0 && x < f.w && y < f.h
}

// Text writes s from column x of row y and returns the number of columns
// written; what does not fit is cut off on either side. What people typed is
// data: control and direction characters are dropped, see Columns.
func (f *Frame) Text(x, y int, s string, role Role) int {
	if y < 0 || y >= f.h {
		return 0
	}
	written := 0
	for _, r := range s {
		c, ok := column(r)
		if !ok {
			continue
		}
		if x >= f.w {
			break
		}
		if x >= 0 {
			f.cells[y*f.w+x] = Cell{c, role}
			written++
		}
		x++
	}
	return written
}

// Right writes s so that it ends just before column x (x = width: at the right
// edge) and returns the columns written.
func (f *Frame) Right(x, y int, s string, role Role) int {
	return f.Text(x-Columns(s), y, s, role)
}

// Centre writes s in the middle of the w columns from x, from x itself when it is
// too long, and returns the columns written. An odd column is left on the right.
func (f *Frame) Centre(x, y, w int, s string, role Role) int {
	return f.Text(x+max(w-Columns(s), 0)/2, y, s, role)
}

// Fill covers w columns and h rows from (x, y) with one rune.
func (f *Frame) Fill(x, y, w, h int, r rune, role Role) {
	right, bottom := min(x+w, f.w), min(y+h, f.h)
	for row := max(y, 0); row < bottom; row++ {
		for col := max(x, 0); col < right; col++ {
			f.Set(col, row, r, role)
		}
	}
}

// Big writes s in block letters with their top left at (x, y) and returns their
// width, Width(s, size), whether or not all of it fitted. The whole box takes the
// role, not the strokes alone. Of a role that is reversed or has a ground of its
// own the outer strokes would run into the page: draw it with Plate.
func (f *Frame) Big(x, y int, s string, role Role, size Size) int {
	w := Width(s, size)
	f.Fill(x, y, w, size.Rows(), ' ', role)
	for i, r := range glyphs(s) {
		if i > 0 {
			x += size.gap()
		}
		x += f.stamp(x, y, shapeOf(r), Cell{stroke, role}, size)
	}
	return w
}

// stamp draws the strokes of one block letter and returns its width.
func (f *Frame) stamp(x, y int, g shape, c Cell, size Size) int {
	w := g.width(size)
	for row := range size.Rows() {
		for col := range w {
			if g.inked(col, row, size) && !(f.thin && g.second(col, row, size)) {
				f.Set(x+col, y+row, c.Rune, c.Role)
			}
		}
	}
	return w
}

// The margin of a plate: one row, and as much across (a cell is about 1:2).
const (
	plateRows    = 1
	plateColumns = 2
)

// Plate is Big on a ground of the role, one row and two columns larger on every
// side, with the plate's top left at (x, y). It returns the plate's size. Dark
// letters on a light plate, and letters in reverse, read only with that margin.
func (f *Frame) Plate(x, y int, s string, role Role, size Size) (w, h int) {
	w, h = Width(s, size)+2*plateColumns, size.Rows()+2*plateRows
	f.Fill(x, y, w, h, ' ', role)
	f.Big(x+plateColumns, y+plateRows, s, role, size)
	return w, h
}

// Wrap writes s in the style of the frame, broken at blanks into lines of at most w columns, at most
// maxLines of them from (x, y) down, and returns the number of lines written.
// A longer word is broken where the line ends. Text that was left out shows as
// "..." at the end of the last line.
func (f *Frame) Wrap(x, y, w, maxLines int, s string, role Role) int {
	if w <= 0 || maxLines <= 0 {
		return 0
	}
	all := broken(f.style.Text(s), w)
	shown := all[:min(len(all), maxLines)]
	for i, line := range shown {
		f.Text(x, y+i, string(line), role)
	}
	if len(all) > len(shown) {
		end := min(len(shown[len(shown)-1]), max(w-3, 0))
		f.Text(x+end, y+len(shown)-1, "..."[:min(w, 3)], role)
	}
	return len(shown)
}

// broken is s in lines of at most w runes, w above 0.
func broken(s string, w int) [][]rune {
	var lines [][]rune
	var line []rune
	for _, word := range strings.Fields(string(columns(s))) {
		rest := []rune(word)
		if len(line) > 0 && len(line)+1+len(rest) <= w {
			line = append(append(line, ' '), rest...)
			continue
		}
		if len(line) > 0 {
			lines = append(lines, line)
		}
		for len(rest) > w {
			lines, rest = append(lines, rest[:w]), rest[w:]
		}
		line = rest
	}
	if len(line) > 0 {
		lines = append(lines, line)
	}
	return lines
}

// String is the text of the frame, one line a row without its trailing blanks,
// each ended by a line feed.
func (f *Frame) String() string {
	return f.grid(func(c Cell) rune { return c.Rune })
}

// Roles is a grid like String's with one letter for the role of each cell:
// capitals for states, digits for glow swatches, small letters for the rest, and
// a blank for a blank cell of the plain page.
func (f *Frame) Roles() string {
	return f.grid(func(c Cell) rune {
		if c == blank {
			return ' '
		}
		return rune(c.Role.letter())
	})
}

func (f *Frame) grid(of func(Cell) rune) string {
	var all strings.Builder
	line := make([]rune, f.w)
	for y := range f.h {
		for x := range f.w {
			line[x] = of(f.cells[y*f.w+x])
		}
		all.WriteString(strings.TrimRight(string(line), " "))
		all.WriteByte('\n')
	}
	return all.String()
}

// Lit is the share, 0 to 1, of cells that the theme shows as a light block: a
// light ground, or a full block in a light ink.
func (f *Frame) Lit(t Theme) float64 {
	if len(f.cells) == 0 {
		return 0
	}
	lit := 0
	for _, c := range f.cells {
		shown := t.Ink(c.Role).Bg
		if c.Rune == stroke {
			shown = t.Ink(c.Role).Fg
		}
		if shown.Luminance() > middleLuminance {
			lit++
		}
	}
	return float64(lit) / float64(len(f.cells))
}

// Columns is the number of columns that Text needs for s. One rune takes one
// column:
//   - tabs, line breaks and other blanks become a blank;
//   - control and format characters (among them all that turn the direction of
//     writing, and the ones of no width) are dropped;
//   - combining marks, wide East Asian runes, pictographs, bytes that are not
//     UTF-8 and runes that no font shows become '?'.
func Columns(s string) int { return len(columns(s)) }

// columns is s as Text writes it, one rune a column.
func columns(s string) []rune {
	out := make([]rune, 0, len(s))
	for _, r := range s {
		if c, ok := column(r); ok {
			out = append(out, c)
		}
	}
	return out
}

// column is what a rune takes one column as, or false when it is dropped.
func column(r rune) (rune, bool) {
	switch {
	case r >= ' ' && r <= '~':
		return r, true
	case unicode.IsSpace(r) || unicode.Is(unicode.Z, r):
		return ' ', true
	case unicode.Is(unicode.Cc, r) || unicode.Is(unicode.Cf, r):
		return 0, false
	case r == unicode.ReplacementChar, unicode.Is(unicode.M, r), unicode.Is(wide, r), !unicode.IsPrint(r):
		return '?', true
	}
	return r, true
}

// wide holds the runes that take two columns or join with their neighbour: the
// East Asian Wide and Fullwidth blocks of Unicode Standard Annex #11 and the
// blocks of pictographs, rounded up to whole blocks where they are rare in the
// languages of a bench.
var wide = &unicode.RangeTable{
	R16: []unicode.Range16{
		{0x1100, 0x11ff, 1}, // Hangul letters, the joining ones too
		{0x231a, 0x231b, 1}, {0x2329, 0x232a, 1}, {0x23e9, 0x23f3, 1}, {0x25fd, 0x25fe, 1},
		{0x2600, 0x27bf, 1}, // signs and dingbats
		{0x2b1b, 0x2b1c, 1}, {0x2b50, 0x2b55, 1},
		{0x2e80, 0xa4cf, 1}, {0xa960, 0xa97f, 1}, {0xac00, 0xd7ff, 1},
		{0xf900, 0xfaff, 1}, {0xfe10, 0xfe1f, 1}, {0xfe30, 0xfe6f, 1}, {0xff00, 0xffef, 1},
	},
	R32: []unicode.Range32{{0x16fe0, 0x18dff, 1}, {0x1aff0, 0x1b2ff, 1}, {0x1d300, 0x1d37f, 1}, {0x1f000, 0x3fffd, 1}},
}
