package main

import (
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"dullred/schedule"
)

func (a *app) photoCommand() *cobra.Command {
	var t act
	cmd := &cobra.Command{
		Use:   "photo NAME 12-19",
		Short: "log which photos show a piece, by their numbers or by a file",
		Long: `Log which photos show a piece, by the numbers that the camera gave them or by the name
of a file. The file is referred to and never copied; dullred export --photos DIR copies it.`,
		Example: "  dullred photo spoon 12-19\n  dullred photo spoon pictures/0012.jpg --zone middle",
		Args:    cobra.ArbitraryArgs,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) < 2 {
				return refuse("dullred photo NAME 12-19", "photo needs the name of a piece and a number or a file")
			}
			t.name, t.body = args[0], schedule.Photo{Ref: a.photoRef(strings.Join(args[1:], " "))}
			return a.do(t)
		},
	}
	t.flags(cmd)
	return cmd
}

// photoRef is a photo as it is kept: a file that is there by its whole path, so that it
// is found from any folder; anything else as it was typed.
func (a *app) photoRef(typed string) string {
	typed = strings.TrimSpace(typed)
	if info, err := os.Stat(typed); err != nil || info.IsDir() {
		return typed
	}
	if whole, err := filepath.Abs(typed); err == nil {
		return whole
	}
	return typed
}
