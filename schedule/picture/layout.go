package picture

import (
	"cmp"
	"math"
)

// The measures of a figure on paper, in mm.
const (
	paperWide  = 160
	letters    = 3.0 // 8.5 points
	headline   = 3.6 // 10.2 points
	leading    = 1.35
	margin     = 2
	plotHigh   = 80 // of the one panel
	plotTwo    = 55 // of one of two panels
	plotMany   = 44 // of one of many
	mostHigh   = 85 // of an even panel
	tickLong   = 1.2
	tickAir    = 1
	tickSlots  = 6  // at most so many figures up and across a usual plot
	tickFewest = 4  // and in a panel that is half as wide
	keySample  = 11 // of a line of the key
	columnAir  = 5
)

// spot is a place on the paper, from its top left.
type spot struct{ x, y float64 }

// box is a part of the paper.
type box struct{ x, y, w, h float64 }

// page is where the parts of a figure stand.
type page struct {
	high   float64
	title  []string
	titleY float64
	frames []frame
	keyY   float64
	key    []keyed
	notes  []string
	notesY float64
}

// frame is where a panel stands: its plot within its place.
type frame struct {
	place box
	plot  box
	ticks int
}

// keyed is a line of the key in its place.
type keyed struct {
	entry
	at spot
}

// layOut finds the place of every part.
func layOut(f Figure) page {
	p := page{title: lines(f.Title, headline, paperWide-2*margin), titleY: margin}
	y := margin + float64(len(p.title))*headline*leading + 1
	columns := columnsOf(f)
	wide := (paperWide - 2*margin - columnAir*float64(columns-1)) / float64(columns)
	left := leftOf(f, columns)
	for i := 0; i < len(f.Panels); i += columns {
		high := 0.0
		for k, panel := range f.Panels[i:min(i+columns, len(f.Panels))] {
			panel.High = cmp.Or(panel.High, highOf(len(f.Panels)))
			fr := frameOf(panel, box{x: margin + float64(k)*(wide+columnAir), y: y, w: wide}, left)
			p.frames = append(p.frames, fr)
			high = max(high, fr.place.h)
		}
		y += high + 2
	}
	p.keyY = y
	p.key, y = keyOut(f, y)
	for _, n := range f.Notes {
		p.notes = append(p.notes, lines(n, letters, paperWide-2*margin)...)
	}
	p.notesY = y
	p.high = math.Ceil(y + float64(len(p.notes))*letters*leading + margin)
	return p
}

// columnsOf is how many panels stand side by side.
func columnsOf(f Figure) int {
	if len(f.Panels) < 3 {
		return 1
	}
	for _, p := range f.Panels {
		if p.Even || p.High > 0 {
			return 1
		}
	}
	return 2
}

// leftOf is how much every panel leaves for its figures, so that the plots of one
// column stand under each other.
func leftOf(f Figure, columns int) (left float64) {
	for _, p := range f.Panels {
		if p.Empty == "" {
			left = max(left, figuresWide(p.Y, ticksFor(columns)))
		}
	}
	return letters*leading + left + tickLong + tickAir
}

// ticksFor is how many figures an axis has, at most.
func ticksFor(columns int) int {
	if columns > 1 {
		return tickFewest
	}
	return tickSlots
}

// frameOf is a panel in a place of which the height is not yet known.
func frameOf(p Panel, place box, left float64) frame {
	fr := frame{place: place, ticks: tickSlots}
	if place.w < paperWide/2 {
		fr.ticks = tickFewest
	}
	top, under := 1.0, 2*letters*leading+tickLong
	if p.Title != "" {
		top += letters * leading
	}
	if p.Empty != "" {
		left, under = 1, 1
	}
	fr.plot = box{x: place.x + left, y: place.y + top, w: place.w - left - 3}
	switch {
	case p.Empty != "":
		fr.plot.h = letters*leading*float64(len(lines(p.Empty, letters, place.w-8))) + 4
	case p.Even:
		fr.plot = fr.plot.even(p)
	default:
		fr.plot.h = p.High
	}
	fr.place.h = top + fr.plot.h + under
	return fr
}

// figuresWide is the widest figure of an axis, cut to a third of the paper.
func figuresWide(a Axis, ticks int) (widest float64) {
	for _, t := range a.ticks(ticks) {
		widest = max(widest, widthOf(plain(t.Text), letters))
	}
	return min(widest, paperWide/3)
}

// highOf is how high a plot is that has no height of its own.
func highOf(panels int) float64 {
	switch panels {
	case 1:
		return plotHigh
	case 2:
		return plotTwo
	}
	return plotMany
}

// even makes a plot as high as its scale asks, and narrower where that is too high.
func (b box) even(p Panel) box {
	across, up := p.X.Max-p.X.Min, p.Y.Max-p.Y.Min
	if !(across > 0) || !(up > 0) {
		return b
	}
	scale := min(b.w/across, mostHigh/up)
	b.w, b.h = scale*across, scale*up
	return b
}

// keyOut puts the lines of the key side by side as they fit.
func keyOut(f Figure, y float64) (all []keyed, under float64) {
	x := float64(margin)
	for _, e := range f.key() {
		e.name = clipped(e.name, letters, paperWide-2*margin-keySample)
		wide := keySample + widthOf(e.name, letters) + columnAir
		if x > margin && x+wide-columnAir > paperWide-margin {
			x, y = margin, y+letters*leading
		}
		all = append(all, keyed{e, spot{x, y}})
		x += wide
	}
	if len(all) > 0 {
		y += letters*leading + 1
	}
	return all, y
}

// at is the place of a figure of a panel on the paper; false for one that has none.
func (b box) at(p Panel, x, y float64) (spot, bool) {
	sx, okX := p.X.share(x)
	sy, okY := p.Y.share(y)
	return spot{b.x + sx*b.w, b.y + (1-sy)*b.h}, okX && okY
}
