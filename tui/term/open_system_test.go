//go:build system

package term

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What the program says when the screen cannot be had; the terminal is untouched.
func TestSystemOpenExplains(t *testing.T) {
	cases := []struct {
		name, shell string
		cause, cure string
		reason      string
	}{
		{"TERM not set", "unset TERM; $PAD", "the terminal type is not set", "TERM=xterm-256color", "a bare console"},
		{"TERM empty", "TERM= $PAD", "the terminal type is not set", "TERM=xterm-256color", "the same"},
		{"TERM dumb", "TERM=dumb $PAD", `the terminal type "dumb"`, "TERM=xterm-256color", "a window of an editor"},
		{"TERM unknown", "TERM=no-such-terminal $PAD", `the terminal type "no-such-terminal"`, "TERM=xterm-256color", "a new terminal, or another machine"},
		{"no input", "$PAD </dev/null", "standard input is not a terminal", "before it", "a script"},
		{"input from a pipe", "echo | $PAD", "standard input is not a terminal", "before it", "the same"},
		{"output into a file", "$PAD >/dev/null", "standard output is not a terminal", "behind it", "a log"},
		{"output into a pipe", "set -o pipefail; $PAD | cat", "standard output is not a terminal", "behind it", "the same"},
		{"Latin-1", "LC_ALL=en_US.ISO-8859-1 $PAD", "the character set", "LC_ALL=C.UTF-8", "an old locale"},
		{"no terminal at all", "setsid -w $PAD", "there is no terminal to draw on", "start the bench screen in a terminal", "a session of its own"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			e := start(t, []string{asProgram + "=" + plain, "PAD=" + self(t)}, "bash", "-c", c.shell)
			require.Equal(t, codeError, e.awaitExit(), c.reason)
			said, _, _ := strings.Cut(e.wrote(), "\x1b]0;over")
			requireAdvice(t, strings.TrimSuffix(said, "\r\n"), c.cause, c.cure)
			require.NotContains(t, said, "\x1b", "nothing but the sentence was written")
			require.Equal(t, e.before, e.termios())
		})
	}
}

// The C locale has no letters beyond ASCII, and the screen works all the same.
func TestSystemOpensInTheCLocale(t *testing.T) {
	e := start(t, []string{asProgram + "=" + plain, "LC_ALL=C"}, self(t))
	e.awaitText("keys 0.")
	e.send("q")
	require.Zero(t, e.awaitExit())
	e.requireRestored()
}
