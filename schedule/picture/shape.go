package picture

import (
	"fmt"
	"math"
	"strings"

	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// part is a stretch along a piece that is drawn as one.
type part struct {
	Zone
	names string
}

// Shape is a piece at its start and now, to scale: a bar from the side with its zones
// in order, a ring or the ring that a bowl is read at from above. A length that is
// not known is not drawn to scale, and the figure says so.
func (s Story) Shape() Figure {
	f := Figure{ID: "shape", Title: titled(s.Name, "shape at the start and now")}
	parts := s.parts()
	switch {
	case len(parts) == 0:
		f.Panels = []Panel{{Empty: "No size of this piece was read: its shape is not known."}}
	case round(parts):
		f.Panels = ringPanels(parts)
	default:
		f.Panels = s.barPanels(parts)
	}
	for i, p := range parts {
		f.Notes = append(f.Notes, s.partWords(i, p, len(parts)))
	}
	if more := len(s.Zones) - MostZones; more > 0 && len(parts) > 1 {
		f.Notes = append(f.Notes, fmt.Sprintf("... and %d more zones, which are not shown.", more))
	}
	f.Notes = append(f.Notes, s.lengthWords(parts)...)
	f.Desc = strings.Join(some(append([]string{fmt.Sprintf("The shape of %s at the start and now.", s.called()), f.Panels[0].Empty}, f.Notes...)), " ")
	return f
}

// parts are the zones of which a size is known; zones that are all alike are one.
func (s Story) parts() (all []part) {
	alike := true
	for _, z := range s.Zones {
		if z.Start.Known() {
			all = append(all, part{z, plain(z.Name)})
			alike = alike && z.Start == all[0].Start && z.End == all[0].End && z.Longer == all[0].Longer
		}
	}
	if alike && len(all) == len(s.Zones) && len(all) > 1 {
		all[0].names = "whole"
		return all[:1]
	}
	return all[:min(len(all), MostZones)]
}

// round reports whether all parts are read at a ring.
func round(parts []part) bool {
	for _, p := range parts {
		if ring(p.Start) == 0 || ring(p.End) == 0 {
			return false
		}
	}
	return true
}

// ring is the diameter of a closed ring, inside, or of that which the wall of a vessel
// is read at; 0 for another section.
func ring(s coldwork.Section) unit.Millimetre {
	if s.Shape == unit.Ring || s.Shape == unit.Sheet {
		return s.Diameter
	}
	return 0
}

// lengths are those of the parts at the start and now, in mm; false where they are not
// known: of several zones nobody noted where they divide the bar.
func (s Story) lengths(parts []part) (start, now float64, ok bool) {
	if len(parts) != 1 || s.Length <= 0 || !(parts[0].Longer > 0) || parts[0].Longer > 1e6 {
		return 0, 0, false
	}
	start = float64(s.Length)
	return start, start * parts[0].Longer, true
}

// thick is how high a section is, seen from the side.
func thick(s coldwork.Section) float64 {
	switch s.Shape {
	case unit.Round, unit.Tube:
		return float64(s.Diameter)
	}
	return float64(s.Thick)
}

// barPanels are the side of a bar at its start and now, on the same scale.
func (s Story) barPanels(parts []part) []Panel {
	start, now, known := s.lengths(parts)
	high := 0.0
	for _, p := range parts {
		high = max(high, thick(p.Start), thick(p.End))
	}
	x := Axis{Label: "length (mm)", Max: max(start, now)}
	if !known {
		x = Axis{Label: unknownLength(parts), Max: float64(len(parts)), Ticks: []Tick{}}
		start, now = x.Max, x.Max
	}
	y := Axis{Label: "height (mm)", Min: -high * 0.75, Max: high * 0.75, Ticks: thickTicks(high)}
	make := func(title string, long float64, of func(part) coldwork.Section) Panel {
		p := Panel{Title: title, X: x, Y: y, Even: known && flat(x, y)}
		if !p.Even {
			p.High = 26
		}
		p.Series, p.Labels = sides(parts, long, of)
		return p
	}
	return []Panel{make("at the start", start, func(p part) coldwork.Section { return p.Start }),
		make("now", now, func(p part) coldwork.Section { return p.End })}
}

// unknownLength names an axis that is not to scale.
func unknownLength(parts []part) string {
	if len(parts) == 1 {
		return "its length is not known and not to scale"
	}
	return "zones in order; their lengths are not known and not to scale"
}

// flat reports whether a bar to scale is high enough to be seen, and no higher than
// the paper.
func flat(x, y Axis) bool {
	ratio := (y.Max - y.Min) / x.Max
	return ratio > 0.04 && ratio < 0.6
}

func thickTicks(high float64) []Tick {
	half := high / 2
	return []Tick{{-half, fmt.Sprintf("%.3g", -half)}, {0, "0"}, {half, fmt.Sprintf("%.3g", half)}}
}

// sides are the outlines of the parts end to end, over a length.
func sides(parts []part, long float64, of func(part) coldwork.Section) (all []Series, labels []Label) {
	each := long / float64(len(parts))
	for i, p := range parts {
		from, to, half := float64(i)*each, float64(i+1)*each, thick(of(p))/2
		all = append(all, Series{Fill: true, Stroke: Solid, Points: []Point{{X: from, Y: -half}, {X: to, Y: -half}, {X: to, Y: half}, {X: from, Y: half}}})
		if len(parts) > 1 {
			labels = append(labels, Label{X: (from + to) / 2, Text: fmt.Sprint(i + 1)})
		}
	}
	return all, labels
}

// ringPanels are the rings from above, at the start and now, about one middle.
func ringPanels(parts []part) []Panel {
	widest := 0.0
	for _, p := range parts {
		widest = max(widest, float64(outer(p.Start)), float64(outer(p.End)))
	}
	half := widest * 0.55
	p := Panel{X: Axis{Label: "across (mm)", Min: -half, Max: half}, Y: Axis{Label: "along (mm)", Min: -half, Max: half}, Even: true}
	for _, z := range parts {
		p.Series = append(p.Series, circle("at the start", Dashed, float64(outer(z.Start))), circle("now", Solid, float64(outer(z.End))))
	}
	return []Panel{p}
}

// outer is the ring as it is seen from above: the outside of a closed one.
func outer(s coldwork.Section) unit.Millimetre {
	if s.Shape == unit.Ring {
		return s.Diameter + 2*s.Thick
	}
	return s.Diameter
}

func circle(name string, s Stroke, diameter float64) Series {
	out := Series{Name: name, Stroke: s}
	const corners = 72
	for i := range corners + 1 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		out.Points = append(out.Points, Point{X: diameter / 2 * cos, Y: diameter / 2 * sin})
	}
	return out
}

// partWords are the sizes of a part in a sentence.
func (s Story) partWords(i int, p part, of int) string {
	text := p.names
	if of > 1 {
		text = fmt.Sprintf("%d %s", i+1, p.names)
	}
	text += fmt.Sprintf(": %v at the start, %v now", p.Start, p.End)
	if p.Filed {
		text += "; metal was taken off it"
	}
	return text + "."
}

// lengthWords say what is known of the length, and why nothing is.
func (s Story) lengthWords(parts []part) []string {
	start, now, ok := s.lengths(parts)
	switch {
	case len(parts) == 0 || round(parts):
		return nil
	case ok && parts[0].Filed:
		return []string{fmt.Sprintf("Length: %.0f mm at the start, %.0f mm now by constant volume, less what was cut off the ends.", start, now)}
	case ok:
		return []string{fmt.Sprintf("Length: %.0f mm at the start, %.0f mm now by constant volume.", start, now)}
	case len(parts) > 1:
		return []string{"How long each zone is was not noted: its length is not known."}
	case s.Length <= 0:
		return []string{"Its length at the start was not noted: its length is not known."}
	}
	return []string{"Its width is not followed, and so neither is its length."}
}
