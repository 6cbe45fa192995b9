package main

import (
	"dullred/schedule"
	"dullred/schedule/benchcard"
)

// anyCard is the card of an alloy or of a plan.
func (a *app) anyCard(args []string, c cardFlags) error {
	switch {
	case c.format != "text" && c.format != "html" && c.format != "pdf":
		return refuse("mend --format", "%.60q is not a format: expected text, html or pdf", c.format)
	case a.json && c.format != "text":
		return refuse("give one of the two", "--json and --format %.60q are two formats", c.format)
	case c.format == "pdf" && isTerminal(a.out):
		return refuse("name a file: dullred card sterling --format pdf > sterling.pdf", "a PDF is not for a terminal")
	case len(args) == 0 && c.plan == "":
		return refuse("dullred card ALLOY, or dullred card --plan NAME", "neither an alloy nor the plan of a piece is named")
	case len(args) > 0 && c.plan != "":
		return refuse("give one of the two", "%.60q is an alloy and --plan %.60q a piece, which has its metal", args[0], c.plan)
	case c.plan != "" && (c.size != "" || c.cast):
		return refuse("leave --size and --cast away", "the plan of a piece has its section")
	case c.plan != "" && a.json:
		return refuse("dullred plan NAME --json", "the card of a plan has no figures beside those of its plan")
	case c.plan != "":
		return a.onBench(func(b *bench) error { return a.planCard(b, c) })
	}
	return a.card(args[0], c)
}

// planCard is the card of the plan of a piece.
func (a *app) planCard(b *bench, c cardFlags) error {
	p, err := b.find(c.plan)
	if err != nil {
		return err
	}
	if p.state.Plan == nil {
		return refuse(`plan it first: `+planExampleOf(p.name), "%s has no plan", p.name)
	}
	if err := b.follow(p); err != nil {
		return err
	}
	if p.on == nil {
		return refuse("dullred advise "+asWord(p.name), "the entries of %s cannot all be read, so that it cannot be set against its plan", p.name)
	}
	job := p.on.Plan.Job
	m, err := a.cardMetal(job.Alloy, c)
	if err != nil {
		return err
	}
	m.Start = schedule.Started{Alloy: job.Alloy, Cast: job.Cast, Reading: readingOf(job.Bar)}
	made, err := benchcard.OfPlan(benchcard.Planned{Piece: p.name, On: *p.on, Metal: m})
	if err != nil {
		return refuse("dullred plan "+asWord(p.name), "%w", err)
	}
	return a.cardOut(made, c.format)
}

// cardOut prints a card for the wall.
func (a *app) cardOut(c benchcard.Card, format string) (err error) {
	c = c.Written(a.inStyle().Text)
	out := []byte(c.Text())
	switch format {
	case "html":
		out, err = c.HTML()
	case "pdf":
		out, err = c.PDF()
	}
	if err == nil {
		_, err = a.out.Write(out)
	}
	return err
}
