package view

import (
	"fmt"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestRoleNamesAndLettersAreUnique(t *testing.T) {
	names, letters := map[string]Role{}, map[byte]Role{}
	for r := range Role(roleCount) {
		require.NotEmpty(t, r.String())
		require.NotContains(t, names, r.String())
		require.NotContains(t, letters, r.letter(), r)
		names[r.String()], letters[r.letter()] = r, r
	}
	require.Equal(t, "act", Act.String())
	require.Equal(t, "role 99", Role(99).String())
	require.Equal(t, byte('?'), Role(99).letter())
}

func TestSizes(t *testing.T) {
	cases := []struct {
		name       string
		w, h       int
		wantW      int
		wantH      int
		wantString string
	}{
		{"plain", 3, 2, 3, 2, "\n\n"},
		{"nothing", 0, 0, 0, 0, ""},
		{"negative", -4, -1, 0, 0, ""},
		{"no columns", 0, 1, 0, 1, "\n"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			f := New(c.w, c.h)
			w, h := f.Size()
			require.Equal(t, []int{c.wantW, c.wantH}, []int{w, h})
			require.Equal(t, c.wantString, f.String())
			require.Equal(t, c.wantString, f.Roles())
		})
	}
	var zero Frame
	zero.Set(0, 0, 'x', Plain)
	require.Equal(t, 0, zero.Text(0, 0, "x", Plain))
	require.Equal(t, blank, zero.At(0, 0))
	require.Zero(t, zero.Lit(Light))
}

func TestSetOutsideIsIgnored(t *testing.T) {
	f := New(2, 2)
	for _, at := range [][2]int{{-1, 0}, {0, -1}, {2, 0}, {0, 2}} {
		f.Set(at[0], at[1], 'x', Act)
		require.Equal(t, blank, f.At(at[0], at[1]))
	}
	require.Equal(t, New(2, 2), f)
	f.Set(1, 1, 'x', Act)
	require.Equal(t, Cell{'x', Act}, f.At(1, 1))
	f.Set(1, 1, '\u202e', Act)
	require.Equal(t, Cell{' ', Act}, f.At(1, 1))
}

func TestText(t *testing.T) {
	cases := []struct {
		name    string
		x, y    int
		text    string
		written int
		want    string
		reason  string
	}{
		{"fits", 1, 0, "bar", 3, " bar", "from its column"},
		{"cut at the right", 4, 0, "copper", 2, "    co", "six columns and no seventh"},
		{"cut at the left", -2, 0, "silver", 4, "lver", "what is left of the frame is lost"},
		{"right of the frame", 6, 0, "x", 0, "", "nothing written"},
		{"wholly left of it", -9, 0, "silver", 0, "", "nothing written"},
		{"above", 0, -1, "x", 0, "", "nothing written"},
		{"below", 0, 1, "x", 0, "", "nothing written"},
		{"nine columns", 0, 0, "sandwich!", 6, "sandwi", "a word that does not fit is cut"},
		{"line break", 0, 0, "a\nb\tc", 5, "a b c", "stays on its row"},
		{"escape", 0, 0, "a\x1b[1mb", 5, "a[1mb", "the control character goes, the rest is text"},
		{"directions", 0, 0, "a\u202e\u2066b\u200f", 2, "ab", "no rune turns the row round"},
		{"no width", 0, 0, "a\u200b\u200d\ufeffb", 2, "ab", "one rune one column"},
		{"accent", 0, 0, "né", 2, "né", "a letter with its accent is one rune"},
		{"combining accent", 0, 0, "ne\u0301", 3, "ne?", "a loose one has no column of its own"},
		{"wide", 0, 0, "銀!", 2, "?!", "two columns wide"},
		{"picture", 0, 0, "🔥!", 2, "?!", "two columns wide"},
		{"bad bytes", 0, 0, "a\xffb", 3, "a?b", "not UTF-8"},
		{"degrees", 0, 0, "650 °C", 6, "650 °C", "of one column"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			f := New(6, 1)
			require.Equal(t, c.written, f.Text(c.x, c.y, c.text, Dim))
			require.Equal(t, c.want+"\n", f.String())
		})
	}
}

// Every rune there is becomes one printable column or nothing.
func TestEveryRuneTakesOneColumnOrNone(t *testing.T) {
	for r := rune(0); r <= unicode.MaxRune; r++ {
		c, ok := column(r)
		if !ok {
			if !unicode.In(r, unicode.Cc, unicode.Cf) {
				t.Fatalf("%U is dropped", r)
			}
			continue
		}
		if !unicode.IsPrint(c) || unicode.In(c, unicode.M, unicode.Cc, unicode.Cf, wide) {
			t.Fatalf("%U becomes %U", r, c)
		}
		if c != r && c != '?' && c != ' ' {
			t.Fatalf("%U becomes %c", r, c)
		}
	}
}

