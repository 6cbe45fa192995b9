package schedule

import (
	"fmt"
	"math"
	"strings"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// The picture: a margin for the hardness, the columns of the work, the rows of the
// hardness. With its head, axis and foot it is 64 by 12.
const (
	pictureMargin = 6
	pictureWide   = 58
	pictureHigh   = 9
)

// tellCurve draws the published hardness with the piece on it, or says that there is none.
func (e *explainer) tellCurve() {
	form := coldwork.FormOf(e.zone.Tally.Section())
	c, ok := e.state.Alloy.Curve(alloys.Hardness, form)
	if !ok || len(c.Points()) < 2 || !e.zone.Tally.Section().Known() {
		e.say("hardness", "nothing is published for %s %s over its work, and nothing is drawn", e.state.Alloy.Name, formName(form))
		return
	}
	p := picture{curve: c, form: form, done: e.advice.Done.Strain, limit: e.advice.Limit.Strain,
		band: coldwork.TemperOf(e.state.Alloy, form, e.advice.Done).Hardness}
	stands := fmt.Sprintf("X this piece at %.1f %%, past what is published: its hardness is not known", 100*p.share(p.done))
	if p.band.OK {
		stands = fmt.Sprintf("X this piece at %.1f %%, about %.0f to %.0f HV", 100*p.share(p.done), p.band.Low, p.band.High)
	} else if p.done < c.Points()[0].Strain {
		stands = fmt.Sprintf("X this piece at %.1f %%, before what is published: its hardness is not known", 100*p.share(p.done))
	}
	text := fmt.Sprintf("o published (%s, %s), dots are read between them; %s", c.Source, formName(form), stands)
	if p.limit > 0 {
		text += fmt.Sprintf("; L the limit at %.1f %%", 100*p.share(p.limit))
	}
	e.say("hardness", "%s", text)
	e.out.Picture = p.draw()
}

// picture is hardness over work with a piece on it.
type picture struct {
	curve       alloys.Curve
	form        alloys.Form
	done, limit unit.Strain // limit 0 without one
	band        coldwork.Band
}

// share is the work as handbooks print it for the form: of the area for wire, of
// the thickness for strip.
func (p picture) share(s unit.Strain) float64 {
	if p.form == alloys.Wire {
		return float64(s.AreaReduction())
	}
	return float64(s.Worked())
}

func (p picture) strain(share float64) unit.Strain {
	if p.form == alloys.Wire {
		return unit.AreaReduction(share).Strain()
	}
	return unit.ThicknessReduction(share).Strain()
}

// widest is the right end of the axis, in tens of per cent.
func (p picture) widest() float64 {
	points := p.curve.Points()
	far := max(p.share(points[len(points)-1].Strain), p.share(p.done), p.share(p.limit))
	return min(1, math.Ceil(10*far-1e-9)/10)
}

// scale is the hardness at the bottom and the top row, in tens of HV.
func (p picture) scale() (bottom, top float64) {
	bottom, top = math.Inf(1), math.Inf(-1)
	for _, q := range p.curve.Points() {
		bottom, top = min(bottom, q.Low), max(top, q.High)
	}
	bottom, top = math.Floor(bottom/10)*10, math.Ceil(top/10)*10
	return bottom, max(top, bottom+10)
}

func (p picture) column(share float64) int {
	return int(math.Round(share / p.widest() * (pictureWide - 1)))
}

// row counts from the top.
func (p picture) row(hv float64) int {
	bottom, top := p.scale()
	return int(math.Round((top - hv) / (top - bottom) * (pictureHigh - 1)))
}

// draw is the picture, row by row.
func (p picture) draw() []string {
	cells := make([][]byte, pictureHigh)
	for i := range cells {
		cells[i] = []byte(strings.Repeat(" ", pictureWide))
	}
	stroke := func(column int, low, high float64, mark byte) {
		for r := p.row(high); r <= p.row(low); r++ {
			cells[r][column] = mark
		}
	}
	for k := range pictureWide {
		if low, high, ok := p.curve.At(p.strain(float64(k) / (pictureWide - 1) * p.widest())); ok {
			stroke(k, low, high, '.')
		}
	}
	for _, q := range p.curve.Points() {
		at := p.column(p.share(q.Strain))
		cells[p.row(q.Low)][at], cells[p.row(q.High)][at] = 'o', 'o'
	}
	if p.band.OK {
		stroke(p.column(p.share(p.done)), p.band.Low, p.band.High, 'X')
	}
	return p.framed(cells)
}

// framed adds the head, the axes and their figures.
func (p picture) framed(cells [][]byte) []string {
	of := "thickness rolled off"
	if p.form == alloys.Wire {
		of = "area drawn off"
	}
	bottom, top := p.scale()
	out := []string{"  HV   over % of the " + of}
	for r, row := range cells {
		figure := "    "
		if r%4 == 0 {
			figure = fmt.Sprintf("%4.0f", top-(top-bottom)*float64(r)/(pictureHigh-1))
		}
		out = append(out, strings.TrimRight(figure+" |"+string(row), " "))
	}
	return append(out, p.axis(), p.foot())
}

// axis has the piece and the limit on it.
func (p picture) axis() string {
	line := []byte(strings.Repeat("-", pictureWide))
	if p.limit > 0 {
		line[p.column(p.share(p.limit))] = 'L'
	}
	line[p.column(p.share(p.done))] = 'X'
	return strings.Repeat(" ", pictureMargin-1) + "+" + string(line)
}

// foot has the figures of the axis: nothing, the middle and the end.
func (p picture) foot() string {
	end := fmt.Sprintf("%.0f", 100*p.widest())
	half := pictureWide/2 - 1
	return strings.Repeat(" ", pictureMargin) + fmt.Sprintf("%-*s%-*s%s", half, "0", pictureWide-half-len(end), fmt.Sprintf("%.0f", 50*p.widest()), end)
}
