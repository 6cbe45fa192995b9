package paper_test

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/schedule/internal/pdfread"
	"dullred/schedule/paper"
)

var evening = time.Date(2026, time.March, 3, 19, 30, 0, 0, time.UTC)

// document is a part with a heading and tables.
func document(name string, tables ...paper.Table) *paper.Doc {
	d := paper.New(paper.Head{Title: name, Made: evening})
	d.Part(name)
	d.Heading(name)
	for _, t := range tables {
		d.Table(t)
	}
	return d
}

func read(t require.TestingT, d *paper.Doc) pdfread.File {
	out, err := d.Bytes()
	require.NoError(t, err)
	f, err := pdfread.Read(out)
	require.NoError(t, err)
	return f
}

func rows(n int, cells ...string) paper.Table {
	t := paper.Table{Caption: "Work", Heads: []string{"Date", "What"}}
	for i := range n {
		t.Rows = append(t.Rows, append([]string{fmt.Sprintf("row%d", i)}, cells...))
	}
	return t
}

func TestLettersThatAreLacking(t *testing.T) {
	cases := []struct{ name, reason, text, want string }{
		{"plain", "the letters of the tables", "7.2x7.2 mm, 640 °C, 94.4 %", "7.2x7.2 mm, 640 °C, 94.4 %"},
		{"marks", "what the words of the program use", "± × · – — … ≤ ≥ √ “q”", "± × · – — … ≤ ≥ √ “q”"},
		{"accents", "western and central Europe", "žáéîøß", "žáéîøß"},
		{"Greek", "the font has it", "κουτάλι", "κουτάλι"},
		{"Cyrillic", "the font has it", "ложка", "ложка"},
		{"composed", "a letter and its accent are one", "e\u0301", "é"},
		{"Chinese", "by its number", "勺", "[U+52FA]"},
		{"Hebrew", "by its number, in the order it is stored", "כף", "[U+05DB][U+05E3]"},
		{"above the first plane", "by its number", "🥄", "[U+1F944]"},
		{"turned", "it does not turn the page", "a\u202eb", "a[U+202E]b"},
		{"zero width", "it is not hidden", "a\u200bb", "a[U+200B]b"},
		{"control", "it is not obeyed", "a\x1bb\x00c", "a[U+001B]b[U+0000]c"},
		{"broken bytes", "marked as such", "a\xffb", "a\uFFFDb"},
		{"lines", "a blank", "a\r\nb\tc\u00a0d\u2028e", "a b c d e"},
		{"brackets", "what ends a string in the file", `(a)\(b)) <<>>`, `(a)\(b)) <<>>`},
		{"escapes within letters", "U+010D has the byte of a carriage return, U+0128 that of a bracket", "čĨ", "čĨ"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			f := read(t, document("x", paper.Table{Rows: [][]string{{"name", c.text}}}))
			var got []string
			for _, text := range f.Pages[0].Texts {
				got = append(got, text.Text)
			}
			require.Equal(t, c.want, strings.Join(got[2:len(got)-1], ""), c.reason)
		})
	}
}

// Nothing is lost, nothing leaves the page, and a title is kept to the letter.
func TestWhateverIsTyped(t *testing.T) {
	texts := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"/JavaScript", "(/URI (x))", "endstream endobj", ">> /OpenAction <<",
		strings.Repeat("long", 2500), strings.Repeat("勺", 900), "\u202e", "\x00"}))
	rapid.Check(t, func(t *rapid.T) {
		name, cell := texts.Draw(t, "name"), texts.Draw(t, "cell")
		f := read(t, document(name, rows(rapid.IntRange(1, 3).Draw(t, "rows"), cell)))
		require.Equal(t, strings.ToValidUTF8(name, "\uFFFD"), f.Title)
		requireInert(t, f)
		requireInside(t, f)
	})
}

func requireInert(t require.TestingT, f pdfread.File) {
	for _, never := range []string{"/JavaScript", "/JS", "/URI", "/Launch", "/OpenAction", "/AA", "/Annot", "/GoTo", "/SubmitForm", "/RichMedia", "/Author"} {
		require.NotContains(t, f.Dicts, never)
	}
	require.Contains(t, f.Dicts, "/Type /Catalog", "what is looked through is the file")
}

