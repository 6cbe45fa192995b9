package main

import (
	"github.com/spf13/cobra"

	"dullred/schedule"
)

func (a *app) safetyCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "safety",
		Short: "the cautions of the bench, with their sources",
		Args:  names(),
		RunE: func(*cobra.Command, []string) error {
			if a.json {
				return a.printJSON(map[string]string{"text": schedule.Safety()})
			}
			a.printf("%s", schedule.Safety())
			return nil
		},
	}
}
