//go:build unix

package term

import (
	"os"

	"github.com/gdamore/tcell/v2"
)

// newScreen makes the screen of the controlling terminal, behind the filter.
func newScreen() (*Shadow, error) {
	if _, err := tcell.LookupTerminfo(os.Getenv("TERM")); err != nil {
		return nil, unsuited(os.Getenv("TERM"))
	}
	tty, err := tcell.NewDevTty()
	if err != nil {
		return nil, refuse("start the bench screen in a terminal", "there is no terminal to draw on (%w)", err)
	}
	wrapped := NewTty(tty)
	screen, err := tcell.NewTerminfoScreenFromTty(wrapped)
	if err != nil {
		_ = wrapped.Close()
		return nil, unsuited(os.Getenv("TERM"))
	}
	return Wrap(screen), nil
}

// unsuited says what to do about a terminal type that is not known or that
// cannot place the cursor.
func unsuited(name string) error {
	const cure = "set TERM=xterm-256color"
	if name == "" {
		return refuse(cure, "the terminal type is not set")
	}
	return refuse(cure, "the terminal type %q cannot show the bench screen", name)
}
