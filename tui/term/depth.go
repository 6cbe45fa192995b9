package term

import "github.com/gdamore/tcell/v2"

// Depth is how many colours a terminal shows.
type Depth int

// The depths, from none up. The zero Depth is the careful one.
const (
	Mono       Depth = iota // bold and reverse only; also when NO_COLOR is set
	Colour8                 // 8 or 16 fixed colours
	Colour256               // the 256 of xterm
	TrueColour              // red, green and blue of 8 bits each
)

// Colours returns the depth of a screen, after its Init. tcell takes it from TERM, COLORTERM
// and NO_COLOR.
func Colours(screen tcell.Screen) Depth {
	switch n := screen.Colors(); {
	case n > 256:
		return TrueColour
	case n == 256:
		return Colour256
	case n >= 8:
		return Colour8
	}
	return Mono
}

// String names the depth.
func (d Depth) String() string {
	switch d {
	case Colour8:
		return "8 colours"
	case Colour256:
		return "256 colours"
	case TrueColour:
		return "true colour"
	}
	return "no colour"
}
