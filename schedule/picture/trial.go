package picture

import (
	"fmt"
	"math"
	"strings"

	"dullred/schedule/trial"
)

// compared are the policies of the figure and how they are drawn.
var compared = []struct {
	name   string
	stroke Stroke
	marker Marker
}{{trial.Measured, Solid, Disc}, {trial.Stranger, Dashed, Ring}, {trial.Ten, DashDot, Triangle},
	{trial.Hundred, LongDash, Square}, {trial.To45Loose, Dotted, Cross}, {trial.TrueLaw, Solid, Diamond}}

// trialSteps is how many stretches each line has.
const trialSteps = 16

// Trial is how many pieces split for how many heats, by each way of deciding when to
// anneal, in a simulated shop. Splits are on a logarithmic scale.
func Trial(r trial.Result) Figure {
	f := Figure{ID: "trial", Title: "A simulated shop: pieces split against heats"}
	if len(r.Policies) == 0 {
		f.Panels = []Panel{{Empty: "No trial was made."}}
		f.Desc = f.Panels[0].Empty
		return f
	}
	f.Title = titled(r.Shop.Name, fmt.Sprintf("pieces split against heats (simulated, %d pieces)", r.Shop.Pieces))
	p := Panel{X: Axis{Label: "heats per piece (count)", Min: r.Shop.From - 0.5, Max: r.Shop.To + 0.5},
		Y: Axis{Label: "pieces split per 1,000 (logarithmic)", Log: true}}
	low, high := math.Inf(1), 0.0
	for _, c := range compared {
		s := Series{Name: c.name, Stroke: c.stroke, Marker: c.marker}
		for i := range trialSteps + 1 {
			heats := p.X.Min + (p.X.Max-p.X.Min)*float64(i)/trialSteps
			split, ok := r.Policy(c.name).At(heats)
			if !ok || !(split > 0) {
				continue
			}
			s.Points = append(s.Points, Point{X: heats, Y: split})
			low, high = min(low, split), max(high, split)
		}
		p.Series = append(p.Series, s)
	}
	if high == 0 {
		f.Panels = []Panel{{Empty: "No way of deciding gives these heats."}}
		f.Desc = f.Panels[0].Empty
		return f
	}
	p.Y.Min, p.Y.Max = max(low*0.8, 0.01), max(high*1.25, 0.1)
	f.Panels = []Panel{p}
	f.Notes = []string{"Nothing of it was measured in a real shop: it is what the advice is worth if metal behaves so."}
	f.Desc = strings.Join(append(trialWords(r), f.Notes...), " ")
	return f
}

// trialWords are the splits of each way in the middle of the figure.
func trialWords(r trial.Result) []string {
	heats := (r.Shop.From + r.Shop.To) / 2
	var said []string
	for _, c := range compared {
		if split, ok := r.Policy(c.name).At(heats); ok {
			said = append(said, fmt.Sprintf("%.0f by %s", split, c.name))
		}
	}
	return []string{fmt.Sprintf("Pieces split in 1,000 at %.1f heats for each: %s.", heats, strings.Join(said, ", "))}
}
