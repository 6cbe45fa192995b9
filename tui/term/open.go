package term

import (
	"errors"
	"os"

	"github.com/gdamore/tcell/v2"
	"golang.org/x/term"
)

// Open takes the terminal of the program and turns mouse and paste on. The
// mouse reports buttons and dragging, not every movement. Standard input and
// output must be the terminal. An error is a Refusal; the terminal is
// then as it was.
func Open() (*Shadow, error) {
	if err := atTerminal(os.Stdin, os.Stdout); err != nil {
		return nil, err
	}
	screen, err := newScreen()
	if err != nil {
		return nil, err
	}
	if err := screen.Init(); err != nil {
		closeTty(screen)
		return nil, explain(err)
	}
	screen.EnableMouse(tcell.MouseButtonEvents, tcell.MouseDragEvents)
	screen.EnablePaste()
	return screen, nil
}

// atTerminal reports which of the two files is no terminal.
func atTerminal(in, out *os.File) error {
	switch {
	case !term.IsTerminal(int(in.Fd())):
		return refuse("start the bench screen without a pipe or file before it", "standard input is not a terminal")
	case !term.IsTerminal(int(out.Fd())):
		return refuse("start the bench screen without a pipe or file behind it", "standard output is not a terminal")
	}
	return nil
}

// explain says what to do about an error of the screen's Init.
func explain(err error) error {
	if errors.Is(err, tcell.ErrNoCharset) {
		return refuse("set LC_ALL=C.UTF-8", "the character set of this terminal is not supported")
	}
	return refuse("try another terminal", "the terminal cannot be used (%w)", err)
}

// closeTty lets go of the terminal of a screen that was not initialised: its
// Fini would panic.
func closeTty(screen tcell.Screen) {
	if tty, ok := screen.Tty(); ok && tty != nil {
		_ = tty.Close()
	}
}
