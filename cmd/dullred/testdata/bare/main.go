// Bare answers every key by drawing the cells that a key of the bench screen
// changes, a word in the title and a line below, with tcell and nothing else: what
// the bench is measured against.
package main

import (
	"os"

	"github.com/gdamore/tcell/v2"
)

func main() {
	screen, err := tcell.NewScreen()
	if err != nil || screen.Init() != nil {
		os.Exit(1)
	}
	defer screen.Fini()
	words := []string{"lengthen", "widen   ", "flatten ", "roll    "}
	for n := 0; ; n++ {
		for i, r := range words[n%len(words)] {
			screen.SetContent(40+i, 0, r, nil, tcell.StyleDefault)
		}
		for i, r := range "the next courses: " + words[n%len(words)] {
			screen.SetContent(1+i, 22, r, nil, tcell.StyleDefault.Reverse(true))
		}
		screen.Show()
		for {
			event := screen.PollEvent()
			if key, ok := event.(*tcell.EventKey); ok {
				if key.Rune() == 'x' {
					return
				}
				break
			}
			if event == nil {
				return
			}
		}
	}
}
