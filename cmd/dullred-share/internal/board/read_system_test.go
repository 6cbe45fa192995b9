//go:build system && linux

package board_test

import (
	"fmt"
	"math"
	"os"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/board"
	"dullred/schedule/alert"
)

// letters are how tall the capitals of a text of an angle are at 2 m, in pixels of 96 to
// the inch. 20 to 22 minutes of arc assure that it is read, and 16 are the least (NUREG-0700
// rev. 3 and the handbook chapter 10.1201/b22361-52).
func letters(minutes float64) float64 {
	return 2 * 2000 * math.Tan(minutes/60/180*math.Pi/2) / 25.4 * 96
}

// measures gives the smallest capitals of the texts of a kind, by the font that they are in.
const measures = `window.capitals = kind => Math.min(...[...document.querySelectorAll(kind)].map(e => {
	const style = getComputedStyle(e), pen = document.createElement("canvas").getContext("2d");
	pen.font = style.fontWeight + " " + style.fontSize + " " + style.fontFamily;
	return pen.measureText("H").actualBoundingBoxAscent;
})); window.cut = () => [...document.querySelectorAll("#tally span, .tile, .tile div")].filter(e => {
	const r = e.getBoundingClientRect();
	return r.top < -0.5 || r.left < -0.5 || r.right > innerWidth + 0.5 || r.bottom > innerHeight + 0.5 || (e.tagName === "DIV" && e.scrollWidth > e.clientWidth) || r.height < 8;
}).map(e => e.textContent); 1`

// shownTo is a browser that shows pictures as they are given.
func shownTo(t *testing.T) (tab *tab, show func(*board.Picture)) {
	f := board.NewFeed(nil, now)
	address, end := pageOf(t, f, "127.0.0.1:0")
	t.Cleanup(end)
	tab = openTab(t)
	tab.do(chromedp.Navigate("http://" + address + "/"))
	tab.sees("#tally", "NOT READ YET")
	eval[int](tab, measures)
	return tab, func(p *board.Picture) {
		board.Show(f, p)
		want := fmt.Sprintf(`document.querySelectorAll(".tile").length === %d && document.querySelectorAll("#every tbody").length === %d`, pressing(p), len(p.Rows))
		require.Eventually(t, func() bool { return eval[bool](tab, want) }, time.Minute, 10*time.Millisecond)
	}
}

func pressing(p *board.Picture) (n int) {
	for _, r := range p.Rows {
		if r.Rank() < 4 {
			n++
		}
	}
	return n
}

// What says stop, hot or unseen is on the first screen, however many of 30 benches say it,
// and none of it is cut off. So many as commonly press at once are read at two metres.
//
// Outside check (standard): height of letters at two metres, NUREG-0700.
func TestSystemBrowserAtTwoMetres(t *testing.T) {
	tab, show := shownTo(t)
	screens := []struct {
		width, height int64
		most          int // that are read at 2 m
	}{{1280, 800, 10}, {1920, 1080, 21}, {768, 1024, 5}}
	for _, s := range screens {
		tab.is(s.width, s.height)
		for _, press := range []int{0, 1, 4, 5, 10, 11, 21, 22, 30} {
			show(crowdOf(press))
			at := fmt.Sprintf("%d of 30 press, %d by %d", press, s.width, s.height)
			require.Empty(t, eval[[]string](tab, "cut()"), at)
			require.LessOrEqual(t, eval[int64](tab, "document.documentElement.scrollWidth"), s.width, at)
			require.GreaterOrEqual(t, eval[float64](tab, `capitals("#tally span")`), letters(20), at)
			for kind, least := range map[string]float64{"td, tbody th, thead th, caption": 18, "#clock": 18} {
				require.GreaterOrEqual(t, eval[float64](tab, `capitals("`+kind+`")`), least, "%s: %s, as large as print at arm's length", at, kind)
			}
			if press == 0 {
				continue
			}
			one, two := eval[float64](tab, `capitals(".one")`), eval[float64](tab, `capitals(".two")`)
			t.Logf("%s: capitals of %.1f px for word and bench, %.1f px for the piece", at, one, two)
			if press <= s.most {
				require.GreaterOrEqual(t, one, letters(20), at)
				require.GreaterOrEqual(t, two, letters(16), at)
			}
		}
		for _, press := range []int{1, 4, 10, 21} {
			show(dangerous(press))
			require.Empty(t, eval[[]string](tab, "cut()"), "%d of danger, %d by %d", press, s.width, s.height)
		}
		show(crowdOf(3))
		board := crowdOf(3)
		board.Alone, board.Why = evening, "the server does not answer"
		show(board)
		tab.sees("#link b", "OLD since 18:30")
		require.GreaterOrEqual(t, eval[float64](tab, `capitals("#link b")`), letters(20))
		require.Empty(t, eval[[]string](tab, "cut()"), "old, and all of it there")
	}
	tab.is(1024, 768)
	show(dangerous(10))
	require.Empty(t, eval[[]string](tab, "cut()"), "on a small tablet")
}

