//go:build !unix

package term

import "github.com/gdamore/tcell/v2"

// newScreen makes the screen tcell thinks best.
func newScreen() (*Shadow, error) {
	screen, err := tcell.NewScreen()
	if err != nil {
		return nil, explain(err)
	}
	return Wrap(screen), nil
}
