package main

import (
	"strings"

	"github.com/spf13/cobra"

	"dullred/alloys/unit"
	"dullred/schedule"
)

func (a *app) weighCommand() *cobra.Command {
	var t act
	var scrap bool
	cmd := &cobra.Command{
		Use:   "weigh NAME 77.0g",
		Short: "log what a piece weighs, or the scrap that was kept of it",
		Long: `Log what a piece weighs. The first weight is the metal that went in, the last is what
came out; what is in neither the piece nor its scrap is lost, and its making record
says so.`,
		Example: "  dullred weigh spoon 77g\n  dullred weigh spoon 1.2g --scrap\n  dullred weigh spoon 2.41ozt",
		Args:    cobra.ArbitraryArgs,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) < 2 {
				return refuse("dullred weigh NAME 77.0g", "weigh needs the name of a piece and a weight")
			}
			mass, err := unit.ParseMass(strings.Join(args[1:], " "))
			if err != nil {
				return refuse("dullred weigh NAME 77.0g", "%w", err)
			}
			weighed := schedule.Weighed{Mass: mass}
			if scrap {
				weighed.What = schedule.PartScrap
			}
			t.name, t.body = args[0], weighed
			return a.do(t)
		},
	}
	cmd.Flags().StringVar(&t.at, "at", "", "when it was weighed: `TIME` (default now)")
	cmd.Flags().BoolVar(&scrap, "scrap", false, "what was cut or filed off and is kept")
	return cmd
}
