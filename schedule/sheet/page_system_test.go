//go:build system

package sheet_test

import (
	"bytes"
	"html/template"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/sheet"
)

// The page in a real browser, on its screen and on its paper.
//
// Outside check (reference): Chromium and axe-core: the page of a sheet, on screen and on
// paper.
func TestSystemPage(t *testing.T) {
	b := openBrowser(t)
	for _, c := range []struct {
		name, reason string
		run          func(*testing.T, *browser)
	}{
		{"quiet", "it asks for nothing and says nothing", quiet},
		{"quiet can fail", "each thing that the browser may notice is noticed", noticed},
		{"hostile", "what is typed is text and makes no element", hostileIsText},
		{"accessible", "it breaks no rule of axe-core", accessible},
		{"accessible can fail", "the rules see what is spoiled", inaccessible},
		{"narrow", "on a telephone and at 200 % the tables move, not the page", narrow},
		{"dark", "who prefers dark gets a page that can be read", dark},
		{"fits the paper", "nothing is cut off at the right", fitsPaper},
		{"printed", "a piece of the class is two pages at most", onTwoPages},
		{"heads", "each page of a long table has its heads", headsRepeat},
		{"many", "several sheets in one document, each from a new page on", many},
		{"picture", "a picture stands between the summary and the tables", pictured},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			c.run(t, b)
		})
	}
}

func html(t *testing.T, s sheet.Sheet) []byte {
	t.Helper()
	out, err := s.HTML()
	require.NoError(t, err)
	return out
}

// named is a piece whose every text is the same.
func named(text string) sheet.Sheet {
	start := rod(text, "other")
	start.Stock, start.Mark = text, text
	s := piece(start).by(kw, to(7)).on(kw, []string{text}, to(6), schedule.CrackSeen{})
	s.by(mb, schedule.Note{Text: text}, schedule.Jointed{Joint: text, Solder: text}, schedule.Photo{Ref: text}, schedule.Signalled{Sign: schedule.Sign(text)})
	s.by(mb, schedule.Shown{Zone: text, Verdict: schedule.VerdictAnnealNow}, schedule.Begun{}, schedule.Quenched{}, schedule.Soft{})
	return sheet.Build(sheet.Source{Name: text, Entries: s.entries, Hands: map[schedule.ID]string{kw: text, mb: text}, Place: quay})
}

// threats are texts that make trouble, and all of them in one.
func threats() []string {
	all := append([]string{"שלום עולם, \u202eمرحبا\u202c (x)"}, hostile...)
	return append(all, strings.Join(all, " "))
}

func requireQuiet(t *testing.T, s *tab) {
	t.Helper()
	asked, said := s.heard()
	require.Len(t, asked, 1, "the page itself")
	require.Empty(t, said)
}

func quiet(t *testing.T, b *browser) {
	for name, s := range cases() {
		t.Run(name, func(t *testing.T) { requireQuiet(t, b.show(t, html(t, s))) })
	}
}

// spoiled is a page in which one text stands for another.
func spoiled(t *testing.T, from, to string) []byte {
	t.Helper()
	page := string(html(t, cases()["eventful"]))
	require.Contains(t, page, from)
	return []byte(strings.ReplaceAll(page, from, to))
}

func noticed(t *testing.T, b *browser) {
	for added, want := range map[string]string{
		`<script>console.warn("x")</script>`:             "console: warning",
		`<script>console.error("x")</script>`:            "console: error",
		`<script>throw new Error("mine")</script>`:       "mine",
		`<script>alert("come here")</script>`:            "dialog: come here",
		`<img src="missing.png" alt="">`:                 "ERR_FILE_NOT_FOUND",
		`<link rel="stylesheet" href="other.css">`:       "ERR_FILE_NOT_FOUND",
		`<script src="data:text/javascript,1"></script>`: "",
	} {
		asked, said := b.show(t, spoiled(t, "</main>", added+"</main>")).heard()
		require.True(t, len(asked) > 1 || len(said) > 0, added)
		require.Contains(t, strings.Join(said, "\n"), want)
	}
}

