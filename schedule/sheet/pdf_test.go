package sheet_test

import (
	"encoding/csv"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/schedule"
	"dullred/schedule/internal/pdfread"
	"dullred/schedule/sheet"
)

func printed(t require.TestingT, all ...sheet.Sheet) pdfread.File {
	out, err := sheet.PDFPages(all)
	require.NoError(t, err)
	f, err := pdfread.Read(out)
	require.NoError(t, err)
	return f
}

// onPaper are the columns of the CSV whose figures the tables hold as they are; times
// in the flame and dates are written otherwise there.
var onPaper = []string{"size", "strain", "strain_since_soft", "limit_spent_percent", "begun_c", "reached_c", "out_c", "solidus_c"}

// figures are the words of the CSV that hold a figure, each as often as it stands there,
// and all words of the facts and totals.
func figures(t require.TestingT, s sheet.Sheet) (all []string) {
	out, err := s.CSV()
	require.NoError(t, err)
	rows, err := csv.NewReader(strings.NewReader(string(out))).ReadAll()
	require.NoError(t, err)
	for _, row := range rows[1:] {
		for i, cell := range row {
			fact := (row[0] == "piece" || row[0] == "total") && sheet.Columns[i] == "text"
			if fact || slices.Contains(onPaper, sheet.Columns[i]) {
				all = append(all, bare(strings.Fields(cell))...)
			}
		}
	}
	return all
}

// bare are words without what stands around them.
func bare(words []string) (out []string) {
	for _, w := range words {
		out = append(out, strings.Trim(w, ",;:"))
	}
	return out
}

// requireWords is that all words are there, each often enough.
func requireWords(t require.TestingT, want, got []string, name string) {
	counts := map[string]int{}
	for _, w := range bare(got) {
		counts[w]++
	}
	for _, w := range want {
		counts[w]--
		require.GreaterOrEqual(t, counts[w], 0, "%s: %q is missing, or once too few", name, w)
	}
}

func TestEveryFigureIsOnPaper(t *testing.T) {
	for name, s := range cases() {
		f := printed(t, s)
		require.Equal(t, "Making record of "+s.Name, f.Title)
		if name != "eventful" { // to which more happened than to any piece of the class
			require.LessOrEqual(t, len(f.Pages), 2, name)
		}
		require.Greater(t, len(figures(t, s)), 20, name)
		requireWords(t, figures(t, s), f.Words(), name)
	}
}

// Whatever is typed is printed as text and does nothing.
func TestHostileTextIsInertOnPaper(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := typed(t)
		f := printed(t, s)
		require.Equal(t, "Making record of "+s.Name, f.Title)
		for _, never := range []string{"/JavaScript", "/JS", "/URI", "/Launch", "/OpenAction", "/AA", "/Annot", "/GoTo", "/SubmitForm", "/Author"} {
			require.NotContains(t, f.Dicts, never)
		}
	})
}

func TestNamesOfAnyLength(t *testing.T) {
	for name, reason := range map[string]string{
		strings.Repeat("ё", 10_000): "in letters that the font has",
		strings.Repeat("勺", 10_000): "and in letters that it lacks",
		"":                          "and without one",
	} {
		s := piece(rod()).sheet()
		s.Name = name
		var text strings.Builder
		for _, p := range printed(t, s).Pages {
			p.Texts = p.Texts[:len(p.Texts)-1] // without the foot
			text.WriteString(strings.Join(p.Words(), ""))
		}
		shown := strings.ReplaceAll(name, "勺", "[U+52FA]")
		require.True(t, strings.HasPrefix(text.String(), "Makingrecordof"+shown), reason)
	}
}

func TestSeveralSheetsInOnePDF(t *testing.T) {
	all := cases()
	f := printed(t, all["spoon 1"], all["bowl 1"])
	require.Equal(t, "Making records of 2 pieces", f.Title)
	var feet []string
	for _, p := range f.Pages {
		feet = append(feet, p.Texts[len(p.Texts)-1].Text)
	}
	require.Equal(t, []string{"spoon 1, page 1 of 2", "spoon 1, page 2 of 2", "bowl 1, page 1 of 2", "bowl 1, page 2 of 2"}, feet)
	_, err := sheet.PDFPages(nil)
	require.Error(t, err)
}

func TestSameSheetSameBytes(t *testing.T) {
	for name, s := range cases() {
		one, err := s.PDF()
		require.NoError(t, err)
		other, err := s.PDF()
		require.NoError(t, err)
		require.Equal(t, string(one), string(other), name)
	}
	out, err := piece(rod()).by(kw, schedule.Note{Text: "later"}).sheet().PDF()
	require.NoError(t, err)
	require.Contains(t, string(out), "/CreationDate (D:20260303183100)", "the note of 19:31 at the quay is the latest entry")
}
