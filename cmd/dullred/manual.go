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
		Use:   "manual --into FOLDER",
		Short: "write the pages of the manual, one for each command",
		Long: `It writes a page for man for each command, made of the same words as its --help. In a
folder man1 below one that man looks into, man dullred shows the first.`,
		Example: "  dullred manual --into ~/.local/share/man/man1\n  man dullred-heat-begin",
		Args:    names(),
		RunE: func(*cobra.Command, []string) error {
			if into == "" {
				return refuse("dullred manual --into FOLDER", "no folder is named for the pages")
			}
			n, err := manual.Write(into, manualPages())
			if err != nil {
				return &fault{Err: err, Code: exitRefused, Kept: "the record is as it was", Do: "name a folder with --into that you may write to"}
			}
			return a.answer(map[string]any{"pages": n, "into": into}, fmt.Sprintf("%d pages in %s: man dullred\n", n, into))
		},
	}
	cmd.Flags().StringVar(&into, "into", "", "the `FOLDER` for the pages")
	return cmd
}

// manualPages are those of every command.
func manualPages() []manual.Page {
	root := (&app{getenv: func(string) string { return "" }}).root()
	root.InitDefaultHelpCmd()
	return manual.Pages(root, manual.About{Exits: say.ExitRows("dullred"), Files: [][2]string{
		{"$XDG_DATA_HOME/dullred/record.db", "every entry of every piece (default: ~/.local/share)"},
		{"$XDG_CONFIG_HOME/dullred/config.toml", "the settings: dullred config --example (default: ~/.config)"},
		{"$XDG_CONFIG_HOME/dullred/alloys.csv", "metals of your own: dullred alloys check FILE"},
	}})
}
