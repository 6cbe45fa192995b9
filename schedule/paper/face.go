package paper

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/unicode/norm"
)

// family is the name of the letters within a file.
const family = "go"

// style is one of the two faces.
type style int

const (
	regular style = iota
	bold
)

// styles are what fpdf calls the faces, and their files.
var styles = [...]struct {
	name string
	file func() []byte
}{
	regular: {"", func() []byte { return goregular.TTF }},
	bold:    {"B", func() []byte { return gobold.TTF }},
}

// seam stands on both sides of a letter shown by its number: a line may break there.
// It is not printed, and no shaped text has it otherwise.
const seam = '\u200b'

// face measures the letters of a font.
type face struct {
	font  *sfnt.Font
	buf   sfnt.Buffer
	known map[rune]float64 // widths for a size of 1; 0 for a letter that it lacks
}

func newFace(s style) (*face, error) {
	parsed, err := sfnt.Parse(styles[s].file())
	if err != nil {
		return nil, fmt.Errorf("the letters of the page: %w", err)
	}
	return &face{font: parsed, known: map[rune]float64{}}, nil
}

// letter is the width of a letter at a size of 1, and whether the font has it.
func (f *face) letter(r rune) (width float64, ok bool) {
	if r == seam {
		return 0, true
	}
	width, seen := f.known[r]
	if !seen {
		width = f.look(r)
		f.known[r] = width
	}
	return width, width > 0
}

// look asks the font. Letters above U+FFFF are beyond what a page can name.
func (f *face) look(r rune) float64 {
	i, err := f.font.GlyphIndex(&f.buf, r)
	if err != nil || i == 0 || r > 0xFFFF {
		return 0
	}
	em := f.font.UnitsPerEm()
	advance, err := f.font.GlyphAdvance(&f.buf, i, fixed.I(int(em)), font.HintingNone)
	if err != nil {
		return 0
	}
	return float64(advance) / 64 / float64(em)
}

// width of a shaped text.
func (f *face) width(text string, size float64) (w float64) {
	for _, r := range text {
		one, _ := f.letter(r)
		w += one
	}
	return w * size
}

// shape makes a text of letters that the font has: composed, with blanks for all that
// is blank, and with the number of each letter that it lacks.
func (f *face) shape(text string) string {
	var b strings.Builder
	for _, r := range norm.NFC.String(strings.ToValidUTF8(text, "\uFFFD")) {
		_, ok := f.letter(r)
		switch {
		case unicode.IsSpace(r) || unicode.Is(unicode.Zs, r):
			b.WriteByte(' ')
		case ok && unicode.IsPrint(r):
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, "%c[U+%04X]%c", seam, r, seam)
		}
	}
	return b.String()
}
