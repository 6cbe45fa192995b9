package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"dullred/cmd/internal/manual"
	"dullred/cmd/internal/say"
)

func (a *app) manualCommand() *cobra.Command {
	var into string
	cmd := &cobra.Command{
		Use:     "manual --into FOLDER",
		Short:   "write the pages of the manual, one for each command",
		Example: "  dullred-share manual --into ~/.local/share/man/man1\n  man dullred-share-run",
		Args:    none,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if into == "" {
				return refuse("dullred-share manual --into FOLDER", "no folder is named for the pages")
			}
			n, err := manual.Write(into, manual.Pages(cmd.Root(), aboutManual()))
			if err != nil {
				return refuse("name a folder with --into that you may write to", "the pages cannot be written: "+err.Error())
			}
			return a.answer(map[string]any{"pages": n, "into": into}, fmt.Sprintf("%d pages in %s: man dullred-share\n", n, into))
		},
	}
	cmd.Flags().StringVar(&into, "into", "", "the `FOLDER` for the pages")
	return cmd
}

func aboutManual() manual.About {
	return manual.About{Exits: say.ExitRows("dullred-share"), Files: [][2]string{
		{"$XDG_DATA_HOME/dullred/record.db", "the record of the bench (default: ~/.local/share)"},
		{"record.db-share-ledger", "beside the record: what was carried; it may be deleted"},
		{"~/.pgpass", "passwords, as the server's own programs read them"},
	}}
}
