package view

import (
	"fmt"
	"strings"

	"dullred/schedule"
)

// planPage is where the parts of the page of the plan stand: the size to stop at is what it is for, so it is the
// larger of the two where there is room. A count-down stays as small as elsewhere.
func planPage(f *Frame, sig sign) plan {
	l := planFor(f)
	if l.word != Ten {
		return l
	}
	l.word = Seven
	if sig.widest == "" && Width(sig.figure, Ten)+2*l.margin <= f.w {
		l.number = Ten
	}
	return l
}

// drawPlan is the plan of a piece with its present step large. A state that cannot
// wait stands in the place of the step.
func drawPlan(f *Frame, s Scene) {
	sig := planSign(s.Piece).in(s.Style)
	l := planPage(f, sig)
	drawTitle(f, s)
	y := 1 + l.air
	y += drawWord(f, l, y, sig)
	f.Text(l.margin, y, f.clip(stepWords(s.Piece), f.w-l.margin-1), Plain)
	drawVerdict(f, s, y+1)
	y += 2 + l.air
	drawStop(f, s, y, l, sig)
	y += max(l.number.Rows(), planFor(f).number.Rows())
	drawCaption(f, s, y, sig, l.margin)
	drawUnder(f, s, l, y+1)
	drawToast(f, s, f.h-2)
	drawHelp(f, s, f.h-1)
}

// planSign is the sign of a piece on its plan.
func planSign(p *Piece) sign {
	v := p.Advice.Verdict
	switch {
	case leads(p):
		return signOf(p)
	case p.Plan == nil:
		return sign{word: "NO PLAN", role: Ask, figure: "-", caption: "this piece has no plan", marks: "?"}
	case p.Plan.Lost != "":
		return sign{word: "OFF PLAN", role: Ask, figure: "?", caption: "the kept plan cannot be followed any more", marks: "?"}
	}
	step, left := p.Plan.Step()
	if !left {
		n := len(p.Plan.Plan.Steps)
		return sign{word: "DONE", role: Calm, figure: fmt.Sprintf("%d/%d", n, n), caption: "steps done: the shape is reached"}
	}
	sig := stepSign(p.Plan, step)
	switch {
	case v == schedule.VerdictAnnealNow:
		sig.role, sig.marks = Act, "!!"
	case v == schedule.VerdictAnnealSoon:
		sig.role, sig.marks = Soon, "!"
	}
	return sig
}

// leads reports whether the state of the metal comes before the plan. An anneal
// that is due is no more than the plan says, where that is its step.
func leads(p *Piece) bool {
	switch p.Advice.Verdict {
	case schedule.VerdictCarryOn, schedule.VerdictNoAnneal, schedule.VerdictAnnealSoon:
		return false
	case schedule.VerdictAnnealNow:
		if p.Plan == nil || p.Plan.Lost != "" {
			return true
		}
		step, left := p.Plan.Step()
		return !left || step.Act != schedule.DoAnneal
	}
	return true
}

// stepSign is a step of a plan: its word, and the one figure that it ends at.
func stepSign(p *PlanView, s schedule.PlanStep) sign {
	sig := sign{word: strings.ToUpper(s.Word()), role: Calm, figure: "-"}
	switch s.Act {
	case schedule.DoPass:
		sig.figure, sig.caption = stopFigure(s), stopUnit(s)
	case schedule.DoStamp:
		sig.caption = "flat, while it is soft"
	case schedule.DoAnneal:
		sig.role, sig.caption = Soon, "no heat is published for it"
		if s.High > 0 {
			sig.figure, sig.caption = fmt.Sprintf("%.0f-%.0f", float64(s.Low), float64(s.High)), "°C, the window to anneal in"
		}
	case schedule.DoBend:
		sig.figure, sig.caption = "R"+rounded(p.Plan.Job.Bend), "mm inside radius, round a former"
	case schedule.DoSolder:
		sig.role, sig.figure, sig.caption = Soon, fmt.Sprintf("%.0f", float64(s.Solidus)), "°C is where the solder lets go (solidus)"
	case schedule.DoInspect:
		sig.role, sig.figure, sig.caption = Ask, "?", "look for cracks, file the skin"
	}
	return sig
}

// under writes what stands below the figure from a row on, as far as there are rows.
type under struct {
	*Frame
	x, y, end int
}

// write adds a text of a few rows at most.
func (u *under) write(rows int, text string, role Role) {
	if text != "" && u.y < u.end {
		u.y += u.Wrap(u.x, u.y, u.w-2*u.x, min(rows, u.end-u.y), text, role)
	}
}

// drawUnder is what cannot wait first, then the strip of the steps, and the words.
func drawUnder(f *Frame, s Scene, l plan, y int) {
	u := under{Frame: f, x: l.margin, y: y, end: f.h - 1}
	if s.Toast != "" || s.Ask != "" {
		u.end--
	}
	u.first(s.Piece)
	if s.Piece.Plan != nil && u.y < u.end {
		drawStrip(f, s.Piece.Plan, u.x, u.y)
		u.y++
	}
	if l.air > 0 && u.y+l.gauge+2 < u.end {
		drawGauge(f, s.Piece, l, u.y+1)
		u.y += l.gauge + 2
	}
	u.rest(s, l)
}

// first is how to tell the heat that is to be reached, or else the words of the state
// or of the step.
func (u *under) first(p *Piece) {
	rows := 1
	if u.h >= 24 {
		rows = 2
	}
	if p.Cue != nil && u.y < u.end {
		u.y += drawCue(u.Frame, *p.Cue, u.x, u.y, min(rows, u.end-u.y))
		return
	}
	u.write(rows, underWords(p), Bold)
}

// rest are the words below the strip. On the smallest screen what can hurt comes before
// what became of the plan.
func (u *under) rest(s Scene, l plan) {
	p := s.Piece
	u.write(l.lower, changeUnder(p), Bold)
	if s.Caution != "" {
		u.write(2, mind+s.Caution, Plain)
	}
	if l.lower == 0 {
		u.write(1, changeUnder(p), Bold)
	}
	if p.Plan != nil {
		u.write(1, sentence(stepText(p.Plan)), Plain)
	}
	if p.Cue != nil || p.Advice.Verdict == schedule.VerdictAnnealSoon || p.Plan == nil {
		u.write(2, sentence(p.Advice.Next), Plain)
	}
	u.write(1, running(s.Others), Dim)
}
