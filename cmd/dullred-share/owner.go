package main

import (
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"dullred/cmd/dullred-share/internal/postgres"
	"dullred/cmd/internal/place"
)

func (a *app) prepareCommand() *cobra.Command {
	var to target
	cmd := &cobra.Command{
		Use:   "prepare",
		Short: "make a database ready to be shared, or bring it up to date",
		Long: `Makes a database ready to be shared, or brings it up to date, as its owner. Nothing
that is in it is lost: steps go forward only, each whole or not at all.`,
		Example: "  dullred-share prepare --to postgres://owner@db.example/school",
		Args:    none,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := to.check(); err != nil {
				return err
			}
			from, now, err := postgres.Prepare(cmd.Context(), postgres.Config{URL: to.url, PasswordFile: to.passwordFile})
			if err != nil {
				return asOwner(err)
			}
			return a.answer(preparedJSON{from, now}, preparedText(from, now))
		},
	}
	targetFlags(cmd, &to)
	return cmd
}

// asOwner says what is kept and to be done when the owner is refused.
func asOwner(err error) error {
	return inSchool(err, "use the role that owns the database, and may make roles")
}

// preparedJSON is the version of a database before and after.
type preparedJSON struct {
	From int `json:"from"` // 0 is a database without a shared record
	To   int `json:"to"`
}

func preparedText(from, to int) string {
	switch from {
	case to:
		return fmt.Sprintf("ready     it was, at version %d\n", to)
	case 0:
		return fmt.Sprintf("ready     at version %d\nnext      dullred-share role NAME --as writer for each bench\n", to)
	}
	return fmt.Sprintf("ready     at version %d, before %d\n", to, from)
}

func (a *app) roleCommand() *cobra.Command {
	var to target
	var as, file string
	cmd := &cobra.Command{
		Use:   "role NAME",
		Short: "make a role for a bench, a board or a teacher",
		Long: `Makes a role that may log in, as the owner of the database: a writer for each bench, a
reader for a board, a teacher who reads, gives a bench to another role and erases
names. Its password is the first line of the file that --role-password-file names, or
is asked for, or comes from standard input; it is shown nowhere.`,
		Example: "  dullred-share role bench3 --as writer --to postgres://owner@db.example/school",
		Args:    words("the name of one role", 1),
		RunE:    func(cmd *cobra.Command, args []string) error { return a.role(cmd, to, roleFlags{args[0], as, file}) },
	}
	targetFlags(cmd, &to)
	cmd.Flags().StringVar(&as, "as", "", "what it may do: writer, reader or teacher")
	cmd.Flags().StringVar(&file, "role-password-file", "", "the first line of this `FILE` is the password of the new role")
	return cmd
}

// roleFlags is what role was given.
type roleFlags struct{ name, as, file string }

func (a *app) role(cmd *cobra.Command, to target, f roleFlags) error {
	if err := to.check(); err != nil {
		return err
	}
	password, err := a.password(f.file)
	if err != nil {
		return err
	}
	login := postgres.Login{Name: f.name, As: f.as, Password: password}
	if err := postgres.AddRole(cmd.Context(), postgres.Config{URL: to.url, PasswordFile: to.passwordFile}, login); err != nil {
		return asOwner(err)
	}
	return a.answer(map[string]string{"role": f.name, "as": f.as}, fmt.Sprintf("made      the role %s, a %s\n", f.name, f.as))
}

// password reads the password of a new role: from a file, unseen from the terminal, or
// from what is piped in.
func (a *app) password(file string) (string, error) {
	if file != "" {
		in, err := place.Open(file)
		if err != nil {
			return "", refuse("name a file that you may read", "the file of the new password is no plain file that can be read") // its name may be the password
		}
		defer in.Close()
		return firstLine(in)
	}
	if in, ok := a.in.(*os.File); ok && term.IsTerminal(int(in.Fd())) {
		a.printf("password of the new role: ")
		typed, err := term.ReadPassword(int(in.Fd()))
		a.printf("\n")
		if err != nil {
			return "", refuse("give it in a file with --role-password-file", "the password cannot be read: "+err.Error())
		}
		return firstLine(strings.NewReader(string(typed)))
	}
	return firstLine(a.in)
}

func firstLine(in io.Reader) (string, error) {
	line, err := postgres.FirstLine(in)
	if err != nil {
		return "", refuse("give it in a file with --role-password-file", "the password cannot be read: "+err.Error())
	}
	if line == "" {
		return "", refuse("give one of some length, in a file with --role-password-file or by standard input", "the password of the new role is empty")
	}
	return line, nil
}
