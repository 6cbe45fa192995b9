package term

import (
	"errors"
	"fmt"
	"os"

	"github.com/gdamore/tcell/v2"
	"golang.org/x/term"
)

// advice ends every error of Open: what works without the screen.
const advice = "or use dullred watch, which prints plain lines (all commands: dullred --help)"

// Open takes the terminal of the program and turns mouse and paste on. The
// mouse reports buttons and dragging, not every movement. Standard input and
// output must be the terminal. An error is one sentence that says what to do;
// the terminal is then as it was.
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
		return errors.New("standard input is not a terminal; start the bench screen without a pipe or file before it, " + advice)
	case !term.IsTerminal(int(out.Fd())):
		return errors.New("standard output is not a terminal; start the bench screen without a pipe or file behind it, " + advice)
	}
	return nil
}

// explain says what to do about an error of the screen's Init.
func explain(err error) error {
	if errors.Is(err, tcell.ErrNoCharset) {
		return fmt.Errorf("the character set of this terminal is not supported; set LC_ALL=C.UTF-8, %s", advice)
	}
	return fmt.Errorf("the terminal cannot be used (%w); try another terminal, %s", err, advice)
}

// closeTty lets go of the terminal of a screen that was not initialised: its
// Fini would panic.
func closeTty(screen tcell.Screen) {
	if tty, ok := screen.Tty(); ok && tty != nil {
		_ = tty.Close()
	}
}
