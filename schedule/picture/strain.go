package picture

import (
	"fmt"
	"strings"

	"dullred/alloys/unit"
)

// MostZones is how many zones a figure shows; it names how many more there are.
const MostZones = 6

// Strain is the work since a piece was last soft and its limit, against its courses:
// one panel for each zone, or for several that have the same story.
func (s Story) Strain() Figure {
	f := Figure{ID: "strain", Title: titled(s.Name, "strain since soft, and the limit")}
	told := []string{fmt.Sprintf("The strain since soft of %s against its courses.", s.called())}
	groups := s.groups()
	left := 0
	for _, g := range groups[min(len(groups), MostZones):] {
		left += len(g)
	}
	most, limits := 0, false
	for _, g := range groups[:min(len(groups), MostZones)] {
		most, limits = max(most, g[0].Courses), limits || g[0].limited()
	}
	for _, g := range groups[:min(len(groups), MostZones)] {
		f.Panels = append(f.Panels, s.strainPanel(g, most))
		told = append(told, strainWords(g))
	}
	told = append(told, s.heatWords())
	f.Notes = s.notes(left, limits)
	f.Panels = orNothing(f.Panels, "Nothing of this piece was logged yet.")
	f.Desc = strings.Join(some(append(told, f.Notes...)), " ")
	return f
}

// titled is the name of a piece and what is shown of it.
func titled(name, what string) string {
	if name == "" {
		return what
	}
	return plain(name) + ": " + what
}

// called is a piece with its metal, in words.
func (s Story) called() string {
	switch {
	case s.Name == "":
		return "this piece"
	case s.Alloy.Name == "":
		return s.Name
	}
	return s.Name + " (" + plain(s.Alloy.Name) + ")"
}

// orNothing is one empty panel where there is none.
func orNothing(panels []Panel, why string) []Panel {
	if len(panels) > 0 {
		return panels
	}
	return []Panel{{Empty: why}}
}

// some are the texts that are not empty.
func some(texts []string) (out []string) {
	for _, t := range texts {
		if t != "" {
			out = append(out, t)
		}
	}
	return out
}

// notes say what the panels leave out, and why there is no limit.
func (s Story) notes(left int, limits bool) (notes []string) {
	if left > 0 {
		notes = append(notes, fmt.Sprintf("... and %s, not shown.", counted(left, "more zone")))
	}
	switch {
	case len(s.Silenced) > 0:
		notes = append(notes, "This piece cannot be followed: "+plain(s.Silenced[0])+".")
	case s.Alloy.SelfSoftening:
		notes = append(notes, "This metal softens by itself: there is no limit to keep.")
	case len(s.Zones) > 0 && !limits:
		notes = append(notes, "No limit is known for this metal.")
	}
	return notes
}

func (z Zone) limited() bool {
	for _, s := range z.Steps {
		if s.Limit > 0 {
			return true
		}
	}
	return false
}

// strainPanel is a group of zones, over an axis that all groups share.
func (s Story) strainPanel(group []Zone, courses int) Panel {
	z := group[0]
	p := Panel{Title: named(group), X: Axis{Label: "courses (count)", Max: float64(max(courses, 1))},
		Y: Axis{Label: "true strain since soft (no unit)"}}
	if len(group) == len(s.Zones) {
		p.Title = ""
	}
	if len(z.Steps) == 0 {
		p.Empty = "No size of it was read: its strain is not known."
		return p
	}
	p.X.Ticks = courseTicks(max(courses, 1))
	line, read, guess, limit := z.strainSeries()
	if n := len(limit.Points); n > 0 {
		limit.Points = append(limit.Points, Point{X: p.X.Max, Y: limit.Points[n-1].Y}) // it holds for what comes
	}
	p.Series = []Series{line, limit, read, guess}
	p.Rules = s.heatRules(z.Name)
	top := 0.1
	for _, series := range p.Series {
		for _, q := range series.Points {
			top = upTo(top, q.Y)
		}
	}
	p.Y.Max = top * 1.15
	return p
}

// courseTicks are at whole courses.
func courseTicks(most int) (all []Tick) {
	step := max(1, int(stepOf(float64(most), 6)))
	for n := 0; n <= most; n += step {
		all = append(all, Tick{float64(n), fmt.Sprint(n)})
	}
	return all
}

// strainSeries are the line of the work, what was read, what is an estimate, and the
// limit. A figure that is none is left out.
func (z Zone) strainSeries() (line, read, guess, limit Series) {
	line = Series{Name: "strain since soft", Stroke: Solid}
	read = Series{Name: "read", Marker: Disc}
	guess = Series{Name: "estimated, not read", Marker: Ring}
	limit = Series{Name: "limit", Stroke: LongDash}
	for _, s := range z.Steps {
		at := Point{X: float64(s.Courses), Y: float64(finite(s.Done.Strain)), Gap: s.Fresh}
		line.Points = append(line.Points, at)
		switch {
		case s.Read:
			read.Points = append(read.Points, at)
		case !s.Fresh:
			guess.Points = append(guess.Points, at)
		}
		limit.Points = stair(limit.Points, Point{X: at.X, Y: float64(finite(s.Limit))})
	}
	return line, read, guess, limit
}

// stair adds a figure to a line that is not joined where the figure changes.
func stair(points []Point, next Point) []Point {
	if !(next.Y > 0) {
		return points
	}
	n := len(points)
	if n > 0 && points[n-1].Y != next.Y && points[n-1].X < next.X {
		points = append(points, Point{X: next.X, Y: points[n-1].Y})
	}
	next.Gap = n > 0 && points[n-1].Y != next.Y
	return append(points, next)
}

// heatRules are the heats of a zone, at the courses it had by then.
func (s Story) heatRules(zone string) (all []Rule) {
	for _, h := range s.Heats {
		for _, z := range h.Zones {
			if z.Name == zone {
				all = append(all, ruleOf(z))
			}
		}
	}
	return all
}

func ruleOf(z Heated) Rule {
	r := Rule{At: float64(z.Courses), Upright: true, Stroke: Dotted, Marker: Ring, Name: "heat, not proved"}
	switch z.Proof {
	case Soft:
		r.Stroke, r.Marker, r.Name = Solid, Square, "heat, proved soft"
	case Springy:
		r.Marker, r.Name = Cross, "heat, proved springy"
	}
	return r
}

// strainWords are the figures of a group of zones in a sentence.
func strainWords(group []Zone) string {
	z, name := group[0], "Z"+named(group)[1:]
	last, ok := z.Last()
	if !ok {
		return name + ": no size was read."
	}
	text := fmt.Sprintf("%s: %s, strain %.2f since soft now", name, counted(z.Courses, "course"), float64(finite(last.Done.Strain)))
	if last.Limit > 0 {
		text += fmt.Sprintf(", %.0f %% of the limit of %.2f", 100*float64(last.Done.Strain/last.Limit), float64(last.Limit))
	}
	if top := z.highest(); top > last.Done.Strain {
		text += fmt.Sprintf("; the most it had was %.2f", float64(top))
	}
	return text + "."
}

func (z Zone) highest() (top unit.Strain) {
	for _, s := range z.Steps {
		top = max(top, finite(s.Done.Strain))
	}
	return top
}

// heatWords counts the heats.
func (s Story) heatWords() string {
	proved := 0
	for _, h := range s.Heats {
		if h.Proof() == Soft {
			proved++
		}
	}
	if len(s.Heats) == 0 {
		return "No heat was logged."
	}
	return fmt.Sprintf("%s, of which %d proved soft.", counted(len(s.Heats), "heat"), proved)
}

// counted is a number of things.
func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
