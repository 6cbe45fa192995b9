package view

import "fmt"

// Curve is a picture of the making of the piece, drawn for the size of the screen.
type Curve struct {
	Title string
	Rows  []string // no wider than the screen less two columns
	Said  string   // what it shows, in a sentence with figures
	At    int      // which of the pictures, from 1
	Of    int      // how many there are
}

// CurveRoom is how many columns and rows a picture has on a screen, with room for its
// sentence below it.
func CurveRoom(w, h int) (columns, rows int) { return w - 2, h - 8 }

// curveLines are a picture and what it shows.
func curveLines(s Scene) []line {
	if s.Curve == nil {
		return nil
	}
	c := s.Curve
	lines := []line{{text: fmt.Sprintf("%s  (%d of %d)", c.Title, c.At, c.Of), role: Bold}}
	for _, row := range c.Rows {
		lines = append(lines, line{text: row, kept: true})
	}
	return append(lines, line{text: c.Said})
}
