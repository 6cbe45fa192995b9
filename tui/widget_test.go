package tui

import (
	"strings"
	"testing"

	"github.com/gdamore/tcell/v2"
	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/tui/term"
)

// drawnStage is a stage with a widget that drew it once.
func drawnStage(t *testing.T) (*stage, *widget) {
	t.Helper()
	s := newStage(t)
	spoon(t, s)
	w := newWidget(s.Bench, newStyles(term.Mono), func() {})
	return s, draw(t, w)
}

func draw(t *testing.T, w *widget) *widget {
	t.Helper()
	sim := tcell.NewSimulationScreen("UTF-8")
	require.NoError(t, sim.Init())
	t.Cleanup(sim.Fini)
	sim.SetSize(80, 24)
	w.Draw(sim)
	return w
}

// clickOn clicks on a text of the screen.
func clickOn(t *testing.T, w *widget, text string) bool {
	t.Helper()
	lines := strings.Split(w.frame.String(), "\n")
	for y := len(lines) - 1; y >= 0; y-- {
		if before, _, found := strings.Cut(lines[y], text); found {
			return w.click(len([]rune(before)), y)
		}
	}
	require.Fail(t, "not on the screen", text)
	return false
}

// A click on a key cap, or on the words behind it, is the key.
func TestClick(t *testing.T) {
	s, w := drawnStage(t)
	require.True(t, clickOn(t, w, "heat begun"))
	require.Contains(t, s.logged(), schedule.KindBegun)
	require.True(t, clickOn(t, draw(t, w), "c  colour"))
	require.Contains(t, s.logged(), schedule.KindReached)
	n := len(s.current().entries)
	require.False(t, clickOn(t, w, "limit"), "the gauge is no key")
	require.False(t, w.click(79, 0))
	require.False(t, w.click(-1, -1))
	require.Len(t, s.current().entries, n)
}

// Some callipers paste their figure.
func TestPaste(t *testing.T) {
	s, w := drawnStage(t)
	w.paste("6.4\r")
	require.Equal(t, "6.4x7.8 mm", s.section(s.current()).String())
	n := len(s.current().entries)
	w.paste("hco")
	require.Len(t, s.current().entries, n, "words that are pasted are no keys")
	w.paste("")
}

func TestKeysAsTheyAreTyped(t *testing.T) {
	cases := []struct {
		name  string
		event *tcell.EventKey
		typed bool
		press Press
		known bool
	}{
		{"caps lock", tcell.NewEventKey(tcell.KeyRune, 'H', tcell.ModNone), false, Press{Rune: 'h'}, true},
		{"caps in a form", tcell.NewEventKey(tcell.KeyRune, 'H', tcell.ModNone), true, Press{Rune: 'H'}, true},
		{"alt", tcell.NewEventKey(tcell.KeyRune, 'h', tcell.ModAlt), false, Press{}, false},
		{"line feed of a scanner", tcell.NewEventKey(tcell.KeyCtrlJ, 0, tcell.ModNone), true, Press{Key: Enter}, true},
		{"a sign", tcell.NewEventKey(tcell.KeyF5, 0, tcell.ModNone), false, Press{Key: Stops}, true},
		{"a key without a use", tcell.NewEventKey(tcell.KeyF12, 0, tcell.ModNone), false, Press{}, false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			p, known := pressOf(c.event, c.typed)
			require.Equal(t, c.known, known)
			require.Equal(t, c.press, p)
		})
	}
}

// A key that opens a form may bounce; a figure that opens one may come twice.
func TestBounceOfAKeyThatOpensAForm(t *testing.T) {
	s, _ := drawnStage(t)
	for range 3 {
		s.Press(Press{Rune: 'b'})
	}
	require.Empty(t, s.form.(*starting).fields[startMetal])
	s.wait(bounceTime).keys("brass")
	require.Equal(t, "brass", s.form.(*starting).fields[startMetal])
	s.keys("\x1b")
	s.Press(Press{Rune: '6'})
	s.Press(Press{Rune: '6'})
	require.Equal(t, "66", s.form.(*reading).text)
}
