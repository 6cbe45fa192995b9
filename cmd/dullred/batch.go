package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/record"
)

// mostAlike is how many pieces of one plan are believed.
const mostAlike = 1000

// batchFlags is what batch was given.
type batchFlags struct {
	atOnce int
	day    string
}

func (a *app) batchCommand() *cobra.Command {
	var f batchFlags
	cmd := &cobra.Command{
		Use:   "batch [NAME...]",
		Short: "several pieces together: which share a heat, and what to work before it",
		Long: `Several pieces that have a plan, made together: which of them share a heat, and
what to work before it, so that the torch is lit as seldom as can be. Every piece
goes through its own plan step by step and waits at its stop for its heat.

The pieces of a heat are annealed one after the other while the torch burns, at a
temperature that is in the window of each. A joint is soldered alone. Without
a NAME it takes all pieces that have a plan.`,
		Example: `  dullred batch
  dullred batch spoon-1 spoon-2 bowl --at-once 4 --day 6h`,
		Args: cobra.ArbitraryArgs,
		RunE: func(_ *cobra.Command, args []string) error { return a.batch(args, f) },
	}
	cmd.Flags().IntVar(&f.atOnce, "at-once", schedule.BatchAtOnce, "most pieces in one heat: `NUMBER`, by what the hearth holds (default a judgement)")
	cmd.Flags().StringVar(&f.day, "day", "", "how long a day is worked: `TIME`, such as 6h; it ends before what does not fit")
	return cmd
}

// batch plans pieces of the record together.
func (a *app) batch(names []string, f batchFlags) error {
	job := schedule.BatchJob{AtOnce: f.atOnce}
	if f.atOnce < 1 {
		return refuse("give 1 or more with --at-once", "%d pieces cannot share a heat", f.atOnce)
	}
	if f.day != "" {
		var err error
		if job.Day, err = unit.ParseDuration(f.day); err != nil {
			return refuse("give the hours of a day, such as --day 6h", "%w", err)
		}
	}
	b, err := a.open()
	if err != nil {
		return err
	}
	if len(names) == 0 {
		job.Pieces, err = b.planned()
	} else {
		job.Pieces, err = b.batchNamed(names)
	}
	if err = errors.Join(err, b.close()); err != nil {
		return err
	}
	return a.showBatch(job)
}

// batchNamed are pieces by name, each with its plan.
func (b *bench) batchNamed(names []string) (all []schedule.BatchPiece, err error) {
	for _, name := range names {
		p, err := b.find(name)
		if err != nil {
			return nil, err
		}
		if p.state.Plan == nil {
			return nil, refuse(`plan it first: `+planExampleOf(p.name), "%s has no plan", p.name)
		}
		if err := b.follow(p); err != nil {
			return nil, err
		}
		if p.on == nil || p.on.Lost != "" {
			return nil, refuse("dullred plan "+asWord(p.name)+" says why; plan a smaller shape, or leave it out", "%s cannot follow its plan any more", p.name)
		}
		all = append(all, schedule.BatchPiece{Name: p.name, Plan: p.on.Plan, From: p.on.At})
	}
	return all, nil
}

// planned are all pieces whose plan can be followed and has a step left, by name.
func (b *bench) planned() (all []schedule.BatchPiece, err error) {
	labels, err := b.rec.Labels(record.PieceClass)
	if err != nil {
		return nil, err
	}
	for _, l := range labels {
		p, err := b.load(schedule.ID(l.ID), l.Text)
		if err != nil {
			return nil, err
		}
		if err := b.follow(p); err != nil {
			return nil, err
		}
		if !p.state.Done() && p.on != nil && p.on.Lost == "" && p.on.At < len(p.on.Plan.Steps) {
			all = append(all, schedule.BatchPiece{Name: p.name, Plan: p.on.Plan, From: p.on.At})
		}
	}
	if len(all) == 0 {
		return nil, refuse(`plan one: `+planExampleOf("NAME"), "no piece has a plan with a step left to do")
	}
	slices.SortFunc(all, func(x, y schedule.BatchPiece) int { return strings.Compare(x.Name, y.Name) })
	return all, nil
}

// follow sets a piece against its plan by what its hands learned.
func (b *bench) follow(p *piece) error {
	if p.state.Plan == nil {
		return nil
	}
	others, err := b.others(p)
	if err != nil {
		return err
	}
	return p.followPlan(others)
}

