package term

import (
	"testing"

	"github.com/gdamore/tcell/v2"
	"github.com/stretchr/testify/require"
)

func TestColours(t *testing.T) {
	cases := []struct {
		term, name, value string
		want              Depth
		reason            string
	}{
		{"screen-256color", "COLORTERM", "truecolor", TrueColour, "the terminal says so"},
		{"xterm-256color", "COLORTERM", "", Colour256, "its palette"},
		{"xterm", "COLORTERM", "", Colour8, "its palette"},
		{"vt100", "COLORTERM", "", Mono, "it has none"},
		{"xterm-256color", "NO_COLOR", "1", Mono, "the user wants none"},
	}
	for _, c := range cases {
		t.Run(c.term+" "+c.value, func(t *testing.T) {
			t.Setenv("COLORTERM", "")
			t.Setenv("NO_COLOR", "")
			t.Setenv("TERM", c.term)
			t.Setenv(c.name, c.value)
			t.Setenv("LC_ALL", "C.UTF-8")
			screen, err := tcell.NewTerminfoScreenFromTty(&script{wait: make(chan struct{})})
			require.NoError(t, err)
			s := Wrap(screen)
			require.NoError(t, s.Init())
			defer s.Fini()
			require.Equal(t, c.want, Colours(s), c.reason)
		})
	}
}
