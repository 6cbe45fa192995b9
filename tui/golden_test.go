package tui

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/gdamore/tcell/v2"
	"github.com/stretchr/testify/require"

	"dullred/tui/term"
	"dullred/tui/view"
)

var update = flag.Bool("update", false, "write the pictures of the frames anew")

// TestGoldenFrames compares every state at three sizes with its picture: the
// text as it stands on a screen, and the grid of its roles.
func TestGoldenFrames(t *testing.T) {
	for _, m := range moments {
		t.Run(m.name, func(t *testing.T) {
			var got strings.Builder
			for _, size := range sizes {
				s := m.stage(t)
				text, roles := onScreen(t, s.Bench, size.w, size.h)
				fmt.Fprintf(&got, "== %dx%d\n%s\n-- roles\n%s\n", size.w, size.h, text, roles)
			}
			if *update {
				require.NoError(t, os.MkdirAll(filepath.Dir(m.file()), 0o755))
				require.NoError(t, os.WriteFile(m.file(), []byte(got.String()), 0o644))
			}
			want, err := os.ReadFile(m.file())
			require.NoError(t, err, "go test ./tui -run Golden -update makes it")
			require.Equal(t, string(want), got.String())
		})
	}
}

// onScreen draws a bench through the widget and the shadow onto a simulation
// screen, and reads the cells back.
func onScreen(t *testing.T, b *Bench, width, height int) (text, roles string) {
	t.Helper()
	sim := tcell.NewSimulationScreen("UTF-8")
	screen := term.Wrap(sim)
	require.NoError(t, screen.Init())
	defer screen.Fini()
	sim.SetSize(width, height)
	screen.SetSize(width, height)
	w := newWidget(b, newStyles(term.TrueColour), func() {})
	w.Draw(screen)
	screen.Show()
	cells, _, _ := sim.GetContents()
	var lines []string
	for y := range height {
		var line strings.Builder
		for x := range width {
			cell := cells[y*width+x]
			line.WriteString(string(cell.Runes))
			require.Equal(t, styleOf(b.Theme(), w.frame.At(x, y).Role, term.TrueColour), cell.Style, "cell %d,%d", x, y)
		}
		lines = append(lines, strings.TrimRight(line.String(), " "))
	}
	return strings.Join(lines, "\n"), w.frame.Roles()
}

// bits is a frame in one bit: what a terminal without colour shows as light.
func bits(f *view.Frame) []bool {
	w, h := f.Size()
	all := make([]bool, 0, w*h)
	for y := range h {
		for x := range w {
			c := f.At(x, y)
			all = append(all, (c.Rune != ' ') != view.Dark.Ink(c.Role).Reverse)
		}
	}
	return all
}

// leastBits is the least difference that is told apart from two metres: about
// the strokes of one block letter.
const leastBits = 12

// TestStatesInOneBit reads every state without colour, and tells all apart by
// what is in block letters: the rows from the word to the figure.
func TestStatesInOneBit(t *testing.T) {
	names := []string{"carry-on", "work-on", "soon", "anneal", "heating", "soak", "soak-over", "hot-wait", "hot-quench",
		"hot-air", "pickle", "pickle-over", "quenched", "crack", "unknown"}
	for _, size := range sizes {
		rows := map[int]int{20: 14, 24: 16, 40: 24}[size.h]
		pictures := map[string][]bool{}
		for _, m := range moments {
			pictures[m.name] = bits(m.stage(t).frame(size.w, size.h))[:rows*size.w]
		}
		requireApart(t, names, pictures, fmt.Sprintf("%dx%d", size.w, size.h))
	}
}

// requireApart wants every two pictures of some names to differ in the least bits
// that an eye tells apart.
func requireApart(t *testing.T, names []string, pictures map[string][]bool, size string) {
	t.Helper()
	for i, one := range names {
		for _, other := range names[i+1:] {
			differ := 0
			for k, bit := range pictures[one] {
				if bit != pictures[other][k] {
					differ++
				}
			}
			require.GreaterOrEqual(t, differ, leastBits, "%s and %s at %s", one, other, size)
		}
	}
}

// TestHearthIsDark: no more than a tenth of the cells may be a block of light on
// the dark page, for eyes adapted to the hearth.
func TestHearthIsDark(t *testing.T) {
	for _, m := range moments {
		for _, size := range sizes {
			s := m.stage(t)
			s.theme, s.picked = view.Hearth, true
			require.LessOrEqual(t, s.frame(size.w, size.h).Lit(view.Hearth), 0.10, "%s at %dx%d", m.name, size.w, size.h)
		}
	}
}

// TestFramesFitEveryScreen draws every state on screens from nothing to large.
func TestFramesFitEveryScreen(t *testing.T) {
	for _, m := range moments {
		s := m.stage(t)
		for _, size := range []struct{ w, h int }{{0, 0}, {1, 1}, {2, 3}, {5, 10}, {59, 20}, {60, 19}, {60, 20}, {61, 21}, {79, 24}, {80, 23}, {119, 39}, {200, 60}, {300, 100}} {
			f := s.frame(size.w, size.h)
			if size.w < view.LeastWidth || size.h < view.LeastHeight {
				require.NotContains(t, f.String(), "space", "%s at %v", m.name, size)
				continue
			}
			require.NotEmpty(t, strings.TrimSpace(f.String()), "%s at %v", m.name, size)
		}
	}
	require.Contains(t, strings.Join(strings.Fields(newStage(t).frame(40, 10).String()), " "), "run dullred watch, which prints plain lines", "all of it has room")
}