// requireInside is that all stands within the margins, in letters of 8 points or more.
func requireInside(t require.TestingT, f pdfread.File) {
	for _, p := range f.Pages {
		require.NotEmpty(t, p.Texts)
		for _, text := range p.Texts {
			require.GreaterOrEqual(t, text.Size, 8.0)
			require.GreaterOrEqual(t, text.X, 42.5)
			require.LessOrEqual(t, text.X, 595.28-42.5)
			require.GreaterOrEqual(t, text.Y, 841.89-774, "Letter ends above")
			require.LessOrEqual(t, text.Y+text.Size, 841.89-43, "Letter begins below")
		}
	}
}

func TestHeadsStandOnEveryPage(t *testing.T) {
	f := read(t, document("spoon", rows(100, "lengthen")))
	require.Len(t, f.Pages, 3)
	seen := 0
	for i, p := range f.Pages {
		words := p.Words()
		require.Contains(t, words, "Date")
		require.Equal(t, fmt.Sprintf("spoon, page %d of 3", i+1), p.Texts[len(p.Texts)-1].Text)
		for _, w := range words {
			if strings.HasPrefix(w, "row") {
				require.Equal(t, fmt.Sprintf("row%d", seen), w, "in order, none twice")
				seen++
			}
		}
	}
	require.Equal(t, 100, seen)
}

func TestRowHigherThanAPage(t *testing.T) {
	words := make([]string, 4000)
	for i := range words {
		words[i] = fmt.Sprintf("w%d", i)
	}
	f := read(t, document("spoon", rows(1, strings.Join(words, " "))))
	require.Greater(t, len(f.Pages), 2)
	var got []string
	for _, w := range f.Words() {
		if strings.HasPrefix(w, "w") {
			got = append(got, w)
		}
	}
	require.Equal(t, words, got)
}

func TestCaptionStaysWithItsTable(t *testing.T) {
	for n := range 60 {
		f := read(t, document("spoon", rows(n+1, "lengthen"), paper.Table{Caption: "Hands", Heads: []string{"Hand"}, Rows: [][]string{{"kw"}}}))
		for _, p := range f.Pages {
			words := p.Words()
			require.Equal(t, slices.Contains(words, "Hands"), slices.Contains(words, "kw"), "%d rows above it", n+1)
		}
	}
}

func TestColumnsDoNotOverlap(t *testing.T) {
	long := paper.Table{Heads: []string{"Date", "Hand", "Zones", "Begun", "Reached", "Out", "Cooled", "In the flame", "At heat", "Flux", "Bend check"}}
	long.Rows = append(long.Rows, []string{"2026-03-03 19:36", "a-long-label", "bowl, handle, middle", "19:36:00 at 200 °C", "19:37:00 at 640 °C", "19:38:00", "quenched", "2 min", "1 min", "without flux", "proved springy by mb"})
	f := read(t, document("spoon", long))
	for _, a := range f.Pages[0].Texts {
		for _, b := range f.Pages[0].Texts {
			if a != b && a.Y == b.Y && a.X < b.X {
				require.Greater(t, b.X-a.X, 0.45*a.Size*float64(len([]rune(a.Text))), "%q runs into %q (a letter of the font is about half its size wide: measured)", a.Text, b.Text)
			}
		}
	}
}

func TestPartsHavePageNumbersOfTheirOwn(t *testing.T) {
	d := document("spoon", rows(60, "lengthen"))
	d.Part(strings.Repeat("bowl ", 100))
	d.Heading("bowl")
	f := read(t, d)
	require.Len(t, f.Pages, 3)
	require.Equal(t, "spoon, page 2 of 2", f.Pages[1].Texts[len(f.Pages[1].Texts)-1].Text)
	foot := f.Pages[2].Texts[len(f.Pages[2].Texts)-1].Text
	require.True(t, strings.HasPrefix(foot, "bowl bowl") && strings.HasSuffix(foot, "…, page 1 of 1"), foot)
}

func TestSameBytes(t *testing.T) {
	want, err := document("spoon", rows(60, "ложка")).Bytes()
	require.NoError(t, err)
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			got, err := document("spoon", rows(60, "ложка")).Bytes()
			if err != nil || string(got) != string(want) {
				t.Error("the same calls gave other bytes")
			}
		})
	}
	all.Wait()
}

func TestDateThatAFileCannotHold(t *testing.T) {
	for _, made := range []time.Time{{}, evening.AddDate(9000, 0, 0)} {
		d := paper.New(paper.Head{Title: "x", Made: made})
		d.Part("x")
		out, err := d.Bytes()
		require.NoError(t, err)
		require.Contains(t, string(out), "/CreationDate (D:19700101000000)")
	}
}
