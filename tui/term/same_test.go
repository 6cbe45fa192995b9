package term

import (
	"cmp"
	"fmt"
	"testing"

	"github.com/gdamore/tcell/v2"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The same drawing through a shadow and on a screen of its own gives the same
// cells, whatever is drawn and however the size changes between two pictures.
func TestShadowShowsTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		under, direct := tcell.NewSimulationScreen(""), tcell.NewSimulationScreen("")
		s := Wrap(under)
		require.NoError(t, s.Init())
		require.NoError(t, direct.Init())
		defer s.Fini()
		defer direct.Fini()
		for range rapid.IntRange(1, 6).Draw(t, "pictures") {
			if rapid.Bool().Draw(t, "resize") {
				width, height := rapid.IntRange(1, 12).Draw(t, "width"), rapid.IntRange(1, 4).Draw(t, "height")
				under.SetSize(width, height)
				direct.SetSize(width, height)
			}
			paint(t, s, direct)
			require.Equal(t, shown(direct), shown(under))
		}
	})
}

// paint draws one picture on both screens, cleared first as tview does or not.
func paint(t *rapid.T, screens ...tcell.Screen) {
	if rapid.Bool().Draw(t, "clear") {
		for _, s := range screens {
			s.Clear()
		}
	}
	for range rapid.IntRange(0, 20).Draw(t, "strokes") {
		stroke := draw(t)
		for _, s := range screens {
			s.Size()
			stroke(s)
		}
	}
	sync := rapid.IntRange(0, 9).Draw(t, "sync") == 0
	for _, s := range screens {
		if sync {
			s.Sync()
		} else {
			s.Show()
		}
	}
}

// draw is one stroke, the same for every screen it is made on.
func draw(t *rapid.T) func(tcell.Screen) {
	x, y := rapid.IntRange(-1, 13).Draw(t, "x"), rapid.IntRange(-1, 4).Draw(t, "y")
	text := rapid.SampledFrom([]string{"a", "b", " ", "█", "世", "🔥", "e\u0301", "\u0301", "\x1b", "", "ab", "世界"}).Draw(t, "text")
	colour := rapid.SampledFrom([]tcell.Color{tcell.ColorDefault, tcell.ColorRed, tcell.NewRGBColor(100, 40, 20), tcell.ColorNone})
	style := tcell.StyleDefault.Foreground(colour.Draw(t, "fg")).Background(colour.Draw(t, "bg")).Bold(rapid.Bool().Draw(t, "bold"))
	switch rapid.IntRange(0, 4).Draw(t, "way") {
	case 0:
		// A Put of nothing is left out: after a Sync tcell does not show it, as
		// its buffer marks the cells to be drawn with an empty text.
		text = cmp.Or(text, " ")
		return func(s tcell.Screen) { s.Put(x, y, text, style) }
	case 1:
		return func(s tcell.Screen) { s.PutStrStyled(x, y, text, style) }
	case 2:
		return func(s tcell.Screen) { s.SetCell(x, y, style, []rune(text)...) }
	case 3:
		r := append([]rune(text), 'z')
		return func(s tcell.Screen) { s.SetContent(x, y, r[0], nil, style) }
	}
	return func(s tcell.Screen) { s.Fill('.', style) }
}

// shown is a screen as text: what it shows, and what its buffer holds. A cell
// that was never drawn is a blank.
func shown(s tcell.SimulationScreen) []string {
	cells, width, _ := s.GetContents()
	var lines []string
	for i, c := range cells {
		x, y := i%width, i/width
		text, style, size := s.Get(x, y)
		if len(c.Runes) == 0 || c.Runes[0] == 'X' { // tcell's simulation clears with X
			c.Runes = []rune{' '}
		}
		lines = append(lines, fmt.Sprintf("%d,%d %q %v holds %q %v %d", x, y, string(c.Runes), c.Style, text, style, size))
	}
	return lines
}
