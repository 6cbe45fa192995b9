package view

import (
	"fmt"
	"strings"

	"dullred/schedule"
)

// drawLower is what stands below the gauge: how to tell the heat by eye, the next
// step, what can hurt, and what runs elsewhere, as far as there are rows.
func drawLower(f *Frame, s Scene, l plan, y int) {
	w, last := f.w-2*l.margin, y+l.next+l.lower+l.air-1
	if s.Piece.Cue != nil {
		y += drawCue(f, *s.Piece.Cue, l.margin, y, 2) + l.air
	}
	y += f.Wrap(l.margin, y, w, min(l.next, last-y+1), sentence(s.Piece.Advice.Next), Plain) + l.air
	if s.Caution != "" && y <= last {
		y += f.Wrap(l.margin, y, w, min(2, last-y+1), mind+s.Caution, Plain) + l.air
	} else if s.Toast == "" && s.Ask == "" && s.Caution != "" {
		f.Text(l.margin, f.h-2, f.clip(mind+s.Caution, w), Plain) // where an answer would stand
	}
	if y <= last {
		f.Text(l.margin, y, f.clip(running(s.Others), w), Dim)
	}
}

const mind = "MIND: "

// swatch is the width of a swatch of glow.
const swatch = 4

// drawCue is the heat to reach: a swatch as a label, the temperature, what is seen
// in this light, and the second sign, in a number of rows at most. It returns the rows
// it took.
func drawCue(f *Frame, c schedule.Cue, x, y, rows int) int {
	f.Text(x, y, strings.Repeat(string(stroke), swatch), Glow0+Role(c.Glow))
	text := fmt.Sprintf("%s; %s: %s; %s", c.Window, c.Light, c.Seen, c.Second)
	if f.w >= 120 && c.Skin != "" {
		text += "; " + c.Skin
	}
	return f.Wrap(x+swatch+1, y, f.w-2*x-swatch-1, rows, text, Bold)
}

// running is what runs on other pieces and at the bench, in one line.
func running(others []Running) string {
	var parts []string
	for _, o := range others {
		if o.Timer.Step == "" {
			continue
		}
		text := string(o.Timer.Step) + " " + figureOf(o.Timer)
		parts = append(parts, strings.Join(some(o.Name, text), " "))
	}
	return strings.Join(parts, "; ")
}

// figureOf is a timer in a few columns: what is left, or how much over, or so far.
func figureOf(t schedule.Timer) string {
	switch {
	case t.Left() > 0 && t.Step != schedule.StepHeating:
		return clock(toGo(t)) + " left"
	case t.Over() > 0 && t.Step != schedule.StepHeating:
		return clock(t.Over()) + " over"
	}
	return clock(t.Elapsed)
}

// drawToast is the answer to the last key, or the question that waits.
func drawToast(f *Frame, s Scene, y int) {
	text, role := s.Toast, Toast
	switch {
	case s.Ask != "":
		text = s.Ask
	case text == "":
		return
	case s.Bad:
		text = "NOT LOGGED: " + text
	}
	f.Fill(0, y, f.w, 1, ' ', role)
	f.Text(1, y, f.clip(text, f.w-2), role)
}

// drawHelp is the last line: the keys that matter now, as many as fit, or the alert
// bar in their place.
func drawHelp(f *Frame, s Scene, y int) {
	if s.Alarm != nil {
		drawBar(f, y, *s.Alarm)
		return
	}
	x := 0
	for _, h := range s.Help {
		need := Columns(h.Key) + Columns(h.Words) + 4
		if x+need > f.w {
			return
		}
		x += f.Text(x, y, " "+h.Key+" ", Key)
		x += f.Text(x, y, " "+h.Words+" ", Dim)
	}
}

// sentence begins with a capital and ends with a stop.
func sentence(s string) string {
	if s == "" {
		return ""
	}
	r := []rune(s)
	return strings.ToUpper(string(r[:1])) + string(r[1:]) + "."
}
