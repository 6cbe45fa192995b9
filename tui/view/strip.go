package view

import (
	"fmt"
	"strings"

	"dullred/schedule"
)

// Ticked stands before a step of a plan that is done. Code page 437 has it, and with it
// the fonts of most consoles.
const Ticked = '√'

// stripGap is how many columns stand between two steps.
const stripGap = 2

// stepMark is a step of a plan as it is told apart without colour: ticked, in
// brackets, or bare.
func stepMark(p *PlanView, i int, text string) string {
	switch {
	case i < p.At:
		return string(Ticked) + text
	case i == p.At:
		return "[" + text + "]"
	}
	return " " + text
}

func stepRole(p *PlanView, i int) Role {
	switch {
	case i < p.At:
		return Dim
	case i == p.At:
		return Bold
	}
	return Plain
}

// stepCell is a step in a few columns: "3 LENGTHEN 7.5x7.5".
func (f *Frame) stepCell(p *PlanView, i int) string { return f.style.Text(stepCell(p, i)) }

func stepCell(p *PlanView, i int) string {
	s := p.Plan.Steps[i]
	text := fmt.Sprintf("%d %s", i+1, strings.ToUpper(s.Word()))
	if stop := s.Stop(); stop != "" {
		text += " " + stop
	}
	return stepMark(p, i, text)
}

// drawStrip is the present step with as many before and after it as fit, and dots
// where there are more.
func drawStrip(f *Frame, p *PlanView, x, y int) {
	low, high := f.stripOf(p, f.w-2*x)
	if low > 0 {
		x += f.Text(x, y, "..", Dim) + stripGap
	}
	for i := low; i < high; i++ {
		x += f.Text(x, y, f.stepCell(p, i), stepRole(p, i)) + stripGap
	}
	if high < len(p.Plan.Steps) {
		f.Text(x, y, "..", Dim)
	}
}

// stripOf are the steps that fit w columns, from low to before high: two after the
// present one for each before it.
func (f *Frame) stripOf(p *PlanView, w int) (low, high int) {
	n := len(p.Plan.Steps)
	low = min(p.At, n)
	high = low
	left := w - 2*(2+stripGap) // the dots at both ends
	take := func(i int) bool {
		need := Columns(f.stepCell(p, max(0, min(i, n-1)))) + stripGap
		if i < 0 || i >= n || need > left {
			return false
		}
		left -= need
		return true
	}
	for more := n > 0; more; {
		more = false
		for range 2 {
			if take(high) {
				high, more = high+1, true
			}
		}
		if take(low - 1) {
			low, more = low-1, true
		}
	}
	return low, high
}

// planLines are the whole plan on the page read close, with the marks of the strip.
func planLines(p *PlanView) []line {
	if p == nil {
		return nil
	}
	lines := []line{{}, {text: "the plan", role: Bold}, {text: p.Text()}}
	for i, s := range p.Plan.Steps {
		lines = append(lines, line{text: s.Line(), head: stepMark(p, i, fmt.Sprint(i+1)), role: stepRole(p, i)})
	}
	return append(lines, noteLines(p.Plan)...)
}

// noteLines are what the smith must know before he follows a plan.
func noteLines(p schedule.Plan) (lines []line) {
	for _, n := range p.Notes {
		lines = append(lines, line{text: n})
	}
	return lines
}
