package main

import (
	"github.com/spf13/cobra"

	"dullred/alloys/unit"
	"dullred/schedule"
)

// simple makes a command that logs one kind of entry for a piece.
func (a *app) simple(use, short string, body schedule.Body) *cobra.Command {
	var t act
	cmd := &cobra.Command{
		Use:   use + " NAME",
		Short: short,
		Args:  names("NAME"),
		RunE: func(_ *cobra.Command, args []string) error {
			t.name, t.body = args[0], body
			return a.do(t)
		},
	}
	t.flags(cmd)
	return cmd
}

// group makes a command that only holds others.
func group(use, short string, subs ...*cobra.Command) *cobra.Command {
	cmd := &cobra.Command{
		Use:   use,
		Short: short,
		Args:  noSuchCommand,
		RunE:  func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	cmd.AddCommand(subs...)
	return cmd
}

func (a *app) heatCommand() *cobra.Command {
	return group("heat", "log a heat: begin, reach, out",
		a.orProbe(a.heatStep("begin", "the piece is in the flame", func(t unit.Celsius) schedule.Body { return schedule.Begun{Temp: t} })),
		a.heatStep("reach", "the heat is reached; hold it", func(t unit.Celsius) schedule.Body { return schedule.Reached{Temp: t} }),
		a.heatStep("out", "out of the flame; HOT though it does not glow", func(t unit.Celsius) schedule.Body { return schedule.Out{Temp: t} }))
}

func (a *app) heatStep(use, short string, body func(unit.Celsius) schedule.Body) *cobra.Command {
	var t act
	var temp string
	cmd := &cobra.Command{
		Use:   use + " NAME",
		Short: short,
		Args:  names("NAME"),
		RunE: func(_ *cobra.Command, args []string) error {
			var c unit.Celsius
			if temp != "" {
				var err error
				if c, err = unit.ParseTemperature(temp); err != nil {
					return refuse("mend --temp", "%w", err)
				}
			}
			t.name, t.body = args[0], body(c)
			return a.do(t)
		},
	}
	t.flags(cmd)
	cmd.Flags().StringVar(&temp, "temp", "", "measured `TEMPERATURE`: 650C, 1200F")
	return cmd
}

func (a *app) quenchCommand() *cobra.Command {
	return a.simple("quench", "the piece is quenched", schedule.Quenched{})
}

func (a *app) coolCommand() *cobra.Command {
	return a.orCoolSum(a.simple("cool", "the piece was checked and is cool enough to touch", schedule.FoundCool{}))
}

func (a *app) fluxCommand() *cobra.Command {
	return a.simple("flux", "the piece is coated with flux against fire-stain, until it is pickled", schedule.Fluxed{})
}

func (a *app) pickleCommand() *cobra.Command {
	return group("pickle", "log the pickle: in, or out and rinsed",
		a.simple("in", "the piece is in the pickle", schedule.Pickled{}),
		a.simple("out", "the piece is out of the pickle and rinsed", schedule.Rinsed{}))
}

func (a *app) provedCommand() *cobra.Command {
	return group("proved", "log a bend check after a heat: soft or springy",
		a.simple("soft", "it bends dead and stays: the count starts again", schedule.Soft{}),
		a.simple("springy", "it springs back: the count stands", schedule.Springy{}))
}

func (a *app) crackCommand() *cobra.Command {
	return group("crack", "log a crack: seen, filed out, or overridden",
		a.simple("seen", "a crack is seen: work stops until it is filed out", schedule.CrackSeen{}),
		a.simple("filed", "the crack is filed out", schedule.CrackFiled{}),
		a.simple("override", "go on with the crack in it, recorded with the hand that says so", schedule.CrackIgnored{}))
}

func (a *app) dressedCommand() *cobra.Command {
	return a.simple("dressed", "edges rounded or filed smooth, no change of section", schedule.Dressed{})
}
