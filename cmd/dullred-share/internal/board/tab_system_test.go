//go:build system && linux

package board_test

import (
	"context"
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
	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/board"
)

// tab is the page as a browser shows it, with what it asked for and what was wrong with
// it.
type tab struct {
	t   *testing.T
	ctx context.Context

	mu          sync.Mutex
	asked, said []string
}

// openTab starts a headless Chromium with one tab of 1280 by 800, as a person starts it:
// one that is told to be driven by a machine leaves an error of its own where it is.
func openTab(t *testing.T) *tab {
	t.Helper()
	path, err := exec.LookPath("chromium")
	require.NoError(t, err, "install the Debian package chromium")
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.Flag("enable-automation", false))
	if os.Getuid() == 0 {
		options = append(options, chromedp.NoSandbox)
	}
	allocated, end := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(end)
	ctx, _ := chromedp.NewContext(allocated)
	require.NoError(t, chromedp.Do(ctx))
	t.Cleanup(func() { require.NoError(t, chromedp.Cancel(ctx)) })
	limited, late := context.WithTimeout(ctx, 5*time.Minute)
	t.Cleanup(late)
	tab := &tab{t: t, ctx: limited}
	tab.is(1280, 800)
	tab.do(chromedp.Navigate("about:blank"))
	require.NoError(t, chromedp.Listen(limited, tab.hear))
	return tab
}

// is makes it a screen of a size, of 96 pixels an inch.
func (s *tab) is(width, height int64) {
	s.t.Helper()
	_, err := chromedp.Call(s.ctx, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: width, Height: height, DeviceScaleFactor: 1})
	require.NoError(s.t, err)
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
	for late := time.Now().Add(60 * time.Second); time.Now().Before(late); time.Sleep(20 * time.Millisecond) {
		if text = eval[string](s, `(document.querySelector("`+part+`") || {textContent: ""}).textContent`); strings.Contains(text, words) {
			return
		}
	}
	require.Contains(s.t, text, words)
}

// pageOf serves a feed at an address, which may be that of a page that has ended.
func pageOf(t *testing.T, f *board.Feed, at string) (address string, end func()) {
	t.Helper()
	var l *board.Door
	require.Eventually(t, func() (free bool) {
		var err error
		l, err = board.Listen(board.Place{Address: at})
		return err == nil
	}, 10*time.Second, 20*time.Millisecond)
	ctx, cancel := context.WithCancel(context.Background())
	over := make(chan error, 1)
	go func() { over <- board.Serve(ctx, f, l) }()
	return l.Addr().String(), sync.OnceFunc(func() { cancel(); require.NoError(t, <-over) })
}