// One rune of every range that is wide or of emoji presentation in Unicode's
// EastAsianWidth.txt and emoji-data.txt, and of the ones that join.
func TestWideRunesBecomeQuestionMarks(t *testing.T) {
	for _, r := range "ᄀ⌚⏰◾☔⚡✅❌➕⬛⭐⭕⺀、ㄱ一ꀀꥠ가\uf900︐︰Ａ￥𖿠𗀀𛀀𝌀🀄🔥🧲𠀀" {
		c, ok := column(r)
		require.True(t, ok, "%U", r)
		require.Equal(t, '?', c, "%U", r)
	}
}

// The scripts of the languages of a bench and the signs the screen uses come through.
func TestOrdinaryRunesComeThrough(t *testing.T) {
	for _, r := range "AZaz09ÄÖÅØÆÞßéñçłžőαΩЖя£€°±×÷²³µ½–—‘’“”…•→←↑↓█▓▒░▏▎▍▌▋▊▉│─┼■□▲△●○␣√≤≥≈Ø" {
		c, ok := column(r)
		require.True(t, ok, "%c", r)
		require.Equal(t, r, c, "%c", r)
	}
}

func TestRightAndCentre(t *testing.T) {
	f := New(10, 4)
	require.Equal(t, 3, f.Right(10, 0, "end", Plain))
	require.Equal(t, 3, f.Centre(0, 1, 10, "mid", Plain))
	require.Equal(t, 10, f.Centre(0, 2, 10, "longer than it", Plain))
	require.Equal(t, 10, f.Right(10, 3, "cut on the left", Plain))
	require.Equal(t, "       end\n   mid\nlonger tha\nn the left\n", f.String())
}

func TestFillIsCutToTheFrame(t *testing.T) {
	f := New(4, 3)
	f.Fill(-5, 1, 7, 99, '.', Rest)
	f.Fill(3, -2, 9, 3, '#', Full)
	f.Fill(0, 0, -1, -1, 'x', Over)
	require.Equal(t, "   #\n..\n..\n", f.String())
	require.Equal(t, "   u\nrr\nrr\n", f.Roles())
}

func TestRolesShowBlanksThatMean(t *testing.T) {
	f := New(8, 2)
	f.Fill(0, 0, 8, 1, ' ', Title)
	f.Text(1, 0, "bar", Title)
	f.Text(0, 1, "a", Plain)
	f.Set(2, 1, ' ', Act)
	f.Set(3, 1, '█', Glow3)
	require.Equal(t, " bar\na  █\n", f.String())
	require.Equal(t, "tttttttt\np A3\n", f.Roles())
}

func TestWrap(t *testing.T) {
	cases := []struct {
		name     string
		w, lines int
		text     string
		used     int
		want     string
		reason   string
	}{
		{"one line", 12, 3, "file it out", 1, "file it out", "it fits"},
		{"at blanks", 8, 3, "file it out now", 2, "file it\nout now", "no word is broken"},
		{"just fits", 7, 3, "file it", 1, "file it", "the last column is used"},
		{"long word", 4, 4, "a hammering", 4, "a\nhamm\nerin\ng", "the word is broken where the line ends"},
		{"left out", 8, 2, "file it out now and look again", 2, "file it\nout n...", "what is left out shows"},
		{"left out, short line", 8, 1, "file hammers", 1, "file...", "after the last word if there is room"},
		{"left out, narrow", 2, 1, "abc", 1, "..", "no room but for the mark"},
		{"no lines", 8, 0, "text", 0, "", "nothing written"},
		{"no columns", 0, 3, "text", 0, "", "nothing written"},
		{"no words", 8, 3, " \n ", 0, "", "nothing written"},
		{"line breaks", 20, 3, "file\nit\tout", 1, "file it out", "are blanks"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			f := New(20, 5)
			require.Equal(t, c.used, f.Wrap(0, 0, c.w, c.lines, c.text, Plain))
			require.Equal(t, c.want, strings.TrimRight(f.String(), "\n"))
		})
	}
}

func TestBigFillsItsBox(t *testing.T) {
	f := New(16, 6)
	require.Equal(t, 13, f.Big(1, 0, "OK", Calm, Five))
	require.Equal(t, strings.TrimLeft(`
  ████  ██  ██
 ██  ██ ██ ██
 ██  ██ ████
 ██  ██ ██ ██
  ████  ██  ██

`, "\n"), f.String())
	line := " " + strings.Repeat("C", 13) + "\n"
	require.Equal(t, strings.Repeat(line, 5)+"\n", f.Roles())
}

func TestBigCutAtTheEdgeKeepsItsWidth(t *testing.T) {
	f := New(9, 3)
	require.Equal(t, Width("ANNEAL", Ten), f.Big(5, -2, "ANNEAL", Act, Ten))
	w, h := f.Size()
	require.Equal(t, []int{9, 3}, []int{w, h})
}

