//go:build system && linux

package board_test

import (
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/cmd/dullred-share/internal/pgtest"
	"dullred/schedule"
)

// The page in a browser: what changes comes by itself, also after the program behind it
// and the server were started anew, and nothing is asked for elsewhere.
func TestSystemBrowser(t *testing.T) {
	s := newSchool(t, pgtest.Start(t))
	bench := s.bench(t, "bench 3")
	send(t, bench, batch("bench 3", "spoon", rod(), to(7)))
	f := s.feed(t)
	until(t, f, shows(1))
	address, end := pageOf(t, f, "127.0.0.1:0")
	defer func() { end() }()
	tab := openTab(t)
	tab.do(chromedp.Navigate("http://" + address + "/"))
	tab.sees("#every", "carry on")
	tab.sees("#tally", "NOTHING PRESSES")
	eval[int](tab, "window.stayed = 1")

	send(t, bench, batch("bench 3", "spoon", to(5)))
	tab.sees("#press", "ANNEAL bench 3")
	tab.sees("#news", "bench 3: spoon: anneal now")
	_, said := tab.heard()
	require.Empty(t, said, "nothing was wrong before a link was lost")

	end()
	tab.sees("#lost", "OLD since")
	tab.sees("#news", "does not answer")
	send(t, bench, batch("bench 3", "bowl", rod()))
	_, end = pageOf(t, f, address)
	tab.sees("#every", "bowl")
	tab.sees("#news", "The board is there again.")
	require.Empty(t, eval[string](tab, `document.getElementById("lost").textContent`))

	s.Kill()
	tab.sees("#link", "OLD since 18:31")
	s.Restart(t)
	tab.sees("#news", "The board is with the shared record again.")
	require.Empty(t, eval[string](tab, `document.getElementById("link").textContent`))

	s.Kill()
	end()
	tab.sees("#lost", "OLD since")
	s.Restart(t)
	_, end = pageOf(t, f, address)
	tab.sees("#news", "The board is there again.")
	until(t, f, shows(2))
	require.Eventually(t, func() bool {
		return eval[bool](tab, `document.getElementById("lost").textContent + document.getElementById("link").textContent === ""`)
	}, time.Minute, 50*time.Millisecond, "both were away at once")
	require.Equal(t, 1, eval[int](tab, "window.stayed"), "it was never loaded anew")
	asked, _ := tab.heard()
	require.NotEmpty(t, asked)
	for _, url := range asked {
		require.Contains(t, []string{"http://" + address + "/", "http://" + address + "/events", "data:,"}, url)
	}
}

// A program that is frozen, as one behind a link without signal is, closes nothing: the
// page finds out by itself that it hears no more.
func TestSystemBrowserSilence(t *testing.T) {
	s := newShop(t)
	s.send("bench 3", "spoon", rod())
	var frozen sync.RWMutex
	f := s.feedBy(func() time.Time {
		frozen.RLock()
		defer frozen.RUnlock()
		return now()
	})
	until(t, f, shows(1))
	address, end := pageOf(t, f, "127.0.0.1:0")
	defer end()
	tab := openTab(t)
	tab.do(chromedp.Navigate("http://" + address + "/"))
	tab.sees("#every", "spoon")
	tab.sees("#clock", "18:31")
	time.Sleep(16 * time.Second)
	require.Empty(t, eval[string](tab, `document.getElementById("lost").textContent`), "where nothing happens it is not old")
	frozen.Lock()
	begun := time.Now()
	tab.sees("#lost", "OLD since")
	t.Logf("that it was frozen was told after %v", time.Since(begun))
	frozen.Unlock()
	s.send("bench 3", "bowl", rod())
	tab.sees("#every", "bowl")
	tab.sees("#news", "The board is there again.")
}

// What is read aloud is what is new and cannot wait; what did not change stays as it is.
func TestSystemBrowserAloud(t *testing.T) {
	s := newShop(t)
	s.send("bench 1", "spoon", rod(), to(7))
	s.send("bench 2", "bowl", rod(), to(7))
	f := s.feed()
	until(t, f, shows(2))
	address, end := pageOf(t, f, "127.0.0.1:0")
	defer end()
	tab := openTab(t)
	tab.do(chromedp.Navigate("http://" + address + "/"))
	tab.sees("#every", "bowl")
	require.Equal(t, "status polite", eval[string](tab, `document.getElementById("news").role + " " + (document.getElementById("news").ariaLive || "polite")`))
	require.Equal(t, "alert", eval[string](tab, `document.getElementById("danger").role`))
	row := `document.getElementById("r-` + id("bowl") + `")`
	eval[int](tab, row+`.marked = 1; window.aloud = []; for (const id of ["news", "danger"]) {
		new MutationObserver(() => { const text = document.getElementById(id).textContent; if (text) { aloud.push(id + ": " + text); } }).observe(document.getElementById(id), {childList: true}); }; 1`)
	for _, side := range []unit.Millimetre{6.9, 6.8, 6.7} {
		s.send("bench 1", "spoon", to(side))
	}
	s.send("bench 1", "spoon", schedule.Begun{}, schedule.Reached{}, schedule.Out{})
	tab.sees("#press", "not glowing")
	s.send("bench 1", "spoon", schedule.Quenched{})
	tab.sees("#tally", "NOTHING PRESSES")
	require.Empty(t, eval[[]string](tab, "window.aloud"), "courses and heats are no news for a class")
	require.Equal(t, 1, eval[int](tab, row+`.marked`), "the other row is the same element")

	s.send("bench 2", "bowl", to(5))
	tab.sees("#news", "bench 2: bowl: anneal now, 136 % of the limit.")
	s.send("bench 2", "bowl", schedule.Begun{}, schedule.Raised{Cause: "left", What: "hot piece left"})
	tab.sees("#danger", "bench 2: DANGER: HOT PIECE LEFT - bowl")
	require.Len(t, eval[[]string](tab, "window.aloud"), 2, "each once")
}

// Without script the page loads itself anew, and comes back from an error of the browser
// by what the browser does itself.
func TestSystemBrowserWithoutScript(t *testing.T) {
	s := newShop(t)
	s.send("bench 3", "spoon", rod())
	f := s.feed()
	until(t, f, shows(1))
	address, end := pageOf(t, f, "127.0.0.1:0")
	defer func() { end() }()
	tab := openTab(t)
	_, err := chromedp.Call(tab.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	require.NoError(t, err)
	tab.do(chromedp.Navigate("http://" + address + "/"))
	tab.sees("#every", "spoon")
	tab.sees("main noscript", "Should it show an error of the browser instead, load it again.")
	s.send("bench 3", "bowl", rod())
	tab.sees("#every", "bowl")

	end()
	require.Eventually(t, func() bool { return !eval[bool](tab, `!!document.getElementById("every")`) }, time.Minute, 50*time.Millisecond, "it shows an error of the browser")
	s.send("bench 3", "cup", rod())
	_, end = pageOf(t, f, address)
	tab.sees("#every", "cup")
	asked, _ := tab.heard()
	for _, url := range asked {
		require.False(t, strings.HasSuffix(url, "/events"), "nothing runs")
	}
}
