//go:build system

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/built"
)

// A real terminal of 80 columns and 24 lines shows the demo without a line that
// breaks, the most urgent piece first.
//
// Outside check (reference): tmux: what the bench screen leaves on a real terminal.
func TestSystemTerminal(t *testing.T) {
	program := built.Program(t, "dullred/cmd/dullred")
	cases := []struct {
		name, command string
		holds         []string
		least         int // lines
	}{
		{"the head of the demo", program + " advise --demo | head -5", []string{"ANNEAL NOW"}, 5},
		{"the whole demo", program + " advise --demo", []string{"ANNEAL NOW", "ANNEAL SOON", "CARRY ON", "°C"}, 25},
		{"the safety page", program + " safety", []string{"ocal"}, 5},
		{"every figure of a metal", program + " alloys sterling", []string{"593 to 649 °C"}, 25},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			lines := screen(t, c.command)
			require.GreaterOrEqual(t, len(lines), c.least, "%q", lines)
			for _, text := range c.holds {
				require.Contains(t, strings.Join(lines, "\n"), text)
			}
			for _, line := range lines {
				require.LessOrEqual(t, utf8.RuneCountInString(line), 80, line)
			}
		})
	}
}

// screen runs a command in a terminal of its own and gives all its lines, those
// that scrolled away as well. A line that the terminal had to break comes back whole.
func screen(t *testing.T, command string) []string {
	t.Helper()
	const done = "[the command ended]"
	socket := filepath.Join(t.TempDir(), "tmux")
	tmux := func(args ...string) (string, error) {
		cmd := exec.Command("tmux", append([]string{"-u", "-S", socket, "-f", os.DevNull}, args...)...)
		out, err := cmd.CombinedOutput()
		return string(out), err
	}
	shell := command + "; printf '\\n%s\\n' '" + done + "'; exec sleep 600"
	out, err := tmux("new-session", "-d", "-x", "80", "-y", "24", "-c", moduleRoot(t), "sh", "-c", shell)
	require.NoError(t, err, out)
	t.Cleanup(func() { _, _ = tmux("kill-server") })
	for end := time.Now().Add(2 * time.Minute); ; time.Sleep(50 * time.Millisecond) {
		require.True(t, time.Now().Before(end), "the command did not end: %s", out)
		out, err = tmux("capture-pane", "-p", "-J", "-S", "-")
		require.NoError(t, err, out)
		if shown, _, ended := strings.Cut(out, done); ended {
			return trimmed(shown)
		}
	}
}

func trimmed(text string) (lines []string) {
	for line := range strings.Lines(strings.TrimSpace(text)) {
		lines = append(lines, strings.TrimRight(line, " \n"))
	}
	return lines
}

// A line that is too long must not hide behind the edge of the terminal.
func TestSystemTerminalShowsLongLines(t *testing.T) {
	lines := screen(t, "printf '%0100d\\n' 7")
	require.Len(t, lines, 1)
	require.Len(t, lines[0], 100)
}
