package picture

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// mostStretches is how many stretches of work a figure shows, the newest of them.
const mostStretches = 12

// travelled is a stretch of work in a zone.
type travelled struct {
	zone string
	Stretch
}

// Hardness is the published hardness of the metal over the work in it, with how far
// each stretch of work went along it. Where nothing is published it says so.
func (s Story) Hardness() Figure {
	f := Figure{ID: "hardness", Title: titled(s.Name, "hardness over the work since soft")}
	all := s.travels()
	form := alloys.Strip
	if len(all) > 0 {
		form = all[len(all)-1].Form
	}
	curve, ok := s.Alloy.Curve(alloys.Hardness, form)
	x := reductionAxis(form, curve, all)
	if !ok || len(curve.Points()) < 2 {
		f.Panels = []Panel{{Empty: fmt.Sprintf("No hardness over cold work is published for %s %s: none is drawn.", cmp.Or(plain(s.Alloy.Name), "this metal"), formWords(form))}}
	} else {
		f.Panels = []Panel{curvePanel(curve, form, x, all)}
	}
	left := max(0, len(all)-mostStretches)
	if len(all) > 0 {
		f.Panels = append(f.Panels, travelPanel(form, x, all[left:]))
	}
	f.Notes = hardnessNotes(all, left, form)
	f.Desc = strings.Join(some(append(append([]string{curveWords(s, curve, form, ok)}, travelWords(curve, form, all[left:])...), f.Notes...)), " ")
	return f
}

// travels are the stretches of all zones in order; what several zones have alike is one.
func (s Story) travels() (all []travelled) {
	for i, z := range s.Zones {
		for k, st := range z.Stretches {
			alike := i > 0 && k < len(s.Zones[0].Stretches) && s.Zones[0].Stretches[k] == st
			if !alike && st.Known {
				all = append(all, travelled{plain(z.Name), st})
			}
		}
	}
	return all
}

// shareOf is work as handbooks print it for a form, in per cent: of the area for wire,
// of the thickness for strip.
func shareOf(form alloys.Form, s unit.Strain) float64 {
	if form == alloys.Wire {
		return 100 * float64(s.AreaReduction())
	}
	return 100 * float64(s.Worked())
}

func strainAt(form alloys.Form, share float64) unit.Strain {
	if form == alloys.Wire {
		return unit.AreaReduction(share / 100).Strain()
	}
	return unit.ThicknessReduction(share / 100).Strain()
}

func formWords(form alloys.Form) string {
	if form == alloys.Wire {
		return "drawn as wire"
	}
	return "rolled as strip"
}

func reductionAxis(form alloys.Form, c alloys.Curve, all []travelled) Axis {
	a := Axis{Label: "thickness worked off since soft (%)"}
	if form == alloys.Wire {
		a.Label = "area drawn off since soft (%)"
	}
	top := 10.0
	for _, p := range c.Points() {
		top = upTo(top, shareOf(form, p.Strain))
	}
	for _, t := range all {
		top = upTo(top, shareOf(form, finite(t.Done.Strain)), shareOf(form, finite(t.Limit)))
	}
	a.Max = min(100, math.Ceil(top/10-1e-9)*10)
	return a
}

// curvePanel is the published band with its points, and where the stretches ended.
func curvePanel(c alloys.Curve, form alloys.Form, x Axis, all []travelled) Panel {
	p := Panel{X: x, Y: Axis{Label: "hardness (HV)"}, High: plotTwo + 10}
	low, high := math.Inf(1), math.Inf(-1)
	points := Series{Name: "published (" + plain(c.Source) + ")", Marker: Disc}
	for _, q := range c.Points() {
		at := shareOf(form, q.Strain)
		points.Points = append(points.Points, Point{X: at, Y: q.Low, Gap: true})
		if q.High != q.Low {
			points.Points = append(points.Points, Point{X: at, Y: q.High})
		}
		low, high = min(low, q.Low), max(high, q.High)
	}
	p.Y.Min, p.Y.Max = math.Floor(low/10)*10, math.Ceil(high/10+0.5)*10
	p.Series = []Series{bandOf(c, form), points}
	for k, t := range all[max(0, len(all)-mostStretches):] {
		p.Series = append(p.Series, endSeries(c, form, t))
		if from, to, ok := c.At(finite(t.Done.Strain)); ok && k < mostStretches {
			p.Labels = append(p.Labels, Label{X: shareOf(form, t.Done.Strain) + x.Max/50, Y: (from + to) / 2, Text: fmt.Sprint(k + 1)})
		}
	}
	return p
}

