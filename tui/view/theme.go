package view

import "fmt"

// Theme is a set of inks for a kind of light.
type Theme uint8

// The themes. Hearth is for a room darkened to see the metal glow: red and amber
// on black, no light ground anywhere, because the eye in the dark is kept by red
// light and lost by white.
const (
	Dark Theme = iota
	Light
	Contrast
	Hearth

	themeCount = int(Hearth) + 1
)

// String is "dark", "light", "high contrast" or "hearth".
func (t Theme) String() string {
	switch t {
	case Dark:
		return "dark"
	case Light:
		return "light"
	case Contrast:
		return "high contrast"
	case Hearth:
		return "hearth"
	}
	return fmt.Sprintf("theme %d", uint8(t))
}

// Ink is how a role is drawn, for three kinds of terminal:
//
//   - with 256 colours or more: Fg on Bg, nothing else;
//   - with 8: Fg8 on Bg8, the ANSI colours 0 to 7, with Bold and Underline. Both
//     are always given; the terminal's own ground is never relied on, since the
//     contrast with it is not known;
//   - with none: Bold, Underline and Reverse alone, and NO colours. With no colour
//     tcell drops grounds and reverses every cell whose foreground is nearer to
//     black than to white, so a dark foreground would turn the page and undo
//     Reverse: leave both colours at the terminal's default.
//
// With no colour a gauge is told apart by its characters and a swatch by its word.
type Ink struct {
	Fg, Bg                   RGB
	Fg8, Bg8                 int8
	Bold, Reverse, Underline bool
}

// Ink is the look of a role. Text stands at 7:1 or more against its ground (WCAG
// 1.4.6), Dim at 4.5:1 (1.4.3), Rest and Tick, which are graphics, at 3:1 (1.4.11).
// No state is green, so that none is told from another by red and green. A role or
// theme that does not exist looks like Plain or Dark.
func (t Theme) Ink(r Role) Ink {
	if int(t) >= themeCount {
		t = Dark
	}
	if int(r) >= roleCount {
		r = Plain
	}
	p := palettes[t][r]
	if r >= Glow0 {
		p = glows[r-Glow0]
		p.bg = palettes[t][Plain].bg
		p.bg8 = palettes[t][Plain].bg8
	}
	a := attributes[r]
	return Ink{Fg: hex(p.fg), Bg: hex(p.bg), Fg8: p.fg8, Bg8: p.bg8,
		Bold: a&bold != 0, Reverse: a&reverse != 0, Underline: a&underline != 0}
}

const (
	bold uint8 = 1 << iota
	reverse
	underline
)

// attributes are the same in every theme. Reverse means that the metal needs the
// smith, or will hurt him, now; the cursor's field is the one exception. The eight
// states differ pairwise.
var attributes = [roleCount]uint8{
	Bold:  bold,
	Title: bold,
	Soon:  bold,
	Act:   bold | reverse,
	Fire:  bold | underline,
	Hot:   reverse,
	Ask:   underline,
	Fault: reverse | underline,
	Alarm: bold | reverse | underline,
	Over:  bold,
	Key:   bold,
	Mark:  bold,
	Toast: bold,
	Field: underline,
	Focus: reverse,
}
