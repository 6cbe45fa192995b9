package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"dullred/cmd/internal/say"
)

func (a *app) forgetCommand() *cobra.Command {
	var to target
	var yes bool
	cmd := &cobra.Command{
		Use:   "forget piece|hand|bench NAME",
		Short: "erase a name in the shared record, for good",
		Long: `Erases the name of a piece, a hand or a bench in the shared record, as a teacher. It
cannot be taken back: the name is not taken again from any bench. The entries stay
under an id that says nothing of anybody.

It does not reach the benches. Those that have the name keep it: of a hand it is
erased there with dullred forget NAME, at every bench. A board that is open has it no
longer within ten minutes.

Not erased are words that somebody typed: notes and marks; backups and the log of the
server; and what lies in unused parts of its files until the owner of the database
writes the table anew with VACUUM FULL dullred.label.`,
		Example: "  dullred-share forget hand anna --to postgres://teacher@db.example/school",
		Args:    words("piece, hand or bench, and the name", 2),
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.forget(cmd.Context(), to, args[0], consent{args[1], yes, cmd.ErrOrStderr()})
		},
	}
	targetFlags(cmd, &to)
	cmd.Flags().BoolVar(&yes, "yes", false, "do not ask")
	return cmd
}

// forgottenJSON is a name that was erased.
type forgottenJSON struct {
	Class string `json:"class"`
	Name  string `json:"name"`
	ID    string `json:"id"` // under which the entries stay
}

func (a *app) forget(ctx context.Context, to target, class string, c consent) error {
	if !slices.Contains([]string{"piece", "hand", "bench"}, class) {
		return refuse("see dullred-share forget --help", fmt.Sprintf("%.20q is not piece, hand or bench", class))
	}
	return a.taught(ctx, to, func(s school) error {
		l, found, err := s.Named(ctx, class, c.name)
		switch {
		case err != nil:
			return err
		case !found:
			return refuse("see how it is written", fmt.Sprintf("the shared record has no %s named %.60q", class, c.name))
		}
		if err := a.agree(c, fmt.Sprintf("The name of the %s %s is erased in the shared record, and cannot come back.", class, say.Clean(l.Text))); err != nil {
			return err
		}
		if err := s.Forget(ctx, l.ID); err != nil {
			return err
		}
		j := forgottenJSON{class, say.Clean(l.Text), l.ID}
		return a.answer(j, j.text())
	})
}

func (j forgottenJSON) text() string {
	var l lines
	l.line("forgotten", "the %s %s, in the shared record", j.Class, j.Name)
	l.line("stays", "its entries, without the name; notes and marks that somebody typed; backups and the log of the server")
	if j.Class == "hand" {
		l.line("next", "at each bench: dullred forget %s, because this did not reach the benches", quoted(j.Name))
	} else {
		l.line("mind", "this did not reach the benches: those that have the name keep it")
	}
	return l.String()
}

// quoted is a name as one word of a shell.
func quoted(name string) string {
	if !strings.ContainsFunc(name, func(r rune) bool { return strings.ContainsRune(" \t'\"\\$`!*?[](){}<>|&;#~", r) }) {
		return name
	}
	return "'" + strings.ReplaceAll(name, "'", `'\''`) + "'"
}
