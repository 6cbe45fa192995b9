package view

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const (
	alphabet    = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
	digits      = "0123456789"
	punctuation = ":.,%+-/?!()x ⌀␣"
)

var sizes = []Size{Five, Seven, Ten}

func TestEveryPromisedCharacterHasAShape(t *testing.T) {
	all := []rune(alphabet + digits + punctuation)
	require.Len(t, shapes, len(all), "no shape without a promise and a test")
	for _, r := range all {
		require.Contains(t, shapes, r, "%c", r)
	}
}

func TestShapesAreRectangles(t *testing.T) {
	for r, g := range shapes {
		require.Len(t, g, shapeRows, "%c", r)
		for _, row := range g {
			require.Len(t, row, len(g[0]), "%c", r)
			require.Empty(t, strings.Trim(row, "#."), "%c", r)
		}
	}
}

func TestShapeWidths(t *testing.T) {
	other := map[rune]int{'I': 2, 'M': 8, 'N': 8, 'W': 8}
	for _, r := range alphabet + digits {
		want := 6
		if w, ok := other[r]; ok {
			want = w
		}
		require.Equal(t, want, shapeOf(r).width(Five), "%c", r)
	}
	require.Equal(t, 3, shapeOf(' ').width(Five))
	require.Equal(t, 8, shapeOf('⌀').width(Five), "a stroke through a ring needs room")
	require.Equal(t, 10, shapeOf('␣').width(Five), "the key is wider than any letter")
}

// pixel is the shape in a size, blank beyond its edge.
func pixel(g shape, col, row int, size Size) bool {
	return col < g.width(size) && g.inked(col, row, size)
}

func difference(a, b rune, size Size) int {
	ga, gb := shapeOf(a), shapeOf(b)
	n := 0
	for row := range size.Rows() {
		for col := range max(ga.width(size), gb.width(size)) {
			if pixel(ga, col, row, size) != pixel(gb, col, row, size) {
				n++
			}
		}
	}
	return n
}

func TestCharactersAreToldApart(t *testing.T) {
	all := []rune(alphabet + digits + punctuation)
	for i, a := range all {
		for _, b := range all[:i] {
			least := 3
			if strings.ContainsRune(punctuation, a) || strings.ContainsRune(punctuation, b) {
				least = 2
			}
			for _, size := range sizes {
				require.GreaterOrEqual(t, difference(a, b, size), least, "%c and %c in size %d", a, b, size)
			}
		}
	}
}

// Outside check (standard): characters that are told apart, DOD-HDBK-791.
func TestConfusableCharacters(t *testing.T) {
	cases := []struct {
		name, set string
		least     int
		reason    string
	}{
		{"round digits", "869035", 3, "the digits most often misread for each other"},
		{"eight and B", "8B", 3, "digit and letter side by side"},
		{"diameter and nought", "⌀0OQ", 3, "a figure behind it must not gain a digit"},
		{"nought and O", "0O", 3, "digit and letter side by side"},
		{"five and S", "5S", 3, "digit and letter side by side"},
		{"one and I", "1I", 3, "DOD-HDBK-791(AM) 6-5.3.2 allows serifs for this pair"},
		{"one and seven", "17", 3, "the foot and the bar"},
		{"U and V", "UV", 3, "they differ at the foot alone"},
		{"x and X", "xX", 3, "the sign between two sides is no letter"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			set := []rune(c.set)
			for i, a := range set {
				for _, b := range set[:i] {
					require.GreaterOrEqual(t, difference(a, b, Five), c.least, "%c and %c", a, b)
				}
			}
		})
	}
}

// cellShape is the height of a cell over its width, about 2 in terminal fonts.
const cellShape = 2.0

// thinnest is the narrowest run of strokes along any row, in columns.
func thinnest(r rune, size Size) int {
	least := math.MaxInt
	g := shapeOf(r)
	for row := range size.Rows() {
		run := 0
		for col := range g.width(size) + 1 {
			if pixel(g, col, row, size) {
				run++
				continue
			}
			if run > 0 {
				least = min(least, run)
			}
			run = 0
		}
	}
	return least
}

// Outside check (standard): thickness of strokes, DOD-HDBK-791.
func TestStrokesAreThickEnough(t *testing.T) {
	cases := []struct {
		size   Size
		least  float64 // share of the height
		source string
	}{
		{Five, 1. / 6, "DOD-HDBK-791(AM) 6-5.3.2.3: about 1/6 of the height, dark on light"},
		{Seven, 1. / 7, "the same: 1/7 to 1/8, light on dark"},
		{Ten, 1. / 6, "as size five"},
	}
	for _, c := range cases {
		t.Run(fmt.Sprint(c.size.Rows(), " rows"), func(t *testing.T) {
			require.NotEmpty(t, c.source)
			for _, r := range alphabet + digits {
				upright := float64(thinnest(r, c.size)) / cellShape
				require.GreaterOrEqual(t, upright/float64(c.size.Rows()), c.least, "%c", r)
			}
			bar := float64(thinnestBar(c.size))
			require.GreaterOrEqual(t, bar/float64(c.size.Rows()), c.least, "the bars of E")
		})
	}
}

// thinnestBar is the height in rows of the bars of E.
func thinnestBar(size Size) int {
	rows := 0
	for row := range size.Rows() {
		if !pixel(shapeOf('E'), 5, row, size) {
			break
		}
		rows++
	}
	return rows
}

