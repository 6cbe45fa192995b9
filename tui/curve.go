package tui

import (
	"slices"
	"strings"

	"dullred/schedule/picture"
	"dullred/tui/view"
)

// curves are the pictures of a piece, one after the other.
var curves = []func(picture.Story) picture.Figure{picture.Story.Strain, picture.Story.Hardness, picture.Story.Heat, picture.Story.Shape}

// curved is a picture as it was drawn last, and of what.
type curved struct {
	at    int // which of the pictures
	of    curveOf
	drawn view.Curve
}

// curveOf is what a picture was drawn of: with the same it is the same.
type curveOf struct {
	piece         *piece
	entries       int
	zone          string
	at            int
	width, height int
}

// nextCurve goes to the pictures, and then from one to the next.
func (b *Bench) nextCurve() {
	if b.page != view.Curves {
		b.turn(view.Curves)
		b.curve.at = 0
		return
	}
	b.curve.at, b.scroll = (b.curve.at+1)%len(curves), 0
}

// curveView is the picture of a piece, in the zone that was chosen. It is drawn once for
// each entry and size, and on its own page alone; nil on any other.
func (b *Bench) curveView(p *piece) *view.Curve {
	if b.page != view.Curves || b.drill != nil {
		return nil
	}
	of := curveOf{piece: p, entries: len(p.entries), zone: b.zone, at: b.curve.at, width: b.width, height: b.height}
	if b.curve.of != of {
		b.curve.of, b.curve.drawn = of, b.drawCurve(p, of)
	}
	return &b.curve.drawn
}

func (b *Bench) drawCurve(p *piece, of curveOf) view.Curve {
	story := picture.Of(picture.Source{Name: p.name, Book: b.book(), Entries: slices.Concat(b.clocks, p.entries)})
	f := curves[of.at](story.Only(of.zone))
	columns, rows := view.CurveRoom(of.width, of.height)
	f.Style = b.style
	text := picture.Text(f, picture.Terminal{Columns: columns, Rows: rows, Bare: true})
	c := view.Curve{Title: f.Title, Rows: strings.Split(strings.TrimRight(text, "\n"), "\n"), Said: f.Desc, At: of.at + 1, Of: len(curves)}
	if len(f.Panels) == 1 && f.Panels[0].Empty == f.Desc {
		c.Said = "" // it stands in place of the picture
	}
	return c
}
