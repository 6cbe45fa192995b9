package main

import (
	"strings"

	"github.com/spf13/cobra"

	"dullred/schedule"
)

func (a *app) signCommand() *cobra.Command {
	var t act
	cmd := &cobra.Command{
		Use:   "sign NAME SIGN",
		Short: "log a sign of the metal under the hammer",
		Long:  "Log a sign of the metal under the hammer, by its name or the beginning of it:\n\n  " + signNames(),
		Args:  names("NAME", "SIGN"),
		RunE: func(_ *cobra.Command, args []string) error {
			sign, err := schedule.ParseSign(args[1])
			if err != nil {
				return refuse("dullred sign NAME rings", "%w", err)
			}
			t.name, t.body = args[0], schedule.Signalled{Sign: sign}
			return a.do(t)
		},
	}
	t.flags(cmd)
	return cmd
}

func signNames() string {
	var all []string
	for _, s := range schedule.Signs() {
		all = append(all, string(s))
	}
	return strings.Join(all, ", ")
}
