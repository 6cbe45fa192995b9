package benchcard

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"dullred/schedule"
	"dullred/schedule/heat"
	"dullred/schedule/paper"
)

// Planned is what a card of a plan is about.
type Planned struct {
	Piece string // its name
	On    schedule.Following
	Metal Metal // of the bar that it is made of; its eye has the light of the bench
}

// OfPlan is the card of the plan of a piece: the steps from the next one on, then its
// heat and its cautions. It fails as schedule.CardOf does.
func OfPlan(p Planned) (Card, error) {
	h, err := heatOf(p.Metal)
	if err != nil {
		return Card{}, err
	}
	plan := p.On.Plan
	c := Card{Title: p.Piece, Under: fmt.Sprintf("%s (%s), %s", h.card.Alloy.Name, h.card.Alloy.ID, p.where()), Foot: foot("plan " + p.Piece)}
	for _, text := range []string{p.On.Changed, p.On.Lost} {
		if text != "" {
			c.Rows = append(c.Rows, small("changed", text))
		}
	}
	for i := p.On.At; i < len(plan.Steps); i++ {
		rows := stepRows(i+1, plan.Steps[i])
		rows[0].Close = i > p.On.At
		c.Rows = append(c.Rows, rows...)
	}
	for _, text := range plan.Notes {
		c.Rows = append(c.Rows, small("note", text).as(cue))
	}
	c.Rows = slices.Concat(c.Rows, h.short(cmp.Or(p.Metal.Eye.Light, heat.LightLamp)), h.minds())
	return c, nil
}

// where is how far the piece is.
func (p Planned) where() string {
	n := len(p.On.Plan.Steps)
	if p.On.At >= n {
		return fmt.Sprintf("all %d steps are done", n)
	}
	return fmt.Sprintf("step %d of %d is next", p.On.At+1, n)
}

// stepRows are a step with its number, and what else to mind.
func stepRows(n int, s schedule.PlanStep) []Row {
	text := s.Zone
	if stop := s.Stop(); stop != "" {
		text += " to " + stop
	}
	if s.Act == schedule.DoAnneal && s.High > 0 {
		text += ", " + between(s.Low, s.High)
	}
	if s.Solidus > 0 {
		text += fmt.Sprintf(", solder melts from %.0f °C", float64(s.Solidus))
	}
	rows := []Row{large(fmt.Sprintf("%d %s", n, s.Word()), text).as(step)}
	if s.Text != "" {
		rows = append(rows, small("", s.Text).as(aside))
	}
	return rows
}

// short is a heat in few rows, for a card that is about something else: its figures in
// one row, what is seen of it in the light here, and in others where there is room.
func (h heated) short(here heat.Light) []Row {
	var parts []string
	for _, r := range slices.Concat(h.window(), h.hold(), h.cooling(), h.touch()) {
		if r.Size > paper.PosterSmall {
			parts = append(parts, r.Head+" "+r.Text)
		}
	}
	rows := []Row{small("the heat", strings.Join(parts, "; "))}
	for _, r := range h.cooling() {
		if r.Size == paper.PosterSmall && r.part == stays {
			rows = append(rows, r)
		}
	}
	for _, r := range h.looks() {
		if r.Head != string(here) {
			r = r.as(aside)
		}
		rows = append(rows, r)
	}
	return rows
}