// Width 3:5 to 1:1 of the height but for I (DOD-HDBK-791(AM) 6-5.3.2.2).
//
// Outside check (standard): proportions of letters, DOD-HDBK-791.
func TestLettersAreThreeToFiveOrWider(t *testing.T) {
	for _, r := range strings.Replace(alphabet, "I", "", 1) + digits {
		ratio := float64(shapeOf(r).width(Five)) / cellShape / shapeRows
		require.GreaterOrEqual(t, ratio, 0.6, "%c", r)
		require.LessOrEqual(t, ratio, 1.0, "%c", r)
	}
}

// height is the letter height in mm that subtends so many minutes of arc at a
// distance in mm: NUREG-0700 rev. 2, 1.3.1-4.
func height(distance, minutes float64) float64 { return 6.283 * distance * minutes / 21600 }

// screenHeight is the height in mm of a screen by its diagonal in inches.
func screenHeight(inches, across, down float64) float64 {
	return inches * 25.4 * down / math.Hypot(across, down)
}

// Outside check (standard): height of letters by distance, ISO 9241-3 and NUREG-0700.
func TestRowsReachTwoMetres(t *testing.T) {
	want := height(2000, 22) // the upper of the preferred 20 to 22 minutes
	require.InDelta(t, 12.8, want, 0.05)
	require.InDelta(t, 9.3, height(2000, 16), 0.05, "16 minutes, the least of ISO 9241-3")
	cases := []struct {
		name         string
		inches, x, y float64
		rows         float64
		size         Size
		enough       bool
		reason       string
	}{
		{"laptop, 24 rows", 15.6, 16, 9, 24, Five, true, "the largest text a terminal starts with"},
		{"laptop, 40 rows", 15.6, 16, 9, 40, Five, true, "a common full screen"},
		{"laptop, 75 rows", 15.6, 16, 9, 75, Five, true, "the most rows that still do"},
		{"laptop, 76 rows", 15.6, 16, 9, 76, Five, false, "one row more does not"},
		{"small panel, 24 rows", 7, 5, 3, 24, Five, true, "800 x 480 with a 20-pixel font"},
		{"small panel, 40 rows", 7, 5, 3, 40, Five, false, "why there is a size of seven rows"},
		{"small panel, 40 rows, seven", 7, 5, 3, 40, Seven, true, "and that it suffices"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			have := screenHeight(c.inches, c.x, c.y) / c.rows * float64(c.size.Rows())
			require.Equal(t, c.enough, have >= want, "%.1f mm", have)
		})
	}
}

func TestWidth(t *testing.T) {
	cases := []struct {
		name, text string
		size       Size
		want       int
		reason     string
	}{
		{"nothing", "", Five, 0, "no letters, no gap"},
		{"one digit", "8", Five, 6, "six columns"},
		{"a time", "12:34", Five, 4*6 + 2 + 4, "a colon of two and four gaps"},
		{"the same, tall", "12:34", Seven, 4*6 + 2 + 4, "taller, not wider"},
		{"the same, twice", "12:34", Ten, 2 * (4*6 + 2 + 4), "gaps double too"},
		{"small letters", "soak", Five, 4*6 + 3, "drawn as capitals"},
		{"I is narrow", "IN", Five, 2 + 1 + 8, "and N is not"},
		{"two words", "TO GO", Five, 4*6 + 3 + 4, "a blank of three"},
		{"the urgent call", "ANNEAL NOW", Five, 80 - 2*plateColumns - 2, "with its plate it fits 80 columns"},
		{"unknown", "Ø", Five, 6, "drawn as a question mark"},
		{"dropped", "A\u202eB", Five, 6 + 1 + 6, "direction marks take no room"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.Equal(t, c.want, Width(c.text, c.size))
		})
	}
}

func TestGlyphsOfOtherRunes(t *testing.T) {
	require.Equal(t, "8 x 7 x 6", string(glyphs("8 x 7 × 6")))
	require.Equal(t, "NExT -5-6 ?", string(glyphs("next −5–6 ☂")))
}

// big draws text alone on a frame of its own size.
func big(text string, size Size) *Frame {
	f := New(Width(text, size), size.Rows())
	f.Big(0, 0, text, Plain, size)
	return f
}

func TestBlockDigits(t *testing.T) {
	require.Equal(t, strings.TrimLeft(`
██████    ██████
    ██ ██ ██  ██
  ████     ████
    ██ ██ ██  ██
██████    ██████
`, "\n"), big("3:8", Five).String())
}

func TestSevenRowsRepeatTheOpenOnes(t *testing.T) {
	five, seven := big("A2", Five), big("A2", Seven)
	for row, from := range []int{0, 1, 1, 2, 3, 3, 4} {
		for col := range Width("A2", Five) {
			require.Equal(t, five.At(col, from), seven.At(col, row))
		}
	}
}

func TestTenDoublesBothWays(t *testing.T) {
	five, ten := big("M5%", Five), big("M5%", Ten)
	w, h := ten.Size()
	require.Equal(t, []int{2 * Width("M5%", Five), 10}, []int{w, h})
	for row := range h {
		for col := range w {
			require.Equal(t, five.At(col/2, row/2), ten.At(col, row))
		}
	}
}

func BenchmarkBig(b *testing.B) {
	f := New(120, 40)
	b.ReportAllocs()
	for b.Loop() {
		f.Big(0, 0, "ANNEAL NOW", Act, Five)
	}
}
