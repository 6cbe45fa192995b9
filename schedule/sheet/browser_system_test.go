//go:build system

package sheet_test

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// browser is one headless Chromium for all pages, with axe-core, a set of rules of
// accessibility.
type browser struct {
	ctx  context.Context
	axe  string
	last context.CancelFunc // of what was shown last
}

func openBrowser(t *testing.T) *browser {
	t.Helper()
	path, err := exec.LookPath("chromium")
	require.NoError(t, err, "install the Debian package chromium")
	axe, err := os.ReadFile(os.Getenv("DULLRED_AXE"))
	require.NoError(t, err, "DULLRED_AXE is to name axe.min.js of the npm package axe-core, as .ci/run has it")
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path))
	if os.Getuid() == 0 {
		options = append(options, chromedp.NoSandbox)
	}
	allocated, end := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(end)
	ctx, _ := chromedp.NewContext(allocated)
	require.NoError(t, chromedp.Do(ctx))
	t.Cleanup(func() { require.NoError(t, chromedp.Cancel(ctx)) })
	return &browser{ctx, string(axe), func() {}}
}

// tab is a page that is shown, with what it asked for and what was wrong with it.
type tab struct {
	t   *testing.T
	ctx context.Context
	axe string

	mu          sync.Mutex
	asked, said []string
}

// show opens a page from a file, in place of the one before.
func (b *browser) show(t *testing.T, html []byte) *tab {
	t.Helper()
	file := filepath.Join(t.TempDir(), "sheet.html")
	require.NoError(t, os.WriteFile(file, html, 0o600))
	b.last()
	ctx, late := context.WithTimeout(b.ctx, time.Minute)
	b.last = late
	t.Cleanup(late)
	s := &tab{t: t, ctx: ctx, axe: b.axe}
	s.size(1280)
	s.media("", "")
	s.do(chromedp.Navigate("about:blank"))
	require.NoError(t, chromedp.Listen(ctx, s.hear))
	s.do(chromedp.Navigate("file://" + file))
	require.Equal(t, "complete", eval[string](s, "document.readyState"))
	return s
}

// hear keeps what the browser says of the page. A dialog is closed, or it would
// stand for ever.
func (s *tab) hear(event any) {
	s.mu.Lock()
	defer s.mu.Unlock()
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		s.asked = append(s.asked, e.Request.URL)
	case *runtime.EventConsoleAPICalled:
		s.said = append(s.said, "console: "+string(e.Type))
	case *runtime.EventExceptionThrown:
		s.said = append(s.said, "exception: "+e.ExceptionDetails.Text+" "+e.ExceptionDetails.Exception.Description)
	case *log.EventEntryAdded:
		s.said = append(s.said, "log: "+string(e.Entry.Level)+" "+e.Entry.Text)
	case *page.EventJavascriptDialogOpening:
		s.said = append(s.said, "dialog: "+e.Message)
		go func() { _, _ = chromedp.Call(s.ctx, page.HandleJavaScriptDialog, page.HandleJavaScriptDialogParams{}) }()
	}
}

// heard is what it has said and asked for so far.
func (s *tab) heard() (asked, said []string) {
	_ = eval[int](s, "1") // what came before is heard
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.asked, s.said
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

// size is the width of the view in CSS pixels.
func (s *tab) size(width int64) {
	s.t.Helper()
	_, err := chromedp.Call(s.ctx, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: width, Height: 1000, DeviceScaleFactor: 1})
	require.NoError(s.t, err)
}

func (s *tab) media(kind, scheme string) {
	s.t.Helper()
	prefers := []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}
	_, err := chromedp.Call(s.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: kind, Features: prefers})
	require.NoError(s.t, err)
}

// breaches are the rules of axe-core that the page breaks, each with the first place;
// every rule is asked, those of good practice and those on trial with them, and one that
// cannot tell counts as broken.
func (s *tab) breaches() (rules []string) {
	s.t.Helper()
	require.Equal(s.t, "function", eval[string](s, s.axe+"; typeof axe.run"))
	type result struct {
		Passed int
		Broken []string
	}
	r := eval[result](s, `axe.run(document, {runOnly: {type: 'rule', values: axe.getRules().map(r => r.ruleId)}}).then(r => ({
		Passed: r.passes.length,
		Broken: r.violations.concat(r.incomplete).map(v => v.id + ' ' + v.nodes[0].html.slice(0, 200))}))`)
	require.Greater(s.t, r.Passed, 10, "rules that had something to look at")
	return r.Broken
}

// paper is a size of paper.
type paper struct {
	name string
	chromedp.PaperSize
}

var papers = []paper{{"A4", chromedp.PaperA4}, {"Letter", chromedp.PaperLetter}}

// print is the page on paper, as a file.
func (s *tab) print(p paper) string {
	s.t.Helper()
	pdf, err := chromedp.Run(s.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(p.PaperSize)))
	require.NoError(s.t, err)
	file := filepath.Join(s.t.TempDir(), p.name+".pdf")
	require.NoError(s.t, os.WriteFile(file, pdf, 0o600))
	return file
}
