package main

import (
	"strings"

	"github.com/spf13/cobra"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/benchcard"
	"dullred/schedule/heat"
)

// cardFlags is what card was given.
type cardFlags struct {
	size, light, emissivity string
	format, plan            string
	cast                    bool
}

func (a *app) cardCommand() *cobra.Command {
	var c cardFlags
	cmd := &cobra.Command{
		Use:   "card ALLOY [--size 1.5x20] [--light dim]",
		Short: "a whole heat of a metal on one page: how hot, how it looks here, how long, the quench",
		Long: `A whole heat of a metal on one page: how hot, how it looks in this light, how long,
the quench, and what to mind, with what others do.

--format html and pdf make a card for the wall above the bench: one A4 page in large
letters, with the colour in each light. --plan is such a card of the plan of a piece,
from its next step on.`,
		Example: `  dullred card sterling
  dullred card sterling --format pdf > sterling.pdf
  dullred card --plan spoon --format pdf > spoon.pdf`,
		Args: perhaps("ALLOY"),
		RunE: func(_ *cobra.Command, args []string) error { return a.anyCard(args, c) },
	}
	f := cmd.Flags()
	f.StringVar(&c.size, "size", "", "`SECTION` of the piece (default a bar 3 mm thick)")
	f.StringVar(&c.light, "light", "", "of the room: dark, dim, lamp, daylight (default as in the config file)")
	f.StringVar(&c.emissivity, "emissivity", "", "your own `SHARE` of a perfect radiator, 0 to 1, in place of the table's")
	f.BoolVar(&c.cast, "cast", false, "as cast")
	f.StringVar(&c.format, "format", "text", "`FORMAT`: text, or html or pdf for the wall")
	f.StringVar(&c.plan, "plan", "", "the plan of the piece with this `NAME`, in place of an ALLOY")
	return cmd
}

func (a *app) card(name string, c cardFlags) error {
	m, err := a.cardMetal(name, c)
	if err != nil {
		return err
	}
	if c.format != "text" {
		made, err := benchcard.OfMetal(m)
		if err != nil {
			return refuse("mend --size", "%w", err)
		}
		return a.cardOut(made, c.format)
	}
	card, err := schedule.CardOf(m.Book, m.Start, m.Eye)
	if err != nil {
		return refuse("mend --size", "%w", err)
	}
	return a.answer(cardJSONOf(card), cardText(card))
}

// cardMetal is the metal that a card is about.
func (a *app) cardMetal(name string, c cardFlags) (m benchcard.Metal, err error) {
	if m.Book, err = a.metals(); err != nil {
		return m, err
	}
	alloy, err := m.Book.Find(name)
	if err != nil {
		return m, err
	}
	m.Start = schedule.Started{Alloy: string(alloy.ID), Cast: c.cast}
	if c.size != "" {
		if m.Start.Reading.Size, err = unit.ParseSize(c.size, unit.Unshaped); err != nil {
			return m, refuse("mend --size", "%w", err)
		}
	}
	conf, err := a.config()
	if err != nil {
		return m, err
	}
	light, err := lightOr(c.light, conf.light)
	if err != nil {
		return m, err
	}
	m.Eye = heat.Eye{Light: light, Shade: conf.shadeOf()}
	if c.emissivity != "" {
		own, err := (hotFlags{emissivity: c.emissivity}).skin(alloy)
		if err != nil {
			return m, err
		}
		m.Eye.Emissivity = own.Value
	}
	return m, nil
}

// lightOr is the light that was typed, else another.
func lightOr(text string, other heat.Light) (heat.Light, error) {
	if text == "" {
		return other, nil
	}
	light, err := heat.ParseLight(text)
	if err != nil {
		return "", refuse("--light dim", "%w", err)
	}
	return light, nil
}

// cardJSON holds temperatures in °C and times in seconds. What nobody published is
// absent.
type cardJSON struct {
	Alloy     string         `json:"alloy"`
	Low       *float64       `json:"anneal_low_c,omitempty"`
	High      *float64       `json:"anneal_high_c,omitempty"`
	Ceiling   *float64       `json:"ceiling_c,omitempty"`
	Light     string         `json:"light,omitempty"`
	Seen      string         `json:"seen,omitempty"`
	SecondCue string         `json:"second_cue,omitempty"`
	Soak      *float64       `json:"soak_seconds,omitempty"`
	Cooling   string         `json:"cooling,omitempty"`
	Wait      *float64       `json:"wait_seconds,omitempty"`
	Until     *float64       `json:"quench_within_seconds,omitempty"`
	Touch     *float64       `json:"touch_seconds,omitempty"`
	Words     []wordJSON     `json:"words,omitempty"`
	Lines     []cardLineJSON `json:"lines"`
}

type cardLineJSON struct {
	Head string `json:"head"`
	Text string `json:"text"`
}

func cardJSONOf(c schedule.Card) cardJSON {
	some := func(f float64) *float64 {
		if f == 0 {
			return nil
		}
		return new(figure(f))
	}
	j := cardJSON{Alloy: string(c.Alloy.ID), Low: some(float64(c.Low)), High: some(float64(c.High)), Ceiling: some(float64(c.Ceiling.Temp)),
		Light: string(c.Cue.Light), Seen: c.Cue.Seen, SecondCue: c.Cue.Second, Soak: some(c.Soak.Seconds()),
		Cooling: string(c.Alloy.Cooling()), Wait: some(c.Wait.Seconds()), Until: some(c.Until.Seconds()), Touch: some(c.Touch.Seconds())}
	for _, w := range c.Words {
		j.Words = append(j.Words, wordJSON{w.Scale, w.Word})
	}
	for _, l := range c.Lines {
		j.Lines = append(j.Lines, cardLineJSON(l))
	}
	return j
}

func cardText(c schedule.Card) string {
	var b strings.Builder
	b.WriteString(wrap("", "  ", c.Alloy.Name+" ("+string(c.Alloy.ID)+"), a heat of "+c.Section))
	for _, l := range c.Lines {
		b.WriteString(workedLine(l.Head, l.Text))
	}
	b.WriteString(wrap("", "  ", "Local rules for flames and gas come first: see dullred safety."))
	return b.String()
}
