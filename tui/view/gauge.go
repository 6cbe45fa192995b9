package view

import (
	"fmt"
	"math"

	"dullred/schedule"
)

// The characters of the gauge differ from one another, so that it reads without
// any colour.
const (
	gaugeFull  = stroke
	gaugeThin  = '=' // full, on a page that must not shine
	gaugeOver  = '!'
	gaugeRest  = '-'
	gaugeLimit = '|'
)

// limitAt is the share of the gauge's width at which the limit stands; what lies
// beyond it is for work past the limit.
const limitAt = 5.0 / 6

// gauge is the limit spent on a line of columns.
type gauge struct {
	width, limit, spent int       // columns
	marks               []float64 // of the courses left, as shares of the limit
}

func gaugeOf(p *Piece, width int) gauge {
	limit := int(float64(width) * limitAt)
	column := func(share float64) int { return min(width, int(math.Round(share*float64(limit)))) }
	return gauge{width: width, limit: limit, spent: column(p.Advice.Spent), marks: p.Ahead}
}

// at is the cell of a column.
func (g gauge) at(x int) Cell {
	switch {
	case x == g.limit:
		return Cell{gaugeLimit, Tick}
	case x < g.spent && x > g.limit:
		return Cell{gaugeOver, Over}
	case x < g.spent:
		return Cell{gaugeFull, Full}
	case x < g.limit:
		return Cell{gaugeRest, Rest}
	}
	return blank
}

// drawGauge is the limit spent, with the courses left numbered where each would
// bring it. With one row the numbers stand in the gauge, with more below it.
func drawGauge(f *Frame, p *Piece, l plan, y int) {
	if !p.Advice.Limit.Known() {
		text := "no limit is published or given for this metal"
		switch p.Advice.Verdict {
		case schedule.VerdictNoAnneal:
			text = "it does not harden under the hammer: no limit is counted"
		case schedule.VerdictFinished:
			text = ""
		}
		f.Text(l.margin, y, f.clip(text, f.w-2*l.margin), Dim)
		return
	}
	g := gaugeOf(p, f.w-2*l.margin)
	thick := max(1, l.gauge-1)
	for row := range thick {
		for x := range g.width {
			c := g.at(x)
			if f.thin && c.Rune == gaugeFull {
				c.Rune = gaugeThin
			}
			f.Set(l.margin+x, y+row, c.Rune, c.Role)
		}
	}
	below := y + l.gauge - 1
	for k, share := range g.marks {
		x := int(math.Round(share * float64(g.limit)))
		f.Text(l.margin+x, below, fmt.Sprint(k+1), Tick)
	}
	if l.gauge > 1 {
		f.Text(l.margin+g.limit+2, below, "limit", Tick)
	}
}
