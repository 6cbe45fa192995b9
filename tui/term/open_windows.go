package term

import (
	"os"

	"github.com/gdamore/tcell/v2"
	"golang.org/x/sys/windows"
)

// newScreen makes the screen of the console. One that knows no escape sequences, as in
// its legacy mode and before Windows 10, would show them as letters; tcell does not look.
func newScreen() (*Shadow, error) {
	err := knows(os.Stdout, windows.ENABLE_PROCESSED_OUTPUT|windows.ENABLE_VIRTUAL_TERMINAL_PROCESSING)
	if err == nil {
		err = knows(os.Stdin, windows.ENABLE_VIRTUAL_TERMINAL_INPUT)
	}
	if err != nil {
		return nil, refuse("use Windows Terminal, or turn its legacy mode off", "this console cannot show the bench screen (%w)", err)
	}
	screen, err := tcell.NewScreen()
	if err != nil {
		return nil, explain(err)
	}
	return Wrap(screen), nil
}

// knows tries a mode of a console, which is as it was afterwards.
func knows(console *os.File, mode uint32) error {
	handle := windows.Handle(console.Fd())
	var was uint32
	if err := windows.GetConsoleMode(handle, &was); err != nil {
		return err
	}
	if err := windows.SetConsoleMode(handle, was|mode); err != nil {
		return err
	}
	return windows.SetConsoleMode(handle, was)
}
