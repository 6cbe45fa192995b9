// Dullred-share carries entries between the record of a bench and a shared one.
//
// It runs beside dullred, which never touches a network itself: the bench writes to its
// own disk and is done. See the README.
package main

import (
	"context"
	"errors"
	"io"
	"os"
	"os/signal"
	"syscall"
	"time"

	"dullred/cmd/dullred-share/internal/postgres"
	"dullred/cmd/internal/say"
	"dullred/schedule/share"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	a := &app{in: os.Stdin, out: os.Stdout, now: time.Now, open: openPostgres}
	os.Exit(a.run(ctx, os.Args[1:], os.Stderr))
}

// openPostgres is a shared record in a PostgreSQL database.
func openPostgres(ctx context.Context, to target, bench string) (share.Store, error) {
	s, err := postgres.Open(ctx, postgres.Config{URL: to.url, PasswordFile: to.passwordFile, Bench: bench})
	if err != nil {
		return nil, err // and not a Store that is no nil
	}
	return s, nil
}

// run is the program without the process around it; it gives the exit code.
func (a *app) run(ctx context.Context, args []string, errOut io.Writer) int {
	root := a.root()
	root.SetArgs(args)
	root.SetIn(a.in)
	root.SetOut(a.out)
	root.SetErr(errOut)
	err := root.ExecuteContext(ctx)
	if err == nil || ctx.Err() != nil && errors.Is(err, ctx.Err()) {
		return exitOK
	}
	return explain(err).Report(errOut, "dullred-share")
}

// refuse is a fault of what was typed.
func refuse(do, text string) error {
	return &say.Fault{Err: errors.New(text), Code: exitRefused, Kept: "nothing was done", Do: do}
}
