package main

import (
	"context"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"dullred/cmd/internal/say"
	"dullred/schedule/share"
)

// app is one run of the program: where it reads and prints, what time it is, how a
// shared record is opened, and the flags that the commands share.
type app struct {
	in   io.Reader
	out  io.Writer
	now  func() time.Time
	open func(ctx context.Context, to target, bench string) (share.Store, error)

	json   bool
	record string // path; empty is the usual place
}

// target is a shared record and the way in.
type target struct{ url, passwordFile string }

const rootHelp = `dullred-share carries the entries of a bench to a shared record, and those of the
other benches back. The bench needs it for nothing: dullred writes to its own
disk, and goes on when the cable is pulled. What was not carried is carried later.

  Beside a bench    dullred-share run --to postgres://bench3@db.example/school
  Once              dullred-share send --to ..., dullred-share collect --to ...
  How it stands     dullred-share state
  What differs      dullred-share compare --to ...
  All benches       dullred-share board --to ... [--http 127.0.0.1:8080]
  The database      dullred-share prepare --to ..., role NAME --as writer --to ...
  A teacher         dullred-share benches --to ..., release BENCH, forget hand NAME

A password never stands in the address or on the command line: it comes from the
file that --password-file names, or from ~/.pgpass. Beyond this machine the server
must prove who it is by its certificate.

Exit codes: 0 done; 1 unexpected failure; 2 what was typed cannot be right; 4 the
record of this bench cannot be read or written; 5 the shared record cannot be
reached, or refuses. Whatever the code, no entry of the bench is lost.`

func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:           "dullred-share",
		Short:         "one record for many benches, each whole without it",
		Long:          rootHelp,
		Args:          none,
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE:          func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.CompletionOptions.HiddenDefaultCmd = true
	flags := root.PersistentFlags()
	flags.BoolVar(&a.json, "json", false, "print figures as JSON")
	flags.StringVar(&a.record, "record", "", "record `FILE` of the bench (default: the one that dullred opens)")
	root.SetFlagErrorFunc(func(cmd *cobra.Command, _ error) error {
		return refuse("see "+cmd.CommandPath()+" --help", "a flag is not known, or lacks its value")
	})
	run := a.runCommand()
	run.PostRun = func(*cobra.Command, []string) { a.farewell() }
	root.AddCommand(run, a.sendCommand(), a.collectCommand(), a.compareCommand(), a.stateCommand(),
		a.boardCommand(),
		a.prepareCommand(), a.roleCommand(), a.benchesCommand(), a.releaseCommand(), a.forgetCommand(),
		a.manualCommand())
	return root
}

// none wants no words behind a command. It repeats none of them: one may be an address
// with a password in it.
func none(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	return refuse("see "+cmd.CommandPath()+" --help", counted(len(args), "word", "words")+" too many, or no such command")
}

// targetFlags are the flags that say where the shared record is.
func targetFlags(cmd *cobra.Command, to *target) {
	cmd.Flags().StringVar(&to.url, "to", "", "address `URL` of the shared record: postgres://ROLE@HOST/DATABASE")
	cmd.Flags().StringVar(&to.passwordFile, "password-file", "", "the first line of this `FILE` is the password; only you may read it")
}

func (t target) check() error {
	if t.url == "" {
		return refuse("give it with --to postgres://ROLE@HOST/DATABASE", "the address of the shared record is missing")
	}
	return nil
}

func (a *app) printf(format string, args ...any) { fmt.Fprintf(a.out, format, args...) }

// answer prints what a command found: the struct with tags if it was asked for, else
// the text.
func (a *app) answer(tagged any, text string) error {
	if !a.json {
		a.printf("%s", text)
		return nil
	}
	out, err := say.JSON(tagged, "  ")
	if err != nil {
		return err
	}
	_, err = a.out.Write(out)
	return err
}

// lines is the text of an answer whose lines have a head.
type lines struct{ strings.Builder }

func (l *lines) line(head, format string, args ...any) {
	fmt.Fprintf(l, "%-9s %s\n", head, fmt.Sprintf(format, args...))
}

// counted is a number of things: "1 entry", "2 entries".
func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprint(n, " ", many)
}

func entries(n int) string { return counted(n, "entry", "entries") }
