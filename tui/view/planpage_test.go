package view

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
)

func passTo(size unit.Size) schedule.PlanStep {
	return schedule.PlanStep{Act: schedule.DoPass, Process: coldwork.Lengthen, Zone: schedule.Whole, StopAt: size, LimitSpent: 0.45}
}

func TestStopFigure(t *testing.T) {
	cases := []struct {
		name, figure, caption string
		step                  schedule.PlanStep
		reason                string
	}{
		{"flat", "3x18", "mm: stop there", passTo(unit.Size{Shape: unit.Rectangular, Thick: 3, Width: 18}), "two sides"},
		{"a hundredth", "7.55x7.5", "mm: stop there", passTo(unit.Size{Shape: unit.Rectangular, Thick: 7.551, Width: 7.5}), "as a calliper reads it"},
		{"round", "⌀2", "mm round: stop there", passTo(unit.Size{Shape: unit.Round, Diameter: 2}), "a bare 2 might be a thickness"},
		{"square", "7.5", "mm: stop there", passTo(unit.Size{Shape: unit.Square, Thick: 7.5, Width: 7.5}), "no letters in the figure"},
		{"nothing to measure", "45%", "of the limit: stop there", passTo(unit.Size{}), "planishing leaves no size"},
		{"anneal", "593-649", "°C, the window to anneal in", schedule.PlanStep{Act: schedule.DoAnneal, Low: 593, High: 649}, "both ends"},
		{"no heat known", "-", "no heat is published for it", schedule.PlanStep{Act: schedule.DoAnneal}, "nothing is invented"},
		{"solder", "745", "°C is where the solder lets go (solidus)", schedule.PlanStep{Act: schedule.DoSolder, Solidus: 745}, "the next heat stays under it"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s := stepSign(&PlanView{}, c.step)
			require.Equal(t, c.figure, s.figure, c.reason)
			require.Equal(t, c.caption, s.caption, c.reason)
		})
	}
}

// Every word that a step can have fits the smallest screen in block letters.
func TestWordsOfStepsFit(t *testing.T) {
	words := []string{"OFF PLAN", "NO PLAN", "DONE"}
	for _, p := range coldwork.Processes() {
		words = append(words, strings.ToUpper(string(p)))
	}
	for _, a := range []schedule.PlanAct{schedule.DoAnneal, schedule.DoStamp, schedule.DoBend, schedule.DoSolder, schedule.DoInspect} {
		s := stepSign(&PlanView{}, schedule.PlanStep{Act: a})
		plate := 0
		if grounded(s.role) {
			plate = 2 * plateColumns
		}
		require.LessOrEqual(t, 1+plate+Width(s.word, Five), LeastWidth, s.word)
	}
	for _, w := range words {
		require.LessOrEqual(t, 1+Width(w, Five), LeastWidth, w)
	}
}

// A size that does not fit in block numerals is written in letters, never cut.
func TestAStopIsNeverCut(t *testing.T) {
	p := &PlanView{Following: schedule.Following{Plan: schedule.Plan{Steps: []schedule.PlanStep{
		passTo(unit.Size{Shape: unit.Rectangular, Thick: 11.25, Width: 112.25})}}}}
	piece := pieceWith(schedule.VerdictCarryOn, nil)
	piece.Plan = p
	for _, theme := range []Theme{Dark, Hearth} {
		require.Contains(t, Draw(Scene{Page: Plan, Piece: piece, Theme: theme}, 60, 20).String(), "\n 11.25x112.25 mm\n")
	}
}

// The strip holds the present step whatever the width, inside it, and says where more
// steps are.
func TestStripHoldsThePresent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 30).Draw(t, "steps")
		p := &PlanView{}
		for range n {
			side := unit.Millimetre(rapid.IntRange(10, 1299).Draw(t, "side")) / 100
			p.Plan.Steps = append(p.Plan.Steps, passTo(unit.Size{Shape: unit.Rectangular, Thick: side, Width: side}))
		}
		p.At = rapid.IntRange(0, n).Draw(t, "at")
		w := rapid.IntRange(LeastWidth, 200).Draw(t, "w")
		f := New(w, 1)
		drawStrip(f, p, 1, 0)
		text := strings.TrimSuffix(f.String(), "\n")
		low, high := New(w, 1).stripOf(p, w-2)
		require.LessOrEqual(t, Columns(text), w-1)
		require.Equal(t, low > 0, strings.HasPrefix(text, " .."))
		require.Equal(t, high < n, strings.HasSuffix(text, " .."))
		require.Equal(t, p.At-low, strings.Count(text, string(Ticked)))
		if p.At < n {
			require.Contains(t, text, stepCell(p, p.At))
		}
		require.Greater(t, high, low, "at least one")
	})
}
