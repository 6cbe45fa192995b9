package main

import (
	"strings"

	"dullred/schedule/stock"
)

// stockColumns is how wide a shape is drawn: a terminal of 80 columns less the
// indent.
const stockColumns = 76

// plainLetters stand in for what a terminal without UTF-8 does not show.
var plainLetters = strings.NewReplacer("²", "2", "³", "3", "°", "", "×", "x", "π", "pi", "–", "-")

// utf8 reports whether the terminal shows more than ASCII, as the settings of
// the locale say in the order that POSIX gives them.
func (a *app) utf8() bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := strings.ToLower(a.getenv(name)); v != "" {
			return strings.Contains(v, "utf-8") || strings.Contains(v, "utf8")
		}
	}
	return false
}

// drawing is the shape, indented.
func (p stockPiece) drawing(d stock.Drawing) string {
	if p.shape == nil {
		return ""
	}
	var b strings.Builder
	b.WriteString("\n")
	for _, line := range d.Lines(*p.shape) {
		b.WriteString(strings.TrimRight("  "+line, " ") + "\n")
	}
	return b.String()
}
