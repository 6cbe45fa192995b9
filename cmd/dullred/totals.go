package main

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"dullred/schedule"
	"dullred/schedule/totals"
)

// totalsFlags is what totals was given.
type totalsFlags struct {
	among
	by  string
	csv bool
}

func (a *app) totalsCommand() *cobra.Command {
	var f totalsFlags
	cmd := &cobra.Command{
		Use:   "totals",
		Short: "sums by month or year: pieces, courses, heats, gas and metal",
		Long: `Sums of the whole record by month or year of this bench's clock. What was taken back
does not count.

A heat counts where it began, for the hand that began it; its flame is from begun to
out, less any jump of the clock. Gas is how long a torch burned on days on which torch
lit and torch out were logged, else the flame of the heats. Metal in is the first weight
of each piece, when it was weighed. Metal out is the last weight of a finished piece,
when it was finished, with its scrap and what was lost: in less out less scrap.

With --hand it is what that hand did: a piece belongs to who started it, its metal in to
who weighed it first, and its metal out, scrap and loss to who finished it. With --alloy
gas is the flame of the heats, since a torch is of no metal.`,
		Example: `  dullred totals
  dullred totals --by year --alloy sterling
  dullred totals --from 2026-01 --to 2026-06 --csv`,
		Args: names(),
		RunE: func(*cobra.Command, []string) error {
			return a.onBench(func(b *bench) error { return a.totals(b, f) })
		},
	}
	f.flags(cmd)
	cmd.Flags().StringVar(&f.by, "by", "month", "`PERIOD` of a sum: month or year")
	cmd.Flags().BoolVar(&f.csv, "csv", false, "print it for a spreadsheet")
	return cmd
}

func (a *app) totals(b *bench, f totalsFlags) error {
	if f.csv && a.json {
		return refuse("give one of them", "--csv and --json are two forms")
	}
	terms, err := b.terms(f, a.now().Location())
	if err != nil {
		return err
	}
	sums, err := b.sums(terms)
	if err != nil {
		return err
	}
	if f.csv {
		text, err := totalsCSV(sums, terms.By)
		a.printf("%s", text)
		return err
	}
	return a.answer(totalsOf(sums, terms.By), totalsText(sums, terms.By))
}

// terms are what is summed, as it was typed.
func (b *bench) terms(f totalsFlags, place *time.Location) (t totals.Terms, err error) {
	periods := map[string]totals.By{"month": totals.Month, "year": totals.Year}
	by, known := periods[f.by]
	if !known {
		return t, refuse("give month or year", "%.60q is not a period that is summed", f.by)
	}
	t = totals.Terms{By: by, Place: place, Steps: b.steps}
	span, err := f.span(place)
	if err != nil {
		return t, err
	}
	if span.From != 0 {
		t.From = time.UnixMicro(span.From)
	}
	if span.Until != 0 {
		t.Until = time.UnixMicro(span.Until)
	}
	hand, err := b.handMeant(f.hand)
	if err != nil {
		return t, err
	}
	t.Hand = schedule.ID(hand)
	if t.Dead, err = b.dead(); err != nil {
		return t, err
	}
	if f.alloy == "" {
		return t, nil
	}
	ids, err := b.piecesMeant(f.alloy, nil)
	t.Pieces = map[schedule.ID]bool{}
	for _, id := range ids {
		t.Pieces[schedule.ID(id)] = true
	}
	return t, err
}

// sums reads the kinds that are summed, once.
func (b *bench) sums(terms totals.Terms) ([]totals.Sum, error) {
	var kinds []string
	for _, kind := range totals.Kinds() {
		kinds = append(kinds, string(kind))
	}
	book := totals.New(terms)
	for row, err := range b.rec.Outlines(kinds...) {
		if err != nil {
			return nil, err
		}
		book.Add(schedule.Row(row))
	}
	return book.Sums(), nil
}

// totalsJSON is the sums for a machine.
type totalsJSON struct {
	By      string    `json:"by"`
	Periods []sumJSON `json:"periods"`
	Total   sumJSON   `json:"total"`
}

// sumJSON is one period. Minutes are of the flame of heats with both ends, and of gas.
type sumJSON struct {
	Period    string  `json:"period,omitempty"`
	Started   int     `json:"pieces_started"`
	Finished  int     `json:"pieces_finished"`
	Courses   int     `json:"courses"`
	Heats     int     `json:"heats"`
	Soft      int     `json:"heats_proved_soft"`
	Untimed   int     `json:"heats_without_minutes"`
	Flame     float64 `json:"flame_minutes"`
	Gas       float64 `json:"gas_minutes"`
	GasFrom   string  `json:"gas_from"` // none, torch, heats or both
	In        float64 `json:"metal_in_g"`
	Out       float64 `json:"metal_out_g"`
	Scrap     float64 `json:"scrap_g"`
	Lost      float64 `json:"lost_g"`
	Unweighed int     `json:"finished_without_two_weights"`
}

func sumOf(period string, c totals.Counts) sumJSON {
	return sumJSON{Period: period, Started: c.Started, Finished: c.Finished, Courses: c.Passes,
		Heats: c.Heats, Soft: c.Soft, Untimed: c.Untimed, Flame: figure(c.Flame.Minutes()), Gas: figure(c.Gas.Minutes()), GasFrom: c.GasFrom.String(),
		In: figure(float64(c.In)), Out: figure(float64(c.Out)), Scrap: figure(float64(c.Scrap)), Lost: figure(float64(c.Lost)), Unweighed: c.Unweighed}
}

func totalsOf(sums []totals.Sum, by totals.By) totalsJSON {
	j := totalsJSON{By: []string{totals.Month: "month", totals.Year: "year"}[by], Periods: []sumJSON{}, Total: sumOf("", totalOf(sums))}
	for _, s := range sums {
		j.Periods = append(j.Periods, sumOf(periodText(s, by), s.Counts))
	}
	return j
}

func totalOf(sums []totals.Sum) (all totals.Counts) {
	for _, s := range sums {
		all = all.Add(s.Counts)
	}
	return all
}

// periodText is 2026-03 or 2026.
func periodText(s totals.Sum, by totals.By) string {
	if by == totals.Year {
		return fmt.Sprintf("%04d", s.Begins.Year())
	}
	return s.Begins.Format("2006-01")
}
