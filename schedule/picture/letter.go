package picture

import (
	"fmt"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// plain is a text that somebody typed, fit to be drawn: line breaks are blanks, bytes
// that are no UTF-8 are marked, and what does not print or turns the direction is
// dropped.
func plain(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r) || unicode.In(r, unicode.Zl, unicode.Zp):
			return ' '
		case unicode.In(r, unicode.Cc, unicode.Cf, unicode.Co, unicode.Cs) || r == '\uFFFE' || r == '\uFFFF':
			return -1
		}
		return r
	}, strings.ToValidUTF8(text, "\uFFFD"))
}

// faces are the letters that texts are measured with, read when the first figure is
// drawn.
var faces = sync.OnceValues(func() ([2]*sfnt.Font, error) {
	regular, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		return [2]*sfnt.Font{}, fmt.Errorf("the letters of the picture: %w", err)
	}
	bold, err := sfnt.Parse(gobold.TTF)
	if err != nil {
		return [2]*sfnt.Font{}, fmt.Errorf("the letters of the picture: %w", err)
	}
	return [2]*sfnt.Font{regular, bold}, nil
})

// usual is the width of a letter at a size of 1 where the font does not say.
const usual = 0.6

// widthOf is how wide a text is at a size, in the unit of the size.
func widthOf(text string, size float64) float64 {
	all, err := faces()
	var buf sfnt.Buffer
	sum := 0.0
	for _, r := range text {
		sum += advance(all[0], &buf, r, err)
	}
	return sum * size
}

func advance(f *sfnt.Font, buf *sfnt.Buffer, r rune, err error) float64 {
	const em = 1000
	if err != nil {
		return usual
	}
	i, err := f.GlyphIndex(buf, r)
	if err != nil || i == 0 {
		return 1 // some other font shows it, perhaps as wide as high
	}
	w, err := f.GlyphAdvance(buf, i, fixed.I(em), font.HintingNone)
	if err != nil {
		return usual
	}
	return float64(w) / 64 / em
}

// lines breaks a text at blanks so that no line is wider than a width; a longer word
// is cut where the line ends.
func lines(text string, size, width float64) (all []string) {
	line := ""
	for _, word := range strings.Fields(plain(text)) {
		if line != "" && widthOf(line+" "+word, size) <= width {
			line += " " + word
			continue
		}
		if line != "" {
			all = append(all, line)
		}
		line = word
		for widthOf(line, size) > width {
			head := fitting(line, size, width)
			all, line = append(all, head), line[len(head):]
		}
	}
	if line != "" {
		all = append(all, line)
	}
	return all
}

// fitting is as much of the beginning of a text as is no wider than a width, one
// letter at least.
func fitting(text string, size, width float64) string {
	end := len(text)
	for i := range text {
		if i > 0 && widthOf(text[:i], size) > width {
			break
		}
		end = i
	}
	if end == 0 {
		for i := range text {
			if i > 0 {
				return text[:i]
			}
		}
		return text
	}
	return text[:end]
}

// clipped is a text that is no wider than a width, its end left out where it must be.
func clipped(text string, size, width float64) string {
	text = plain(text)
	if text == "" || widthOf(text, size) <= width {
		return text
	}
	return fitting(text, size, width-widthOf("...", size)) + "..."
}
