package picture

import (
	"math"
	"unicode/utf8"
)

// plot draws a panel on cells. One that is to scale finds its own height or width: a
// cell is about twice as high as wide.
func (w *writer) plot(p Panel, wide, rows int) *canvas {
	switch {
	case p.Even:
		wide, rows = evenCells(p, wide, rows)
	case p.Y.Ticks != nil:
		rows = max(min(rows, 2*len(p.Y.Ticks)+1), len(p.Y.Ticks))
	}
	c := newCanvas(max(wide, 8), rows, w.Plain)
	for _, s := range p.Series {
		c.series(p, s)
	}
	for _, r := range p.Rules {
		c.rule(p, r)
	}
	for _, s := range p.Series {
		c.markers(p, s)
	}
	w.labels(p, c)
	return c
}

// evenCells is how large a plot to scale is: as wide as may be, in no more than twice
// the usual rows.
func evenCells(p Panel, wide, rows int) (w, h int) {
	ratio := (p.Y.Max - p.Y.Min) / (p.X.Max - p.X.Min)
	if !(ratio > 0) {
		return wide, rows
	}
	if fit := math.Round(settled(float64(wide) / 2 * ratio)); fit <= float64(2*rows) {
		return wide, max(3, int(fit))
	}
	return min(wide, int(settled(float64(4*rows)/ratio))), 2 * rows
}

// series draws the lines of a series.
func (c *canvas) series(p Panel, s Series) {
	b := box{w: 1, h: 1}
	for _, run := range runs(p, s, b) {
		if s.Fill && len(run) > 0 {
			run = append(run, run[0])
		}
		stroke, drawn := s.Stroke, 0
		if s.Fill && stroke == NoStroke {
			stroke = Dotted
		}
		for i := 1; i < len(run); i++ {
			drawn = c.line(spot{run[i-1].x, 1 - run[i-1].y}, spot{run[i].x, 1 - run[i].y}, stroke, drawn)
		}
	}
}

func (c *canvas) markers(p Panel, s Series) {
	sign := c.sign(s.Marker)
	if sign == 0 {
		return
	}
	for _, q := range s.Points {
		x, okX := p.X.share(q.X)
		y, okY := p.Y.share(q.Y)
		if okX && okY && p.X.holds(q.X) && p.Y.holds(q.Y) {
			c.letter(x, y, sign)
		}
	}
}

func (c *canvas) rule(p Panel, r Rule) {
	axis := p.Y
	if r.Upright {
		axis = p.X
	}
	at, ok := axis.share(r.At)
	if !ok || !axis.holds(r.At) {
		return
	}
	from, to := spot{0, at}, spot{1, at}
	if r.Upright {
		from, to = spot{at, 0}, spot{at, 1}
	}
	c.line(from, to, r.Stroke, 0)
	if sign := c.sign(r.Marker); sign != 0 {
		c.letter(to.x, to.y, sign)
	}
}

// labels are written over the plot, those of rules to the right.
func (w *writer) labels(p Panel, c *canvas) {
	for _, r := range p.Rules {
		at, ok := p.Y.share(r.At)
		if r.Upright || r.Text == "" || !ok || !p.Y.holds(r.At) {
			continue
		}
		text := shortened(w.said(r.Text), c.w-2)
		row := c.h - 1 - c.cell(at, c.h)
		c.write(c.w-1-utf8.RuneCountInString(text), row, text)
	}
	for _, l := range p.Labels {
		x, okX := p.X.share(l.X)
		y, okY := p.Y.share(l.Y)
		if okX && okY {
			text := w.said(l.Text)
			c.write(c.cell(x, c.w)-utf8.RuneCountInString(text)/2, c.h-1-c.cell(y, c.h), text)
		}
	}
}

// write puts a text from a cell on.
func (c *canvas) write(x, y int, text string) {
	for _, r := range text {
		c.put(x, y, r)
		x++
	}
}
