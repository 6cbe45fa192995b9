package main

import (
	"github.com/spf13/cobra"

	"dullred/schedule"
)

func (a *app) bathCommand() *cobra.Command {
	var at string
	var iron bool
	cmd := &cobra.Command{
		Use:   "bath fresh|working|spent",
		Short: "say how the pickle of this bench is, and whether iron is in it",
		Args:  names("STATE"),
		RunE: func(_ *cobra.Command, args []string) error {
			state, err := schedule.ParseBath(args[0])
			if err != nil {
				return refuse("dullred bath working", "%w", err)
			}
			return a.doAtBench(schedule.Bath{State: state, Iron: iron}, at)
		},
	}
	cmd.Flags().BoolVar(&iron, "iron", false, "iron or steel is in it, or was: it stays so until the bath is fresh")
	cmd.Flags().StringVar(&at, "at", "", "when it happened: `TIME` (default now)")
	return cmd
}
