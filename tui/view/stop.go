package view

import (
	"fmt"
	"math"
	"strings"

	"dullred/alloys/unit"
	"dullred/schedule"
)

// stopFigure is the size to stop at in block numerals, a diameter with its sign, or
// the share of the limit where nothing is measured.
func stopFigure(s schedule.PlanStep) string {
	if s.StopAt.Shape == unit.Unshaped {
		return fmt.Sprintf("%.0f%%", 100*s.LimitSpent)
	}
	if s.StopAt.Shape == unit.Sheet {
		return "⌀" + rounded(s.StopAt.Diameter)
	}
	size, shape, _ := strings.Cut(s.Stop(), " ")
	if shape == unit.Round.String() {
		return "⌀" + size
	}
	return size
}

func stopUnit(s schedule.PlanStep) string {
	switch s.StopAt.Shape {
	case unit.Unshaped:
		return "of the limit: stop there"
	case unit.Round:
		return "mm round: stop there"
	case unit.Sheet:
		return "mm across the ring: stop there"
	}
	return "mm: stop there"
}

func rounded(l unit.Millimetre) string {
	return fmt.Sprint(math.Round(float64(l)*100) / 100)
}

// drawStop is the figure, in ordinary letters where the screen is too narrow for it:
// a size that is cut off is another size. The sign between two sides has room of its
// own where there is any.
func drawStop(f *Frame, s Scene, y int, l plan, sig sign) {
	sig.figure = spaced(f, s, l, sig)
	if Width(sig.figure, l.number)+2*l.margin > f.w {
		f.Text(l.margin, y+l.number.Rows()/2, strings.ReplaceAll(sig.figure, "⌀", "round ")+" "+sig.unit(), Bold)
		return
	}
	if !f.thin || leads(s.Piece) {
		drawFigure(f, s, l, y, sig)
		return
	}
	drawDim(f, s, y, l, sig)
}

// spaced is the figure with blanks at the sign between two sides, where they and the
// key beside it fit.
func spaced(f *Frame, s Scene, l plan, sig sign) string {
	wide := strings.Replace(sig.figure, "x", " x ", 1)
	key := Width(keyGlyphs(s.Piece.Next.Key), l.number)
	if l.margin+Width(wide, l.number)+2+key+l.margin > f.w {
		return sig.figure
	}
	return wide
}

// drawDim is the figure on a page that must not shine. Where it and the word would,
// the key goes, then the height, and at last the word: the size is what the page is for.
func drawDim(f *Frame, s Scene, y int, l plan, sig sign) {
	x, rows := l.margin, l.number.Rows()
	used := x + f.Big(x, y, sig.figure, figureRole(sig), l.number)
	key := keyGlyphs(s.Piece.Next.Key)
	at := f.w - l.margin - Width(key, l.number)
	if at > used+1 && !f.sparing() {
		f.Big(at, y, key, Bold, l.number)
	}
	if f.Lit(Hearth) <= mostLit {
		return
	}
	f.Fill(used, y, f.w-used, rows, ' ', Plain)
	if f.Lit(Hearth) <= mostLit {
		return
	}
	f.Fill(0, y, f.w, rows, ' ', Plain)
	f.Big(x, y+(rows-Five.Rows())/2, sig.figure, figureRole(sig), Five)
	if f.Lit(Hearth) <= mostLit {
		return
	}
	f.Fill(0, 1, f.w, l.air+l.word.Rows()+2*plateRows, ' ', Plain)
	f.Text(x, 1+l.air+l.word.Rows()/2, sig.word, Bold)
	f.Fill(0, y, f.w, rows, ' ', Plain)
	f.Big(x, y, sig.figure, figureRole(sig), l.number)
}
