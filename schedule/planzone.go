package schedule

import (
	"fmt"
	"math"

	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
	"dullred/schedule/stock"
)

// PlanZone is a part of a finished piece that is drawn by itself: an end, or a
// place where the section is largest, smallest or turns. It is read at that place;
// the tapers to its neighbours follow.
type PlanZone struct {
	Name    string
	From    unit.Millimetre // of the even stretch on the finished piece
	To      unit.Millimetre // the same as From where nothing is even
	Section stock.Section   // finished
	Least   unit.SquareMillimetre
	Wire    bool // a tang: drawn through the plate at the end
}

// planTarget is a zone with its way from where its metal is now.
type planTarget struct {
	PlanZone
	start planStart
	end   coldwork.Section // finished, as a calliper reads it
	bend  unit.Strain      // that bending puts into it
	path  planPath
}

// planStart is where the metal of a zone is.
type planStart struct {
	section coldwork.Section
	work    unit.Strain // since it was last soft
	cast    bool
}

// planZones are the zones of a shape, in order along it.
func planZones(s stock.Shape) []planTarget {
	runs := evenRuns(s.Stations)
	var out []planTarget
	for i, r := range runs {
		if i > 0 && i < len(runs)-1 && !turns(runs[i-1].Section, r.Section, runs[i+1].Section) {
			continue
		}
		out = append(out, planTarget{PlanZone: r, end: finished(r.Section)})
	}
	nameZones(out)
	for _, t := range s.Tangs {
		name := "tang A"
		at := unit.Millimetre(0)
		if t.End == stock.Finish {
			name, at = "tang B", s.Length()
		}
		z := PlanZone{Name: name, From: at, To: at, Section: t.Wire(), Least: t.Wire().Area(), Wire: true}
		out = append(out, planTarget{PlanZone: z, end: finished(t.Wire())})
	}
	return out
}

// evenRuns are the stations with equal neighbours made one.
func evenRuns(stations []stock.Station) (runs []PlanZone) {
	for _, st := range stations {
		if n := len(runs); n > 0 && runs[n-1].Section == st.Section {
			runs[n-1].To = st.At
			continue
		}
		runs = append(runs, PlanZone{From: st.At, To: st.At, Section: st.Section, Least: st.Section.Area()})
	}
	return runs
}

// turns reports whether the piece changes its way at b: another kind of section,
// or area, width or thickness that no longer go on as they came.
func turns(a, b, c stock.Section) bool {
	if a.Kind != b.Kind || b.Kind != c.Kind {
		return true
	}
	way := func(x, y, z float64) bool { return (y-x)*(z-y) < 0 || (y == x) != (z == y) }
	return way(float64(a.Area()), float64(b.Area()), float64(c.Area())) ||
		way(float64(a.Width), float64(b.Width), float64(c.Width)) ||
		way(float64(a.Thick), float64(b.Thick), float64(c.Thick))
}

// nameZones names zones along a piece: tips are ends that are thinner than what
// is next to them.
func nameZones(zones []planTarget) {
	last := len(zones) - 1
	for i := range zones {
		switch {
		case last == 0:
			zones[i].Name = Whole
		case i == 0:
			zones[i].Name = endName(zones[0], zones[1]) + " A"
		case i == last:
			zones[i].Name = endName(zones[last], zones[last-1]) + " B"
		case last == 2:
			zones[i].Name = "middle"
		default:
			zones[i].Name = fmt.Sprintf("part %d", i)
		}
	}
}

func endName(end, next planTarget) string {
	if end.Least < next.Least {
		return "tip"
	}
	return "end"
}

// finished is a section as it is read with the thinner side first. A half round
// and a lozenge stand as the flat bar of their width and area, from which they
// are shaped.
func finished(s stock.Section) coldwork.Section {
	if z, ok := s.Size(); ok && z.Shape != unit.Rectangular {
		return coldwork.Section(z)
	}
	thick := unit.Millimetre(float64(s.Area()) / float64(s.Width))
	return coldwork.Section{Shape: unit.Rectangular, Thick: min(thick, s.Width), Width: max(thick, s.Width)}
}

// sidesOf are the thinner and the wider side of a bar, in mm; a round one stands
// as the square of equal area, and the wall of a bowl by its ring.
func sidesOf(s coldwork.Section) (thin, wide float64) {
	if isVessel(s) {
		return float64(s.Diameter), float64(s.Diameter)
	}
	if s.Shape == unit.Round {
		side := float64(s.Diameter) * math.Sqrt(math.Pi) / 2
		return side, side
	}
	return float64(min(s.Thick, s.Width)), float64(max(s.Thick, s.Width))
}

func areaOf(s coldwork.Section) float64 {
	thin, wide := sidesOf(s)
	return thin * wide
}