// bandOf is the area between the lowest and the highest that is published.
func bandOf(c alloys.Curve, form alloys.Form) Series {
	s := Series{Name: "between what is published", Fill: true, Stroke: Dotted}
	points := c.Points()
	from, to := shareOf(form, points[0].Strain), shareOf(form, points[len(points)-1].Strain)
	var back []Point
	const steps = 60
	for i := range steps + 1 {
		at := from + (to-from)*float64(i)/steps
		if low, high, ok := c.At(strainAt(form, at)); ok {
			s.Points = append(s.Points, Point{X: at, Y: low})
			back = append(back, Point{X: at, Y: high})
		}
	}
	for i := range back {
		s.Points = append(s.Points, back[len(back)-1-i])
	}
	return s
}

// endLook is how a stretch ended, as it is drawn and named.
func endLook(e End) (Marker, string) {
	switch e {
	case Annealed:
		return Square, "where it was annealed"
	case Cracked:
		return Cross, "where a crack was seen"
	}
	return Diamond, "where it is now"
}

// endSeries is the end of a stretch on the curve; empty past what is published.
func endSeries(c alloys.Curve, form alloys.Form, t travelled) Series {
	marker, name := endLook(t.End)
	s := Series{Name: name, Marker: marker}
	if low, high, ok := c.At(finite(t.Done.Strain)); ok {
		s.Points = []Point{{X: shareOf(form, t.Done.Strain), Y: (low + high) / 2}}
	}
	return s
}

// travelPanel is a row for each stretch, from soft metal to where it ended.
func travelPanel(form alloys.Form, x Axis, all []travelled) Panel {
	p := Panel{Title: "stretches of work, oldest first", X: x, High: max(18, 6*float64(len(all))),
		Y: Axis{Label: "stretch", Min: 0.5, Max: float64(len(all)) + 0.5, Ticks: []Tick{}}}
	for i, t := range all {
		y := float64(len(all) - i)
		p.Y.Ticks = append(p.Y.Ticks, Tick{y, fmt.Sprintf("%d %s", i+1, shortName(t.zone))})
		marker, name := endLook(t.End)
		end := Point{X: shareOf(form, finite(t.Done.Strain)), Y: y}
		p.Series = append(p.Series, Series{Stroke: Solid, Points: []Point{{Y: y}, end}}, Series{Name: name, Marker: marker, Points: []Point{end}})
		if t.Limit > 0 {
			p.Series = append(p.Series, Series{Name: "its limit", Marker: Ring, Points: []Point{{X: shareOf(form, finite(t.Limit)), Y: y}}})
		}
	}
	return p
}

// shortName is a name that fits beside a row.
func shortName(name string) string {
	if r := []rune(plain(name)); len(r) > 14 {
		return string(r[:11]) + "..."
	}
	return plain(name)
}

func hardnessNotes(all []travelled, left int, form alloys.Form) (notes []string) {
	if left > 0 {
		notes = append(notes, fmt.Sprintf("... and %s before these, not shown.", counted(left, "stretch of work")))
	}
	cast, mixed := false, false
	for _, t := range all {
		cast, mixed = cast || t.Cast, mixed || t.Form != form
	}
	if cast {
		notes = append(notes, "Some of it was worked as cast; the curve is of wrought metal that was soft.")
	}
	if mixed {
		notes = append(notes, "Part of the work was on a section of the other form, for which this curve does not speak.")
	}
	return notes
}

func curveWords(s Story, c alloys.Curve, form alloys.Form, ok bool) string {
	points := c.Points()
	if !ok || len(points) < 2 {
		return fmt.Sprintf("No hardness over cold work is published for %s %s.", cmp.Or(plain(s.Alloy.Name), "this metal"), formWords(form))
	}
	first, last := points[0], points[len(points)-1]
	return fmt.Sprintf("Published hardness of %s, %s: %s at %.0f %% to %s at %.0f %%, from %d points (%s).", plain(s.Alloy.Name), formWords(form),
		band(first.Low, first.High), shareOf(form, first.Strain), band(last.Low, last.High), shareOf(form, last.Strain), len(points), plain(c.Source))
}

func band(low, high float64) string {
	if math.Round(low) == math.Round(high) {
		return fmt.Sprintf("%.0f HV", low)
	}
	return fmt.Sprintf("%.0f to %.0f HV", low, high)
}

func travelWords(c alloys.Curve, form alloys.Form, all []travelled) (out []string) {
	for i, t := range all {
		text := fmt.Sprintf("Stretch %d, %s: 0 to %.0f %%", i+1, t.zone, shareOf(form, finite(t.Done.Strain)))
		_, how := endLook(t.End)
		text += ", " + how
		read := coldwork.Band{}
		read.Low, read.High, read.OK = c.At(finite(t.Done.Strain))
		if read.OK {
			text += ", about " + band(read.Low, read.High)
		} else if len(c.Points()) > 1 {
			text += ", outside of what is published: its hardness is not known"
		}
		out = append(out, text+".")
	}
	return out
}
