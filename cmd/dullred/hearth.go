package main

import (
	"errors"

	"github.com/spf13/cobra"

	"dullred/schedule"
)

// The entries of a bench as a whole: its torch and the light of its room.

func (a *app) torchCommand() *cobra.Command {
	return group("torch", "log the torch: lit or out",
		a.benchLike("lit", "the torch is lit", schedule.TorchLit{}),
		a.benchLike("out", "the torch is out: the fire watch begins", schedule.TorchOut{}))
}

func (a *app) benchLike(use, short string, body schedule.Body) *cobra.Command {
	var at string
	cmd := &cobra.Command{
		Use:   use,
		Short: short,
		Args:  names(),
		RunE:  func(*cobra.Command, []string) error { return a.doAtBench(body, at) },
	}
	cmd.Flags().StringVar(&at, "at", "", "when it happened: `TIME` (default now)")
	return cmd
}

func (a *app) lightCommand() *cobra.Command {
	var at string
	cmd := &cobra.Command{
		Use:   "light dark|dim|\"bench lamp\"|daylight",
		Short: "say how bright the room is: it decides what is seen of a glow",
		Args:  names("LIGHT"),
		RunE: func(_ *cobra.Command, args []string) error {
			room, err := schedule.ParseLight(args[0])
			if err != nil {
				return refuse("dullred light dim", "%w", err)
			}
			return a.doAtBench(schedule.Lit{Room: room}, at)
		},
	}
	cmd.Flags().StringVar(&at, "at", "", "when it happened: `TIME` (default now)")
	return cmd
}

func (a *app) doAtBench(body schedule.Body, when string) error {
	at, err := parseWhen(when, a.now())
	if err != nil {
		return err
	}
	b, err := a.open()
	if err != nil {
		return err
	}
	return errors.Join(a.doAtBenchOn(b, schedule.Entry{ID: schedule.NewID(), At: at, Written: schedule.Moment(a.now()),
		Bench: b.here.bench, Hand: b.here.hand, Piece: b.here.bench, Version: 1, Body: body}), b.close())
}

func (a *app) doAtBenchOn(b *bench, e schedule.Entry) error {
	if err := schedule.AcceptIn(b.book, nil, e, a.now()); err != nil {
		return asRefusal(err)
	}
	if err := b.append(nil, e); err != nil {
		return err
	}
	if a.json {
		return a.printJSON(struct {
			ID   schedule.ID `json:"id"`
			Kind string      `json:"kind"`
		}{e.ID, string(e.Kind())})
	}
	a.printf("%s", wrap("logged  ", "        ", e.Describe()+"  ["+e.Handle()+"]"))
	return nil
}
