package picture

import (
	"fmt"
	"math"
	"strings"
	"time"

	"dullred/alloys/unit"
	"dullred/schedule/heat"
	"dullred/schedule/probe"
)

// mostTraces is how many heats a figure shows, the newest of them.
const mostTraces = 4

// traceStrokes tell the heats of one panel apart.
var traceStrokes = [mostTraces]Stroke{Solid, Dashed, Dotted, DashDot}

// traced is a heat that a thermocouple read.
type traced struct {
	Heat
	number int // among all heats of the piece, from 1
	trace  probe.Trace
}

// Heat is the temperature of the heats that a thermocouple read, with the ceiling, the
// window of the anneal, and where the metal begins to glow.
func (s Story) Heat() Figure {
	f := Figure{ID: "heat", Title: titled(s.Name, "temperature of its heats")}
	all, bad := s.traces()
	if len(all) == 0 {
		f.Panels = []Panel{{Empty: s.noTrace(bad)}}
		f.Desc = f.Panels[0].Empty
		return f
	}
	left := max(0, len(all)-mostTraces)
	shown := all[left:]
	f.Panels = []Panel{tracePanel(s, shown)}
	if left > 0 {
		f.Notes = append(f.Notes, fmt.Sprintf("... and %s before these, not shown.", counted(left, "probed heat")))
	}
	if bad > 0 {
		f.Notes = append(f.Notes, fmt.Sprintf("%s could not be read and is not drawn.", counted(bad, "trace")))
	}
	f.Notes = append(f.Notes, s.lampNote(shown[len(shown)-1].Heat))
	f.Notes = some(f.Notes)
	f.Desc = strings.Join(append(s.traceWords(shown), f.Notes...), " ")
	return f
}

// noTrace is why there is no curve.
func (s Story) noTrace(bad int) string {
	if bad > 0 {
		return fmt.Sprintf("%s could not be read: no temperature is drawn.", counted(bad, "trace"))
	}
	text := "No heat of this piece was read by a thermocouple: no temperature is drawn."
	for _, h := range s.Heats {
		if h.Hottest > 0 {
			return text + fmt.Sprintf(" The hottest that was noted is %.0f °C.", float64(s.hottest()))
		}
	}
	return text
}

func (s Story) hottest() (most unit.Celsius) {
	for _, h := range s.Heats {
		most = max(most, h.Hottest)
	}
	return most
}

// traces are the probed heats in order, and how many could not be read.
func (s Story) traces() (all []traced, bad int) {
	for i, h := range s.Heats {
		if h.Trace == nil {
			continue
		}
		t, err := probe.Decode(h.Trace.Curve)
		if err != nil || len(t.Points()) == 0 {
			bad++
			continue
		}
		all = append(all, traced{h, i + 1, t})
	}
	return all, bad
}

// tracePanel lays heats over each other, each from its first reading.
func tracePanel(s Story, all []traced) Panel {
	p := Panel{X: Axis{Label: "time from the first reading (min)"}, Y: Axis{Label: "temperature (°C)"}}
	low, high := math.Inf(1), math.Inf(-1)
	for i, t := range all {
		line := Series{Name: fmt.Sprintf("heat %d, %s", t.number, proofWords(t.Proof())), Stroke: traceStrokes[i%mostTraces]}
		for _, q := range t.trace.Points() {
			line.Points = append(line.Points, Point{X: q.At.Minutes(), Y: float64(q.Temp), Gap: q.Apart})
			low, high = min(low, float64(q.Temp)), max(high, float64(q.Temp))
			p.X.Max = max(p.X.Max, q.At.Minutes())
		}
		if len(line.Points) == 1 {
			line.Marker = Disc
		}
		p.Series = append(p.Series, line)
	}
	last := all[len(all)-1].Heat
	p.Rules = levels(s, last)
	for _, r := range p.Rules {
		high = max(high, r.At)
	}
	p.X.Max = max(p.X.Max, 0.1)
	p.Y.Min, p.Y.Max = min(0, math.Floor(low/100)*100), math.Ceil(high/100+0.2)*100
	if window, ok := windowSeries(last, p.X.Max); ok {
		p.Series = append(p.Series, window)
	}
	return p
}

// windowSeries is the published window of an anneal, across the panel.
func windowSeries(h Heat, across float64) (Series, bool) {
	if h.High <= 0 {
		return Series{}, false
	}
	low, high := float64(h.Low), float64(h.High)
	return Series{Name: fmt.Sprintf("window to anneal in, %.0f to %.0f °C", low, high), Fill: true,
		Points: []Point{{X: 0, Y: low}, {X: across, Y: low}, {X: across, Y: high}, {X: 0, Y: high}}}, true
}

// levels are the ceiling, and where the skin of a heat begins to glow in the dark.
func levels(s Story, h Heat) (all []Rule) {
	if h.Capped {
		all = append(all, Rule{Name: "ceiling", At: float64(h.Ceiling.Temp), Stroke: LongDash, Text: fmt.Sprintf("ceiling %.0f °C", float64(h.Ceiling.Temp))})
	}
	if _, sure, ok := s.firstGlow(h, heat.LightDark); ok {
		all = append(all, Rule{Name: "glow first seen in the dark", At: float64(sure), Stroke: Dotted, Text: fmt.Sprintf("glow, in the dark %.0f °C", float64(sure))})
	}
	return all
}

// firstGlow is from where the skin of a heat is seen to glow in a light; false where
// how it shines is not published.
func (s Story) firstGlow(h Heat, light heat.Light) (perhaps, sure unit.Celsius, ok bool) {
	e, ok := heat.ShineOf(s.Alloy, h.Surface)
	if !ok {
		return 0, 0, false
	}
	perhaps, sure = heat.Eye{Light: light, Emissivity: e.Value}.FirstSeen()
	return perhaps, sure, sure < unit.Kelvin(9999).Celsius()
}

// lampNote says from where it glows at a bench lamp, which misleads.
func (s Story) lampNote(h Heat) string {
	_, sure, ok := s.firstGlow(h, heat.LightLamp)
	if !ok {
		return "How strongly this skin glows is not published: where the glow begins is not drawn."
	}
	return fmt.Sprintf("By a bench lamp the glow of this skin (%s) is not surely seen below %.0f °C.", h.Surface, float64(sure))
}

// proofWords are what a bend check said.
func proofWords(p Proof) string {
	switch p {
	case Soft:
		return "proved soft"
	case Springy:
		return "proved springy"
	}
	return "not proved"
}

func (s Story) traceWords(all []traced) (out []string) {
	out = []string{fmt.Sprintf("Temperature over time in %s of %s.", counted(len(all), "probed heat"), s.called())}
	for _, t := range all {
		top, _ := t.trace.Max()
		text := fmt.Sprintf("Heat %d, %s: at most %.0f °C, reached after %s", t.number, proofWords(t.Proof()), float64(top.Temp), unit.FormatDuration(top.At.Round(time.Second)))
		if t.Capped {
			room := float64(t.Ceiling.Room(top.Temp))
			if room > 0 {
				text += fmt.Sprintf(", %.0f °C under the ceiling of %.0f °C", room, float64(t.Ceiling.Temp))
			} else {
				text += fmt.Sprintf(", %.0f °C over the ceiling of %.0f °C", -room, float64(t.Ceiling.Temp))
			}
		}
		out = append(out, text+".")
	}
	return out
}