// bits is the frame on a screen of one colour, as tcell shows it with the
// attributes alone: a full block or a blank, turned round by reverse.
func bits(f *Frame, theme Theme) [][]bool {
	w, h := f.Size()
	rows := make([][]bool, h)
	for y := range rows {
		rows[y] = make([]bool, w)
		for x := range rows[y] {
			c := f.At(x, y)
			rows[y][x] = (c.Rune == stroke) != theme.Ink(c.Role).Reverse
		}
	}
	return rows
}

// On a plate the letters differ from everything round them, reversed or not.
func TestPlateReadsWithoutColour(t *testing.T) {
	for _, role := range states {
		for _, size := range sizes {
			t.Run(fmt.Sprint(role, " in ", size.Rows()), func(t *testing.T) {
				f := New(80, 14)
				w, h := f.Plate(1, 1, "E4", role, size)
				require.Equal(t, Width("E4", size)+4, w)
				require.Equal(t, size.Rows()+2, h)
				letters := big("E4", size)
				shown := bits(f, Dark)
				for y := range h {
					for x := range w {
						inked := letters.At(x-plateColumns, y-plateRows).Rune == stroke
						require.Equal(t, inked != Dark.Ink(role).Reverse, shown[1+y][1+x], "column %d, row %d", x, y)
					}
				}
			})
		}
	}
}

func TestLit(t *testing.T) {
	f := New(10, 2)
	require.Zero(t, f.Lit(Dark))
	require.InDelta(t, 1, f.Lit(Light), 0)
	f.Fill(0, 0, 10, 1, ' ', Alarm)
	require.InDelta(t, 0.5, f.Lit(Dark), 1e-12, "a white bar")
	require.InDelta(t, 0.5, f.Lit(Light), 1e-12, "a black bar on a white page")
	require.Zero(t, f.Lit(Hearth), "no ground is light by the hearth")
	f.Fill(0, 1, 5, 1, stroke, Bold)
	require.InDelta(t, 0.75, f.Lit(Dark), 1e-12, "blocks of a light ink")
	f.Fill(0, 1, 5, 1, 'x', Bold)
	require.InDelta(t, 0.5, f.Lit(Dark), 1e-12, "text is no block")
	f.Fill(0, 0, 10, 1, stroke, Alarm)
	require.Zero(t, f.Lit(Dark), "dark strokes that cover their ground")
}

// Whatever is drawn wherever, the frame keeps its size and holds one printable
// rune a cell.
func TestAnythingDrawnAnywhereIsHarmless(t *testing.T) {
	place := rapid.IntRange(-30, 60)
	rapid.Check(t, func(t *rapid.T) {
		f := New(rapid.IntRange(0, 40).Draw(t, "w"), rapid.IntRange(0, 12).Draw(t, "h"))
		w, h := f.Size()
		x, y, s := place.Draw(t, "x"), place.Draw(t, "y"), rapid.String().Draw(t, "s")
		size := rapid.SampledFrom(sizes).Draw(t, "size")
		require.LessOrEqual(t, f.Text(x, y, s, Plain), w)
		require.LessOrEqual(t, f.Right(x, y, s, Dim), w)
		require.LessOrEqual(t, f.Centre(x, y, place.Draw(t, "span"), s, Bold), w)
		f.Fill(x, y, place.Draw(t, "fill w"), place.Draw(t, "fill h"), rapid.Rune().Draw(t, "rune"), Rest)
		require.Equal(t, Width(s, size), f.Big(x, y, s, Act, size))
		f.Plate(x, y, s, Hot, size)
		lines := place.Draw(t, "lines")
		require.LessOrEqual(t, f.Wrap(x, y, place.Draw(t, "wrap"), lines, s, Ask), max(lines, 0))
		for row, line := range strings.SplitAfter(f.String(), "\n")[:h] {
			require.LessOrEqual(t, len([]rune(line)), w+1, "row %d", row)
			require.Empty(t, strings.TrimFunc(strings.TrimSuffix(line, "\n"), unicode.IsPrint))
		}
		require.Len(t, f.cells, w*h)
	})
}

// Wrapped without a limit, no rune but the blanks is lost.
func TestWrapLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, w := rapid.String().Draw(t, "s"), rapid.IntRange(1, 20).Draw(t, "w")
		var got strings.Builder
		for _, line := range broken(s, w) {
			require.LessOrEqual(t, len(line), w)
			require.NotEmpty(t, line)
			got.WriteString(strings.ReplaceAll(string(line), " ", ""))
		}
		require.Equal(t, strings.ReplaceAll(string(columns(s)), " ", ""), got.String())
	})
}

func BenchmarkFrame(b *testing.B) {
	line := strings.Repeat("sterling 8.0 x 8.0 mm ", 5)
	b.ReportAllocs()
	for b.Loop() {
		f := New(120, 40)
		for y := range 40 {
			f.Text(0, y, line, Plain)
		}
	}
}