func hostileIsText(t *testing.T, b *browser) {
	const elements = "document.querySelectorAll('*').length"
	harmless := map[bool]int{}
	for _, text := range []string{"", "harmless"} {
		harmless[text == ""] = eval[int](b.show(t, html(t, named(text))), elements)
	}
	for i, text := range threats() {
		t.Run(strconv.Itoa(i), func(t *testing.T) {
			s := named(text)
			tab := b.show(t, html(t, s))
			requireQuiet(t, tab)
			require.Equal(t, harmless[s.Name == ""], eval[int](tab, elements))
			cells := eval[[]string](tab, "[...document.querySelectorAll('bdi')].map(c => c.textContent)")
			for _, shown := range []string{s.Name, s.Charge, s.Notes[0].Text, s.Joints[0].Joint, s.Photos[0].Ref, s.Hands[0].Hand, s.Signs[0].Sign} {
				if shown != "" { // a column that holds nothing is left out
					require.Contains(t, cells, shown)
				}
			}
		})
	}
}

func accessible(t *testing.T, b *browser) {
	all := cases()
	all["hostile"], all["nothing"] = named(threats()[len(threats())-1]), sheet.Build(sheet.Source{Name: "nothing"})
	for name, s := range all {
		require.Empty(t, b.show(t, html(t, s)).breaches(), name)
	}
}

func inaccessible(t *testing.T, b *browser) {
	for _, c := range []struct{ from, to, rule string }{
		{"color: #000; background: #fff", "color: #bbb; background: #fff", "color-contrast "},
		{`<html lang="en">`, "<html>", "html-has-lang "},
		{`scope="col"`, `scope="nothing"`, "scope-attr-valid "},
		{"h1", "h4", "page-has-heading-one "},
		{"h2", "h5", "heading-order "},
		{"main>", "div>", "landmark-one-main "},
		{"</main>", `<img src="data:image/gif;base64,R0lGODlhAQABAAAAACw="></main>`, "image-alt "},
		{` tabindex="0"`, ``, "scrollable-region-focusable "},
		{`<title>`, `<title></title><title>`, "document-title "},
	} {
		s := b.show(t, spoiled(t, c.from, c.to))
		s.size(320)
		require.Contains(t, strings.Join(s.breaches(), "\n"), c.rule)
	}
}

// over is how far the page and what is in it reach beyond the right edge, in pixels;
// the inside of a container that scrolls does not count.
const over = `Math.max(document.documentElement.scrollWidth, ...[...document.querySelectorAll('body *')]
	.filter(e => !e.parentElement.closest('.scroll') || getComputedStyle(e.parentElement.closest('.scroll')).overflowX == 'visible')
	.map(e => e.getBoundingClientRect().right)) - document.documentElement.clientWidth`

func narrow(t *testing.T, b *browser) {
	const moves = "[...document.querySelectorAll('.scroll')].some(e => e.scrollWidth > e.clientWidth)"
	all := cases()
	all["hostile"] = named(threats()[len(threats())-1])
	for name, s := range all {
		tab := b.show(t, html(t, s))
		for _, width := range []int64{320, 640, 1280} { // 640 is 1280 at 200 %
			tab.size(width)
			require.LessOrEqual(t, eval[float64](tab, over), 0.0, "%s at %d", name, width)
			require.Equal(t, width == 320, eval[bool](tab, moves) && width < 640, name)
		}
	}
	wide := b.show(t, spoiled(t, "</main>", `<p style="width: 1000px">wide</p></main>`))
	wide.size(320)
	require.Greater(t, eval[float64](wide, over), 600.0, "a page that is too wide is seen")
}

func dark(t *testing.T, b *browser) {
	s := b.show(t, html(t, cases()["eventful"]))
	s.media("", "dark")
	require.True(t, eval[bool](s, "matchMedia('(prefers-color-scheme: dark)').matches"))
	require.Equal(t, "rgb(0, 0, 0) on rgb(255, 255, 255)", eval[string](s, "(c => c.color + ' on ' + c.backgroundColor)(getComputedStyle(document.body))"))
	require.Empty(t, s.breaches())
}

// pixels is the width between margins of 15 mm, of which CSS has 96 to the inch.
func (p paper) pixels() int64 { return int64((p.Width - 2*15/25.4) * 96) }

func fitsPaper(t *testing.T, b *browser) {
	all := cases()
	all["hostile"] = named(threats()[len(threats())-1])
	for name, s := range all {
		tab := b.show(t, html(t, s))
		tab.media("print", "light")
		for _, p := range papers {
			tab.size(p.pixels())
			require.LessOrEqual(t, eval[float64](tab, over), 0.0, "%s on %s", name, p.name)
		}
	}
	wide := b.show(t, spoiled(t, ".figure { ", ".figure { min-width: 60mm; "))
	wide.media("print", "light")
	wide.size(papers[0].pixels())
	require.Greater(t, eval[float64](wide, over), 0.0, "a table that is too wide is seen")
}

