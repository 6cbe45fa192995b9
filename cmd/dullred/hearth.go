package main

import (
	"errors"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"dullred/schedule"
	"dullred/schedule/heat"
)

// The entries of a bench as a whole: its torch, the light and the noise of its room.

func (a *app) torchCommand() *cobra.Command {
	return a.orTorchSum(group("torch", "log the torch: lit or out",
		a.litCommand(),
		a.benchLike("out", "the torch is out: the fire watch begins", schedule.TorchOut{})))
}

func (a *app) litCommand() *cobra.Command {
	var lit schedule.TorchLit
	var at string
	cmd := &cobra.Command{
		Use:   "lit",
		Short: "the torch is lit",
		Long: `The torch is lit. Give each torch a name when there is more than one, and say when
hot brick stands behind the work: how long a heat takes is learned from your own
timed heats, for each torch and hearth by itself.`,
		Args: names(),
		RunE: func(*cobra.Command, []string) error { return a.doAtBench(lit, at) },
	}
	cmd.Flags().StringVar(&lit.Torch, "name", "", "`NAME` of the torch, when there is more than one")
	cmd.Flags().BoolVar(&lit.Brick, "brick", false, "hot brick stands behind the work")
	cmd.Flags().StringVar(&at, "at", "", "when it happened: `TIME` (default now)")
	return cmd
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
			room, err := heat.ParseLight(args[0])
			if err != nil {
				return refuse("dullred light dim", "%w", err)
			}
			return a.doAtBench(schedule.Lit{Room: room}, at)
		},
	}
	cmd.Flags().StringVar(&at, "at", "", "when it happened: `TIME` (default now)")
	return cmd
}

func (a *app) noiseCommand() *cobra.Command {
	var at string
	cmd := &cobra.Command{
		Use:   "noise LEVEL",
		Short: "say how loud the hammering is, in dB(A) as measured at the ear, or \"quiet\"",
		Long: `Say how loud the hammering is, in dB(A) as measured at the ear, or "quiet" when it
has stopped. The bench then tells when ears without protection have had enough for
a day: 8 hours at 85 dB(A), half as long for every 3 dB more (NIOSH 98-126).`,
		Args: names("LEVEL"),
		RunE: func(_ *cobra.Command, args []string) error {
			level, err := parseLevel(args[0])
			if err != nil {
				return err
			}
			return a.doAtBench(schedule.Noise{Level: level}, at)
		},
	}
	cmd.Flags().StringVar(&at, "at", "", "when it began: `TIME` (default now)")
	return cmd
}

// parseLevel reads 94, 94.5, 94dBA or quiet.
func parseLevel(text string) (float64, error) {
	if strings.EqualFold(text, "quiet") {
		return 0, nil
	}
	figure := strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(strings.ToLower(text), "(a)"), "a"))
	figure = strings.TrimSpace(strings.TrimSuffix(figure, "db"))
	level, err := strconv.ParseFloat(strings.Replace(figure, ",", ".", 1), 64)
	if err != nil || level == 0 {
		return 0, refuse("dullred noise 94, or dullred noise quiet", "%.60q is not a level in dB(A)", text)
	}
	return level, nil
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
	return errors.Join(a.doAtBenchOn(b, a.atBench(b, body, at)), b.close())
}

// atBench is an entry of the bench as a whole.
func (a *app) atBench(b *bench, body schedule.Body, at time.Time) schedule.Entry {
	return schedule.Entry{ID: schedule.NewID(), At: schedule.Moment(at), Written: schedule.Moment(a.now()),
		Bench: b.here.bench, Hand: b.here.hand, Piece: b.here.bench, Version: 1, Body: body}
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
