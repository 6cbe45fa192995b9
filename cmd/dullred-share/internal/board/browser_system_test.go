//go:build system

package board_test

import (
	"context"
	"net"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/board"
	"dullred/cmd/dullred-share/internal/pgtest"
	"dullred/schedule"
)

// tab is the page as a tablet of 1024 by 768 shows it, with what it asked for and what
// was wrong with it.
type tab struct {
	t   *testing.T
	ctx context.Context

	mu          sync.Mutex
	asked, said []string
}

// openTab starts a headless Chromium with one tab.
func openTab(t *testing.T) *tab {
	t.Helper()
	path, err := exec.LookPath("chromium")
	require.NoError(t, err, "install the Debian package chromium")
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path))
	if os.Getuid() == 0 {
		options = append(options, chromedp.NoSandbox)
	}
	allocated, end := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(end)
	ctx, _ := chromedp.NewContext(allocated)
	require.NoError(t, chromedp.Do(ctx))
	t.Cleanup(func() { require.NoError(t, chromedp.Cancel(ctx)) })
	limited, late := context.WithTimeout(ctx, 2*time.Minute)
	t.Cleanup(late)
	tab := &tab{t: t, ctx: limited}
	_, err = chromedp.Call(limited, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: 1024, Height: 768, DeviceScaleFactor: 1})
	require.NoError(t, err)
	tab.do(chromedp.Navigate("about:blank"))
	require.NoError(t, chromedp.Listen(limited, tab.hear))
	return tab
}

// hear keeps what the browser says of the page.
func (s *tab) hear(event any) {
	s.mu.Lock()
	defer s.mu.Unlock()
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		s.asked = append(s.asked, e.Request.URL)
	case *runtime.EventConsoleAPICalled:
		s.said = append(s.said, "console: "+string(e.Type))
	case *runtime.EventExceptionThrown:
		s.said = append(s.said, "exception: "+e.ExceptionDetails.Text)
	case *log.EventEntryAdded:
		s.said = append(s.said, "log: "+string(e.Entry.Level)+" "+e.Entry.Text)
	}
}

// heard is what it has asked for and said so far.
func (s *tab) heard() (asked, said []string) {
	_ = eval[int](s, "1") // what came before is heard
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]string{}, s.asked...), append([]string{}, s.said...)
}

func (s *tab) do(actions ...chromedp.Action[chromedp.Void]) {
	s.t.Helper()
	require.NoError(s.t, chromedp.Do(s.ctx, actions...))
}

