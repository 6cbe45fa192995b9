// Dullred says when to stop and anneal, before the metal splits.
//
// It is a bench-side assistant for people who cold-work metal by hand: it keeps
// a record of every pass and heat of a piece, and says how much of the limit is
// spent, how many courses are left and when to anneal. See README.md.
package main

import (
	"cmp"
	"errors"
	"io"
	"os"
	"time"

	"github.com/spf13/cobra"

	"dullred/tui"
	"dullred/tui/term"
)

func main() {
	cobra.MousetrapHelpText = "" // who opens it with the mouse on Windows wants the bench, not a word on shells
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr, os.Getenv))
}

// run is the program without the process around it; it gives the exit code.
func run(args []string, out, errOut io.Writer, getenv func(string) string) int {
	a := &app{out: out, now: time.Now, getenv: getenv, args: args}
	root := a.rootFor(args)
	root.SetArgs(args)
	root.SetOut(out)
	root.SetErr(errOut)
	err := root.Execute()
	if ended, ok := errors.AsType[tui.Signalled](err); ok {
		return term.ExitCode(ended.Signal)
	}
	if err = cmp.Or(err, a.unsaid); err != nil {
		return report(speaker{errOut, a.sayLine}, err)
	}
	return exitOK
}
