package term

import (
	"strings"
	"sync/atomic"
	"testing"

	"github.com/gdamore/tcell/v2"
	"github.com/rivo/tview"
	"github.com/stretchr/testify/require"
)

// mostForOne is how many bytes one changed character may send: the place, the
// style, the character, and what tcell writes around every picture.
const mostForOne = 60

// meter is a terminal of 120 by 40 that counts the bytes written to it.
type meter struct {
	script
	bytes atomic.Int64
}

func (m *meter) Write(p []byte) (int, error) {
	m.bytes.Add(int64(len(p)))
	return len(p), nil
}

// sheet is a primitive that fills the screen; one digit in the middle changes.
type sheet struct {
	*tview.Box
	digit rune
}

func newSheet() *sheet { return &sheet{tview.NewBox(), '0'} }

func (s *sheet) Draw(screen tcell.Screen) {
	s.DrawForSubclass(screen, s)
	s.cells(screen)
}

// next makes the digit another one.
func (s *sheet) next() { s.digit = '0' + (s.digit-'0'+1)%10 }

// cells sets every cell of the screen.
func (s *sheet) cells(screen tcell.Screen) {
	const row = "course 3 of 5, anneal before the next: 31 % of the section, 4 min 10 s at heat, quench after black, pickle 12 min  ok  | "
	style := tcell.StyleDefault.Foreground(tcell.NewRGBColor(200, 120, 40)).Background(tcell.ColorBlack)
	for y := range 40 {
		for x := range 120 {
			screen.SetContent(x, y, rune(row[x%len(row)]), nil, style)
		}
	}
	screen.SetContent(60, 20, s.digit, nil, style)
}

// metered is a terminfo screen of 256 colours on a meter, and the sheet.
func metered(t testing.TB) (tcell.Screen, *meter) {
	t.Helper()
	for name, value := range map[string]string{"TERM": "xterm-256color", "LC_ALL": "C.UTF-8", "COLORTERM": "", "NO_COLOR": "", "LINES": "", "COLUMNS": ""} {
		t.Setenv(name, value)
	}
	m := &meter{script: script{wait: make(chan struct{}), size: tcell.WindowSize{Width: 120, Height: 40}}}
	screen, err := tcell.NewTerminfoScreenFromTty(NewTty(m))
	require.NoError(t, err)
	return screen, m
}

// picture draws as tview does for every change.
func picture(screen tcell.Screen, s *sheet) {
	screen.Clear()
	s.SetRect(0, 0, 120, 40)
	s.Draw(screen)
	screen.Show()
}

// direct sets the same cells without a Clear, so that tcell itself sees which differ.
func direct(screen tcell.Screen, s *sheet) {
	s.cells(screen)
	screen.Show()
}

// BenchmarkTick changes one digit of 120 by 40 cells and shows it. "cells" sets
// the same cells on a Shadow and on bare tcell; "tview" draws as tview does, which
// clears first.
func BenchmarkTick(b *testing.B) {
	cases := []struct {
		name string
		wrap bool
		show func(tcell.Screen, *sheet)
	}{
		{"cells/bare", false, direct},
		{"cells/shadow", true, direct},
		{"tview/bare", false, picture},
		{"tview/shadow", true, picture},
	}
	for _, c := range cases {
		b.Run(c.name, func(b *testing.B) {
			screen, m := metered(b)
			if c.wrap {
				screen = Wrap(screen)
			}
			require.NoError(b, screen.Init())
			defer screen.Fini()
			s := newSheet()
			c.show(screen, s)
			before := m.bytes.Load()
			for b.Loop() {
				s.next()
				c.show(screen, s)
			}
			b.ReportMetric(float64(m.bytes.Load()-before)/float64(b.N), "bytes/op")
		})
	}
}

func TestShadowSendsLittle(t *testing.T) {
	under, m := metered(t)
	screen := Wrap(under)
	require.NoError(t, screen.Init())
	defer screen.Fini()
	require.IsType(t, &tcell.EventResize{}, screen.PollEvent(), "the first size; it makes the next picture a full one")
	s := newSheet()
	sent := func() int64 {
		before := m.bytes.Load()
		picture(screen, s)
		return m.bytes.Load() - before
	}
	require.Greater(t, sent(), int64(120*40), "the first picture sends every cell")
	for range 20 {
		require.Zero(t, sent(), "a picture that is the same sends nothing")
		s.next()
		one := sent()
		require.NotZero(t, one)
		require.LessOrEqual(t, one, int64(mostForOne))
	}
}

// The row of the sheet has no blanks to speak of, as tcell leaves those out.
func TestSheetFillsTheScreen(t *testing.T) {
	under, _ := metered(t)
	screen := Wrap(under)
	require.NoError(t, screen.Init())
	defer screen.Fini()
	picture(screen, newSheet())
	var row strings.Builder
	for x := range 120 {
		text, _, _ := screen.Get(x, 20)
		row.WriteString(text)
	}
	require.Contains(t, row.String(), "course 3")
	require.Greater(t, len(strings.ReplaceAll(row.String(), " ", "")), 80)
}