// eval is what an expression in the page comes to, a promise awaited.
func eval[T any](s *tab, expression string) T {
	s.t.Helper()
	v, err := chromedp.Run(s.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	require.NoError(s.t, err)
	return v
}

// sees waits for words in a part of the page.
func (s *tab) sees(part, words string) {
	s.t.Helper()
	text := ""
	for late := time.Now().Add(20 * time.Second); time.Now().Before(late); time.Sleep(10 * time.Millisecond) {
		if text = eval[string](s, `document.querySelector("`+part+`").textContent`); strings.Contains(text, words) {
			return
		}
	}
	require.Contains(s.t, text, words)
}

// page serves a feed at an address, which may be that of a page that has ended.
func page(t *testing.T, f *board.Feed, at string) (address string, end func()) {
	t.Helper()
	var l net.Listener
	require.Eventually(t, func() (free bool) {
		var err error
		l, err = board.Listen(at)
		return err == nil
	}, 10*time.Second, 20*time.Millisecond)
	ctx, cancel := context.WithCancel(context.Background())
	over := make(chan error, 1)
	go func() { over <- board.Serve(ctx, f, l) }()
	return l.Addr().String(), sync.OnceFunc(func() { cancel(); require.NoError(t, <-over) })
}

// The page in a browser: what changes comes by itself, also after the program behind it
// and the server were started anew, and nothing is asked for elsewhere.
func TestSystemBrowser(t *testing.T) {
	s := newSchool(t, pgtest.Start(t))
	bench := s.bench(t, "bench 3")
	send(t, bench, batch("bench 3", "spoon", rod(), to(7)))
	f := s.feed(t)
	until(t, f, shows(1))
	address, end := page(t, f, "127.0.0.1:0")
	defer func() { end() }()
	tab := openTab(t)
	tab.do(chromedp.Navigate("http://" + address + "/"))
	tab.sees("#board", "carry on")
	eval[int](tab, "window.stayed = 1")

	send(t, bench, batch("bench 3", "spoon", to(5)))
	tab.sees("#board", "anneal now")
	tab.sees("#news", "bench 3: spoon: anneal now")
	_, said := tab.heard()
	require.Empty(t, said, "nothing was wrong before a link was lost")

	end()
	tab.sees("#news", "does not answer since")
	send(t, bench, batch("bench 3", "bowl", rod()))
	_, end = page(t, f, address)
	tab.sees("#board", "bowl")
	tab.sees("#news", "The board is there again.")

	s.Kill()
	tab.sees("#board", "alone since 18:31: ")
	s.Restart(t)
	tab.sees("#news", "The board is with the shared record again.")
	require.Equal(t, 1, eval[int](tab, "window.stayed"), "it was never loaded anew")
	asked, _ := tab.heard()
	require.NotEmpty(t, asked)
	for _, url := range asked {
		require.Contains(t, []string{"http://" + address + "/", "http://" + address + "/events", "data:,"}, url)
	}
}

// many is a feed of some pieces in all states.
func many(t *testing.T) *board.Feed {
	s := newShop(t)
	for _, name := range strings.Fields("ring bowl spoon cup bar ladle arm-ring brooch") {
		s.send("bench of "+name, name, rod(), to(7))
	}
	s.send("bench of bowl", "bowl", to(5))
	s.send("bench of ring", "ring", schedule.Begun{})
	f := s.feed()
	until(t, f, shows(8))
	return f
}

// What stands on the page is read at two metres, and its rules of accessibility kept.
func TestSystemBrowserReadable(t *testing.T) {
	address, end := page(t, many(t), "127.0.0.1:0")
	defer end()
	tab := openTab(t)
	tab.do(chromedp.Navigate("http://" + address + "/"))
	tab.sees("#board", "HOT")
	size := func(part string) float64 {
		return eval[float64](tab, `parseFloat(getComputedStyle(document.querySelector("`+part+`")).fontSize)`)
	}
	for _, part := range []string{"h1", "caption", "thead th", "tbody th", "tbody td:nth-child(4)", "#news", ".alert"} {
		require.GreaterOrEqual(t, size(part), 28.0, part)
	}
	for _, part := range []string{"td.share", "td.state"} {
		require.GreaterOrEqual(t, size(part), 1.6*28, part)
	}
	require.LessOrEqual(t, eval[int](tab, "document.documentElement.scrollWidth"), 1024, "nothing is beyond the edge")
	require.Less(t, eval[int](tab, "innerHeight"), eval[int](tab, "document.documentElement.scrollHeight"), "there is more than one screen")
	tab.do(chromedp.KeyEvent(kb.End))
	require.Eventually(t, func() bool { return eval[float64](tab, "scrollY") > 0 }, 10*time.Second, 20*time.Millisecond, "keys move it")

	t.Run("rules", func(t *testing.T) {
		file := os.Getenv("DULLRED_AXE")
		if file == "" {
			t.Skip("DULLRED_AXE names no axe.min.js of the npm package axe-core")
		}
		axe, err := os.ReadFile(file)
		require.NoError(t, err)
		require.Equal(t, "function", eval[string](tab, string(axe)+"; typeof axe.run"))
		type result struct {
			Passed int
			Broken []string
		}
		r := eval[result](tab, `axe.run(document, {runOnly: {type: 'rule', values: axe.getRules().map(r => r.ruleId)}}).then(r => ({
			Passed: r.passes.length,
			Broken: r.violations.concat(r.incomplete).map(v => v.id + ' ' + v.nodes[0].html.slice(0, 200))}))`)
		require.Greater(t, r.Passed, 10, "rules that had something to look at")
		require.Empty(t, r.Broken)
	})
}

// Without script the page loads itself anew.
func TestSystemBrowserWithoutScript(t *testing.T) {
	s := newShop(t)
	s.send("bench 3", "spoon", rod())
	f := s.feed()
	until(t, f, shows(1))
	address, end := page(t, f, "127.0.0.1:0")
	defer end()
	tab := openTab(t)
	_, err := chromedp.Call(tab.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	require.NoError(t, err)
	tab.do(chromedp.Navigate("http://" + address + "/"))
	require.Eventually(t, func() bool {
		tab.mu.Lock()
		defer tab.mu.Unlock()
		n := 0
		for _, url := range tab.asked {
			if url == "http://"+address+"/" {
				n++
			}
		}
		return n >= 2
	}, 20*time.Second, 50*time.Millisecond)
	asked, _ := tab.heard()
	require.NotContains(t, asked, "http://"+address+"/events")
}
