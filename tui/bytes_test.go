package tui

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/gdamore/tcell/v2"
	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/tui/term"
	"dullred/tui/view"
)

// handBench is a bench on a real terminal screen over a meter, with no event loop and
// a clock that is moved by hand.
type handBench struct {
	*Bench
	now    time.Time
	boot   time.Duration
	widget *widget
	screen tcell.Screen
	meter  *meter
}

// newHandBench opens a desk on a terminal of a size and draws it once.
func newHandBench(t testing.TB, desk Desk, width, height int) *handBench {
	t.Helper()
	under, m := terminal(t, width, height)
	screen := term.Wrap(under)
	require.NoError(t, screen.Init())
	t.Cleanup(screen.Fini)
	h := &handBench{now: eveningStart, screen: screen, meter: m}
	b, err := NewBench(Config{Desk: desk, Location: time.UTC, Clock: Clock{Wall: func() time.Time { return h.now },
		Boot: func() (time.Duration, bool) { return h.boot, true }}})
	require.NoError(t, err)
	h.Bench, h.widget = b, newWidget(b, newStyles(term.Colours(screen)), func() {})
	h.draw()
	return h
}

// draw draws as tview does and returns the bytes that were sent for it.
func (h *handBench) draw() int {
	h.meter.Reset()
	h.screen.Clear()
	h.widget.Draw(h.screen)
	h.screen.Show()
	return h.meter.Len()
}

func (h *handBench) pass(d time.Duration) { h.now, h.boot = h.now.Add(d), h.boot+d }

// press presses keys, each longer than a bounce after the one before, and draws.
func (h *handBench) press(keys string) {
	for _, r := range keys {
		h.pass(keyGap)
		p, _ := pressOf(event(r), true)
		h.Press(p)
	}
	h.draw()
}

func event(r rune) *tcell.EventKey {
	if special, ok := controls[r]; ok {
		return tcell.NewEventKey(special, 0, tcell.ModNone)
	}
	return tcell.NewEventKey(tcell.KeyRune, r, tcell.ModNone)
}

// ticks lets time pass in steps, drawing after each, and returns the bytes of each.
func (h *handBench) ticks(total, each time.Duration) (sent []int) {
	for range total / each {
		h.pass(each)
		sent = append(sent, h.draw())
	}
	return sent
}

// The most that a tick may send: a slow serial line of 9600 baud takes 960 bytes
// a second (8 bits, one start, one stop), and the keys need some of it.
const (
	tickMedian = 200
	tickMost   = 600
)

func TestBytesOfATick(t *testing.T) {
	for _, size := range []struct{ w, h int }{{120, 40}, {80, 24}} {
		for _, theme := range []view.Theme{view.Dark, view.Hearth} {
			t.Run(fmt.Sprintf("%dx%d %v", size.w, size.h, theme), func(t *testing.T) {
				h := newHandBench(t, memoryDesk(nil), size.w, size.h)
				h.theme, h.picked = theme, true
				sent := h.chain(t)
				require.Greater(t, len(sent), 1000)
				judge(t, sent)
			})
		}
	}
}

// chain is a heat second by second: the flame, the soak, the wait and the pickle.
func (h *handBench) chain(t *testing.T) (sent []int) {
	h.press(square)
	for _, s := range []struct {
		key  string
		step schedule.Step
		time time.Duration
	}{{"h", schedule.StepHeating, 200 * time.Second}, {"c", schedule.StepSoak, 200 * time.Second},
		{"o", schedule.StepWait, 200 * time.Second}, {"qp", schedule.StepPickle, 11 * time.Minute}} {
		h.press(s.key)
		require.Equal(t, s.step, h.Scene().Piece.Timer.Step)
		part := h.ticks(s.time, time.Second)
		t.Logf("%s: median %d, most %d bytes a tick", s.step, median(part), slices.Max(part))
		sent = append(sent, part...)
	}
	return sent
}

func TestBytesWhileTheBarFlashes(t *testing.T) {
	for _, size := range []struct{ w, h int }{{120, 40}, {80, 24}} {
		for _, theme := range []view.Theme{view.Dark, view.Hearth} {
			t.Run(fmt.Sprintf("%dx%d %v", size.w, size.h, theme), func(t *testing.T) {
				h := newHandBench(t, memoryDesk(nil), size.w, size.h)
				h.theme, h.picked = theme, true
				h.press(square + "   7x7\n   6x6\n  5.5x5.5\n")
				require.NotNil(t, h.Scene().Alarm)
				h.press("bcopper\n8x8\nn\nh")
				require.NotNil(t, h.Scene().Alarm, "the alert of one piece flashes while another is heated")
				judge(t, h.wakes(t, 200*time.Second))
			})
		}
	}
}

// wakes lets time pass as the bench asks to be woken, drawing after each.
func (h *handBench) wakes(t *testing.T, total time.Duration) (sent []int) {
	for end := h.now.Add(total); h.now.Before(end); {
		wait, ok := h.Wake()
		require.True(t, ok)
		sent = append(sent, h.ticks(wait, wait)...)
	}
	return sent
}

// judge requires few bytes for most drawings and not many for any.
func judge(t *testing.T, sent []int) {
	t.Helper()
	t.Logf("%d drawings: median %d, most %d bytes", len(sent), median(sent), slices.Max(sent))
	require.Positive(t, slices.Max(sent), "something is drawn")
	require.LessOrEqual(t, median(sent), tickMedian)
	require.LessOrEqual(t, slices.Max(sent), tickMost)
}

func median(n []int) int {
	sorted := slices.Sorted(slices.Values(n))
	return sorted[len(sorted)/2]
}