var (
	pagesLine = regexp.MustCompile(`(?m)^Pages:\s+(\d+)$`)
	wordEdge  = regexp.MustCompile(`<word xMin="([0-9.]+)" yMin="[0-9.]+" xMax="([0-9.]+)"`)
	workHeads = regexp.MustCompile(`Date\s+Hand\s+What`)
)

// poppler is what one of its programs says of a file.
func poppler(t *testing.T, program string, args ...string) string {
	t.Helper()
	out, err := exec.Command(program, args...).CombinedOutput()
	require.NoError(t, err, "the Debian package poppler-utils has %s: %s", program, out)
	return string(out)
}

func countPages(t *testing.T, file string) int {
	t.Helper()
	found := pagesLine.FindStringSubmatch(poppler(t, "pdfinfo", file))
	require.NotNil(t, found)
	n, err := strconv.Atoi(found[1])
	require.NoError(t, err)
	return n
}

// requireMargins wants every word between the margins of 15 mm, in points, of which the
// browser rounds away one or two.
func requireMargins(t *testing.T, file string, p paper) {
	t.Helper()
	words := wordEdge.FindAllStringSubmatch(poppler(t, "pdftotext", "-bbox", file, "-"), -1)
	require.Greater(t, len(words), 100)
	for _, w := range words {
		left, err := strconv.ParseFloat(w[1], 64)
		require.NoError(t, err)
		right, err := strconv.ParseFloat(w[2], 64)
		require.NoError(t, err)
		require.GreaterOrEqual(t, left, 15/25.4*72-2)
		require.LessOrEqual(t, right, (p.Width-15/25.4)*72+2)
	}
}

func onTwoPages(t *testing.T, b *browser) {
	for name, s := range cases() {
		tab := b.show(t, html(t, s))
		for _, p := range papers {
			file := tab.print(p)
			requireMargins(t, file, p)
			if name != "eventful" { // to which more happened than to any piece of the class
				require.LessOrEqual(t, countPages(t, file), 2, "%s on %s", name, p.name)
			}
		}
	}
}

func headsRepeat(t *testing.T, b *browser) {
	page := html(t, hundred().sheet())
	for css, want := range map[string]bool{"thead { display: table-header-group; }": true, "thead { display: table-row-group; }": false} {
		spoiled := bytes.ReplaceAll(page, []byte("thead { display: table-header-group; }"), []byte(css))
		for _, p := range papers {
			file := b.show(t, spoiled).print(p)
			with, without := 0, 0
			for n := range countPages(t, file) {
				text := poppler(t, "pdftotext", "-layout", "-f", strconv.Itoa(n+1), "-l", strconv.Itoa(n+1), file, "-")
				switch {
				case !strings.Contains(text, "lengthen"):
				case workHeads.MatchString(text):
					with++
				default:
					without++
				}
			}
			require.Greater(t, with+without, 1, "the work goes over several pages of %s", p.name)
			require.Equal(t, want, without == 0, "on %s", p.name)
		}
	}
}

func many(t *testing.T, b *browser) {
	var all []sheet.Sheet
	alone := 0
	for _, name := range []string{"spoon 1", "eventful", "finished"} { // the last two are of one name
		s := cases()[name]
		all = append(all, s)
		alone += countPages(t, b.show(t, html(t, s)).print(papers[0]))
	}
	out, err := sheet.Pages(all)
	require.NoError(t, err)
	tab := b.show(t, out)
	requireQuiet(t, tab)
	require.Equal(t, len(all), eval[int](tab, "document.querySelectorAll('h1').length"))
	require.True(t, eval[bool](tab, "(ids => new Set(ids).size == ids.length)([...document.querySelectorAll('[id]')].map(e => e.id))"))
	require.Equal(t, alone, countPages(t, tab.print(papers[0])))
	require.Empty(t, tab.breaches())
}

func pictured(t *testing.T, b *browser) {
	const drawing = `<svg role="img" aria-labelledby="drawn" viewBox="0 0 100 20"><title id="drawn">A bar</title><path d="M0 10h100" stroke="#000"/></svg>`
	drawn := cases()["eventful"]
	drawn.Pictures = []template.HTML{drawing}
	out, err := drawn.HTML()
	require.NoError(t, err)
	s := b.show(t, out)
	requireQuiet(t, s)
	require.Equal(t, []string{"H1", "P", "FIGURE", "SECTION"}, eval[[]string](s, "[...document.querySelector('article').children].slice(0, 4).map(e => e.tagName)"))
	require.Empty(t, s.breaches())
}
