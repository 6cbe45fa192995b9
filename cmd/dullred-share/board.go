package main

import (
	"context"
	"encoding/json"
	"errors"
	"os"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"dullred/cmd/dullred-share/internal/board"
	"dullred/cmd/dullred-share/internal/postgres"
	"dullred/schedule/share"
)

const boardHelp = `Shows all benches on one page, nearest to splitting first, what is hot and every
alert that nobody has seen on top. It reads only, as a role that was made with
--as reader, and needs no record on this machine. Without --http it is a page of
the terminal, for a projector: make the letters of the terminal large. With --http
it is a web page at an address of this machine. Ctrl-C ends it.`

func (a *app) boardCommand() *cobra.Command {
	var to target
	var at string
	cmd := &cobra.Command{
		Use:   "board",
		Short: "all benches on one page, nearest to splitting first",
		Long:  boardHelp,
		Example: "  dullred-share board --to postgres://board@db.example/school\n" +
			"  dullred-share board --to postgres://board@db.example/school --http 127.0.0.1:8080",
		Args: none,
		RunE: func(cmd *cobra.Command, _ []string) error { return a.board(cmd.Context(), to, at) },
	}
	targetFlags(cmd, &to)
	cmd.Flags().StringVar(&at, "http", "", "give a web page at this `ADDRESS` of this machine, such as 127.0.0.1:8080")
	return cmd
}

// board shows the benches until ctx ends, or the address of the shared record turns out
// to be none: trying that again would not help.
func (a *app) board(ctx context.Context, to target, at string) (err error) {
	if err := to.check(); err != nil {
		return err
	}
	ctx, stop := context.WithCancelCause(ctx)
	feed := board.NewFeed(func(ctx context.Context) (share.Store, error) {
		s, err := a.open(ctx, to, "")
		if errors.Is(err, postgres.ErrAddress) {
			stop(err)
		}
		return s, err
	}, a.now)
	read := make(chan struct{})
	go func() { defer close(read); feed.Run(ctx) }()
	defer func() { stop(nil); <-read }()
	if err = a.showBoard(ctx, feed, at); err == nil && errors.Is(context.Cause(ctx), postgres.ErrAddress) {
		err = context.Cause(ctx)
	}
	return err
}

func (a *app) showBoard(ctx context.Context, f *board.Feed, at string) error {
	switch {
	case at == "" && a.json:
		return refuse("leave out --json", "the page of the terminal is for people and has no JSON")
	case at == "":
		return board.Terminal{Out: a.out, Now: a.now, Size: terminalSize(a.out)}.Run(ctx, f)
	}
	l, err := board.Listen(at)
	if err != nil {
		return err
	}
	if a.json {
		_ = json.NewEncoder(a.out).Encode(map[string]string{"at": "http://" + l.Addr().String() + "/"}) // who closed our output wants none
	} else {
		a.printf("the board is at http://%s/ on this machine; Ctrl-C ends it\n", l.Addr())
	}
	return board.Serve(ctx, f, l)
}

// terminalSize asks for the size of a terminal on which a page can be drawn; nil where
// out is none.
func terminalSize(out any) func() (columns, rows int) {
	file, ok := out.(*os.File)
	if !ok || !term.IsTerminal(int(file.Fd())) || os.Getenv("TERM") == "dumb" {
		return nil
	}
	return func() (columns, rows int) {
		w, h, err := term.GetSize(int(file.Fd()))
		if err != nil || w < 1 || h < 1 {
			return 80, 24
		}
		return w, h
	}
}
