//go:build unix

package term

import (
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/gdamore/tcell/v2"
	"github.com/stretchr/testify/require"
)

// requireAdvice checks that an error is one sentence that says what to do.
func requireAdvice(t *testing.T, text, cause, cure string) {
	t.Helper()
	require.Contains(t, text, cause)
	require.NotContains(t, text, "\n")
	before, after, found := strings.Cut(text, "; ")
	require.True(t, found, "the cause, and then what to do: %s", text)
	require.Contains(t, before, cause)
	require.Contains(t, after, cure)
	require.True(t, strings.HasSuffix(after, advice), text)
}

func TestOpenNeedsATerminalType(t *testing.T) {
	cases := []struct{ name, cause, reason string }{
		{"", "the terminal type is not set", "TERM is empty, or not set at all"},
		{"dumb", `the terminal type "dumb" cannot show`, "it cannot place the cursor"},
		{"no-such-terminal", `the terminal type "no-such-terminal" cannot show`, "nobody knows it"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			t.Setenv("TERM", c.name)
			_, err := newScreen()
			require.Error(t, err, c.reason)
			requireAdvice(t, err.Error(), c.cause, "TERM=xterm-256color")
		})
	}
}

func TestOpenNeedsATerminal(t *testing.T) {
	file, err := os.Open(os.DevNull)
	require.NoError(t, err)
	defer file.Close()
	err = atTerminal(file, file)
	require.Error(t, err)
	requireAdvice(t, err.Error(), "standard input is not a terminal", "without a pipe or file before it")
}

// tcell knows UTF-8 and ASCII alone.
func TestOpenNeedsACharacterSet(t *testing.T) {
	t.Setenv("TERM", "xterm-256color")
	t.Setenv("LC_ALL", "en_US.ISO-8859-1")
	screen, err := tcell.NewTerminfoScreenFromTty(&script{wait: make(chan struct{})})
	require.NoError(t, err)
	err = Wrap(screen).Init()
	require.ErrorIs(t, err, tcell.ErrNoCharset)
	requireAdvice(t, explain(err).Error(), "the character set", "LC_ALL=C.UTF-8")
}

func TestOpenExplainsTheRest(t *testing.T) {
	requireAdvice(t, explain(errors.New("broken")).Error(), "(broken)", "try another terminal")
}
