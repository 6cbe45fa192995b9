package sheet_test

import (
	"html/template"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/sheet"
)

var summaryLine = regexp.MustCompile(`<p class="summary">(.*)</p>`)

// summary is what stands at the top of a page, as text.
func summary(t *testing.T, s sheet.Sheet) string {
	t.Helper()
	page, err := s.HTML()
	require.NoError(t, err)
	found := summaryLine.FindStringSubmatch(string(page))
	require.NotNil(t, found)
	return tags.ReplaceAllString(found[1], "")
}

func TestSummary(t *testing.T) {
	heat := []schedule.Body{schedule.Begun{}, schedule.Quenched{}}
	proved := append(heat[:2:2], schedule.Soft{})
	cracks := func(n int) (all []schedule.Body) {
		for range n {
			all = append(all, schedule.CrackSeen{}, schedule.CrackFiled{})
		}
		return all
	}
	cases := []struct {
		name, reason string
		then         []schedule.Body
		want         []string
	}{
		{"begun", "what was not done is said so", nil, []string{"Made of sterling silver, wrought at the start, begun on 2026-03-03.", "0 courses of cold work and no heat.", "No crack was seen."}},
		{"a course", "one is not many", []schedule.Body{to(7)}, []string{"1 course of cold work and no heat.", " % of the limit between two anneals was spent."}},
		{"a heat that nobody proved", "it was no anneal", heat, []string{"1 heat; no bend check proved it soft."}},
		{"a heat that was proved", "it was one", proved, []string{"1 heat, proved soft by a bend check."}},
		{"two that were", "both are told", append(proved[:3:3], proved...), []string{"2 heats, each proved soft by a bend check."}},
		{"one of two", "how many is told", append(heat[:2:2], proved...), []string{"2 heats, 1 of them proved soft by a bend check."}},
		{"a crack", "it stands as it is", []schedule.Body{schedule.CrackSeen{}}, []string{"It cracked on 2026-03-03 (still open)."}},
		{"a crack that was hammered on", "all that was done is told", []schedule.Body{schedule.CrackSeen{}, schedule.CrackIgnored{}, schedule.CrackFiled{}}, []string{"(overridden, then filed out)."}},
		{"five cracks", "the summary stays short", cracks(5), []string{"It cracked on 2026-03-03 (filed out), and again on", "; 2 cracks more below."}},
		{"weighed once", "nothing is known to be lost", []schedule.Body{schedule.Weighed{Mass: 77}}, []string{"Metal: 77 g in, not weighed since."}},
		{"weighed twice", "what is lost is told", []schedule.Body{schedule.Weighed{Mass: 80}, schedule.Weighed{Mass: 76}}, []string{"4 g lost (5 % of what went in)."}},
		{"finished", "the same day", []schedule.Body{schedule.Finished{}}, []string{"begun and finished on 2026-03-03."}},
		{"not followed", "what cannot be read is told at once", []schedule.Body{schedule.Unknown{Why: "a kind to come"}}, []string{"Part of the record cannot be read"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			got := summary(t, piece(rod()).by(kw, c.then...).sheet())
			for _, want := range c.want {
				require.Contains(t, got, want, c.reason)
			}
		})
	}
	require.Contains(t, summary(t, sheet.Build(sheet.Source{})), "Its beginning was not logged. It took 0 courses")
}

func TestSummaryTellsZonesAndDays(t *testing.T) {
	s := piece(rod("bowl", "handle")).on(kw, []string{"handle"}, to(6)).by(kw, schedule.CrackSeen{}).on(kw, []string{"bowl"}, schedule.CrackFiled{})
	s.by(kw, schedule.Finished{})
	s.entries[len(s.entries)-1].At = evening.Add(48 * time.Hour)
	got := summary(t, s.sheet())
	require.Contains(t, got, "was spent in handle.")
	require.Contains(t, got, "It cracked in bowl and handle on 2026-03-03 (filed out in bowl, still open).")
	require.Contains(t, got, "begun on 2026-03-03 and finished on 2026-03-05.")
}

// A step over two zones says its date, hand and courses once.
func TestStepsAreGrouped(t *testing.T) {
	page, err := piece(rod("bowl", "handle")).by(kw, to(7)).on(mb, []string{"bowl"}, to(6)).sheet().HTML()
	require.NoError(t, err)
	require.Equal(t, 2, strings.Count(string(page), `<th scope="rowgroup" class="date" rowspan="2">`), "the start and the first course")
	require.Equal(t, 5, strings.Count(string(page), `<th scope="row"><bdi>bowl`)+strings.Count(string(page), `<th scope="row"><bdi>handle`))
	require.NotContains(t, string(page), "Followed", "a column that holds nothing is left out")
}

func TestSheetsInOneDocument(t *testing.T) {
	a, b := piece(rod()).by(kw, to(7)).sheet(), piece(rod()).by(kw, to(6)).sheet()
	b.Name = "ladle"
	a.Pictures = []template.HTML{"<svg><title>1 drawn</title></svg>"}
	b.Pictures = a.Pictures
	out, err := sheet.Pages([]sheet.Sheet{a, b})
	require.NoError(t, err)
	for want, n := range map[string]int{"<article>": 2, "<h1>": 2, "<html": 1, "<figure><svg><title>1 drawn": 2, `id="s1-piece"`: 1, `id="s2-piece"`: 1,
		"<title>Making records of 2 pieces</title>": 1, `aria-label="Work, sheet 2"`: 1} {
		require.Equal(t, n, strings.Count(string(out), want), want)
	}
	out, err = sheet.Pages([]sheet.Sheet{a})
	require.NoError(t, err)
	alone, err := a.HTML()
	require.NoError(t, err)
	require.Equal(t, string(alone), string(out), "one sheet is its page")
	out, err = sheet.Pages(nil)
	require.NoError(t, err)
	require.NotContains(t, string(out), "<article>")
}

// Figures and dates are in the style of the smith for people, and in no file that a
// machine reads; what people typed stays.
func TestSheetInStyle(t *testing.T) {
	s := finished()
	s.by(kw, schedule.Note{Text: "kept 2.5 mm back"})
	plain := s.sheet()
	styled := plain
	styled.Style = unit.Style{Comma: true, Inches: true, Fahrenheit: true, Weight: unit.TroyOunces, Dates: unit.DayDots}.Keeping("kept 2.5 mm back")
	page, err := styled.HTML()
	require.NoError(t, err)
	for _, text := range []string{styled.Text(), string(page)} {
		for _, want := range []string{"03.03.2026", "0,272x0,272 in", "2,408 ozt", "1166 °F", "0,296", "42,9 %", "kept 2.5 mm back"} {
			require.Contains(t, text, want)
		}
		for _, never := range []string{"2026-03-03", "6.9x6.9", "74.9 g", "630 °C"} {
			require.NotContains(t, text, never)
		}
	}
	for _, write := range []func(sheet.Sheet) ([]byte, error){sheet.Sheet.CSV, sheet.Sheet.JSON} {
		want, err := write(plain)
		require.NoError(t, err)
		got, err := write(styled)
		require.NoError(t, err)
		require.Equal(t, string(want), string(got))
	}
}