// dangerous are benches with names of several lengths, all of which are in danger.
func dangerous(press int) *board.Picture {
	p := crowdOf(press)
	for i := range press {
		r := &p.Rows[i]
		r.Bench = []string{"c9", "bench2", "Hearth 3", "bench 10", "BENCH 4", "by the window"}[i%6]
		r.Alerts = []alert.Standing{{Alert: alert.Alert{Cause: []alert.Cause{alert.TorchLeft, alert.HotLeft}[i%2]}}}
		if i%3 == 0 {
			r.Piece, r.Hot = "", time.Time{}
		}
	}
	return p
}

// contrasts gives the least contrast between a text and what is behind it, by WCAG 2.
const contrasts = `(() => {
	const parts = c => c.match(/[\d.]+/g).map(Number);
	const light = c => { const [r, g, b] = parts(c).map(v => v / 255).map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
	const behind = e => { for (; e; e = e.parentElement) { const c = getComputedStyle(e).backgroundColor; if ((parts(c)[3] ?? 1) > 0) { return c; } } return "rgb(255, 255, 255)"; };
	return Math.min(...[...document.body.querySelectorAll("*")].filter(e => [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim()) && e.tagName !== "SCRIPT").map(e => {
		const [x, y] = [light(getComputedStyle(e).color), light(behind(e))].sort((a, b) => b - a);
		return (x + 0.05) / (y + 0.05);
	}));
})()`

// Every text is set off from its ground more than twice as much as WCAG 2 AA asks for large
// letters: 7 to 1 is AAA of ordinary ones. The rules of axe-core hold, and keys move the page.
//
// Outside check (reference): Chromium and axe-core: the board; contrasts of WCAG 2.
func TestSystemBrowserRules(t *testing.T) {
	file := os.Getenv("DULLRED_AXE")
	require.NotEmpty(t, file, "DULLRED_AXE is to name axe.min.js of the npm package axe-core")
	axe, err := os.ReadFile(file)
	require.NoError(t, err)
	tab, show := shownTo(t)
	full := crowdOf(12)
	full.Alone, full.Why = evening, "the server does not answer"
	type result struct {
		Passed int
		Broken []string
	}
	for name, p := range map[string]*board.Picture{"nothing presses": crowdOf(0), "some press": crowdOf(5), "old": full} {
		show(p)
		require.GreaterOrEqual(t, eval[float64](tab, contrasts), 7.0, name)
		require.Equal(t, "function", eval[string](tab, string(axe)+"; typeof axe.run"))
		r := eval[result](tab, `axe.run(document, {runOnly: {type: 'rule', values: axe.getRules().map(r => r.ruleId)}}).then(r => ({
			Passed: r.passes.length,
			Broken: r.violations.concat(r.incomplete).map(v => v.id + ' ' + v.nodes[0].html.slice(0, 200) + ' ' + (v.nodes[0].failureSummary || '').slice(0, 300))}))`)
		require.Greater(t, r.Passed, 10, "rules that had something to look at")
		require.Empty(t, r.Broken, name)
	}
	require.Equal(t, []string{"HEADER", "MAIN"}, eval[[]string](tab, `[...document.body.children].map(e => e.tagName).filter(n => n !== "SCRIPT")`), "landmarks")
	require.Equal(t, []string{"H1 The benches, nearest to splitting first", "H2 What presses", "H2 Every piece"}, eval[[]string](tab, `[...document.querySelectorAll("h1, h2")].map(e => e.tagName + " " + e.textContent)`))
	tab.do(chromedp.KeyEvent(kb.End))
	require.Eventually(t, func() bool { return eval[float64](tab, "scrollY") > 0 }, 10*time.Second, 20*time.Millisecond, "keys move it")
	require.InDelta(t, 0, eval[float64](tab, `document.querySelector(".top").getBoundingClientRect().top`), 0.5, "and the count of what presses stays")
}