// batchAlike prints the batch of so many pieces of one plan, none of them begun.
func (a *app) batchAlike(p schedule.Plan, pieces int) error {
	if pieces < 1 || pieces > mostAlike {
		return refuse(fmt.Sprintf("give --pieces from 1 to %d", mostAlike), "a batch of %d pieces is not believable", pieces)
	}
	var job schedule.BatchJob
	for i := range pieces {
		job.Pieces = append(job.Pieces, schedule.BatchPiece{Name: fmt.Sprintf("piece-%d", i+1), Plan: p})
	}
	return a.showBatch(job)
}

func (a *app) showBatch(job schedule.BatchJob) error {
	out, err := schedule.BatchOf(job)
	if err != nil {
		return refuse("mend the names, or the plan that it speaks of", "%w", err)
	}
	return a.answer(batchJSONOf(job, out), batchText(job, out))
}

// batchJSON is a batch for a machine.
type batchJSON struct {
	Pieces  int         `json:"pieces"`
	Heats   int         `json:"heats"`
	Joints  int         `json:"joints"`
	Alone   int         `json:"alone"`
	Fewest  bool        `json:"fewest"`
	Least   int         `json:"least_heats"`
	AtOnce  int         `json:"at_once"`
	Days    int         `json:"days"`
	Torch   float64     `json:"torch_minutes"`
	Minutes float64     `json:"minutes"`
	Rounds  []roundJSON `json:"rounds"`
	Notes   []string    `json:"notes"`
}

type roundJSON struct {
	Day     int             `json:"day"`
	Minutes float64         `json:"minutes"`
	Work    []batchWorkJSON `json:"work"`
	Heat    *batchHeatJSON  `json:"heat,omitempty"`
}

type batchWorkJSON struct {
	Piece string          `json:"piece"`
	Steps []batchStepJSON `json:"steps"`
}

// batchStepJSON is a step by its number in the plan of its piece, from 1.
type batchStepJSON struct {
	Step    int    `json:"step"`
	Act     string `json:"act"`
	Zone    string `json:"zone"`
	Process string `json:"process,omitempty"`
	StopAt  string `json:"stop_at,omitempty"`
}

// batchHeatJSON is a heat; a window that nobody published is absent.
type batchHeatJSON struct {
	Kind   string   `json:"kind"`
	Pieces []string `json:"pieces"`
	Steps  []int    `json:"steps"` // of the plan of each, from 1
	Low    *float64 `json:"low_c,omitempty"`
	High   *float64 `json:"high_c,omitempty"`
	Torch  float64  `json:"torch_minutes"`
}

func batchJSONOf(job schedule.BatchJob, b schedule.Batch) batchJSON {
	j := batchJSON{Pieces: len(job.Pieces), Heats: b.Heats, Joints: b.Joints, Alone: b.Alone, Fewest: b.Fewest, Least: b.Least, AtOnce: b.AtOnce,
		Days: b.Days, Torch: figure(b.Torch.Minutes()), Minutes: figure(b.Total.Minutes()), Rounds: []roundJSON{}, Notes: b.Notes}
	for _, r := range b.Rounds {
		round := roundJSON{Day: r.Day, Minutes: figure(r.Takes.Minutes()), Work: []batchWorkJSON{}}
		for _, w := range r.Work {
			round.Work = append(round.Work, batchWorkJSONOf(job.Pieces[w.Piece], w))
		}
		if len(r.Heat.Pieces) > 0 {
			round.Heat = batchHeatJSONOf(job, r.Heat)
		}
		j.Rounds = append(j.Rounds, round)
	}
	return j
}

func batchWorkJSONOf(p schedule.BatchPiece, w schedule.BatchWork) batchWorkJSON {
	j := batchWorkJSON{Piece: p.Name}
	for i := w.From; i < w.To; i++ {
		s := p.Plan.Steps[i]
		j.Steps = append(j.Steps, batchStepJSON{Step: i + 1, Act: string(s.Act), Zone: s.Zone, Process: string(s.Process), StopAt: s.Stop()})
	}
	return j
}

func batchHeatJSONOf(job schedule.BatchJob, h schedule.BatchHeat) *batchHeatJSON {
	j := batchHeatJSON{Kind: string(h.Act), Torch: figure(h.Torch.Minutes())}
	for i, p := range h.Pieces {
		j.Pieces, j.Steps = append(j.Pieces, job.Pieces[p].Name), append(j.Steps, h.Steps[i]+1)
	}
	if h.High > 0 {
		j.Low, j.High = new(figure(float64(h.Low))), new(figure(float64(h.High)))
	}
	return &j
}
