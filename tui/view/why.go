package view

import (
	"fmt"

	"dullred/schedule"
)

// whyWidth is the column of the heads of a sum: "hardness" and two blanks.
const whyWidth = 10

// whyLines are the sum behind the advice on the screen, a step a line, and the
// picture of hardness over work where the screen of w columns has room for it.
func whyLines(s Scene, w int) []line {
	lines := []line{{text: headline(s.Piece), role: Bold}, {}}
	if s.Why == nil {
		return lines
	}
	before := ""
	for _, step := range s.Why.Lines {
		head := step.Head
		if head == before {
			head = " " // of the step before
		}
		before = step.Head
		lines = append(lines, line{text: step.Text, head: head, hang: whyWidth})
	}
	lines = append(lines, pictureLines(*s.Why, w-2)...)
	return append(lines, line{}, line{text: "Last digits may differ by one: the program rounds only what it shows."})
}

// pictureLines are the picture as it was drawn: one that is cut would be another.
func pictureLines(e schedule.Explanation, w int) (lines []line) {
	widest := 0
	for _, row := range e.Picture {
		widest = max(widest, Columns(row))
		lines = append(lines, line{text: row, kept: true})
	}
	switch {
	case widest == 0:
		return nil
	case widest > w:
		return []line{{}, {text: fmt.Sprintf("(the picture of it needs a screen of %d columns)", widest+2), role: Dim}}
	}
	return append([]line{{}}, lines...)
}
