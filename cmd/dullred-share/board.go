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
	"dullred/cmd/internal/say"
	"dullred/schedule/share"
)

const boardHelp = `Shows all benches on one page: danger first, then what must stop, what is hot, what
nobody has seen, and the rest nearest to splitting first. It reads only, as a role that
was made with --as reader, and needs no record on this machine. Without --http it is a
page of the terminal, for a projector: make the letters of the terminal large. With
--http it is a web page at an address of this machine. Ctrl-C ends it.

A tablet by the hearth is another machine, and needs the page over TLS: --certificate
and --key name the two PEM files, and --http may then be any address of this machine
in figures, such as 0.0.0.0:8443. The browser asks for the board by a name that is in
the certificate, and the tablet has to trust who signed it. There is no password:
everybody on that network who gets the page can read it. It shows the names of pieces
and benches with how they stand, and nothing else: no hands, no notes, no photos.
A certificate that was renewed is read when the board is started anew.`

func (a *app) boardCommand() *cobra.Command {
	var to target
	var at board.Place
	cmd := &cobra.Command{
		Use:   "board",
		Short: "all benches on one page, nearest to splitting first",
		Long:  boardHelp,
		Example: "  dullred-share board --to postgres://board@db.example/school\n" +
			"  dullred-share board --to postgres://board@db.example/school --http 127.0.0.1:8080\n" +
			"  dullred-share board --to postgres://board@db.example/school --http 0.0.0.0:8443 --certificate board.crt --key board.key",
		Args: none,
		RunE: func(cmd *cobra.Command, _ []string) error { return a.board(cmd.Context(), to, at) },
	}
	targetFlags(cmd, &to)
	flags := cmd.Flags()
	flags.StringVar(&at.Address, "http", "", "give a web page at this `ADDRESS` of this machine, such as 127.0.0.1:8080")
	flags.StringVar(&at.Certificate, "certificate", "", "PEM `FILE` of the certificate of the page; needed beyond this machine")
	flags.StringVar(&at.Key, "key", "", "PEM `FILE` of the private key of the certificate")
	return cmd
}

// board shows the benches until ctx ends, or the address of the shared record turns out
// to be none: trying that again would not help.
func (a *app) board(ctx context.Context, to target, at board.Place) (err error) {
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

func (a *app) showBoard(ctx context.Context, f *board.Feed, at board.Place) error {
	switch {
	case at.Address == "" && at.Certificate+at.Key != "":
		return refuse("give --http ADDRESS too", "a certificate and a key are for the web page")
	case at.Address == "" && a.json:
		return refuse("leave out --json", "the page of the terminal is for people and has no JSON")
	case at.Address == "":
		return board.Terminal{Out: a.out, Now: a.now, Size: terminalSize(a.out)}.Run(ctx, f)
	}
	at.Now = a.now()
	d, err := board.Listen(at)
	if errors.Is(err, board.ErrCertificate) {
		return &say.Fault{Err: err, Code: exitRefused, Kept: "no page was given", Do: "see dullred-share board --help"}
	}
	if err != nil {
		return err
	}
	a.sayWhere(d)
	return board.Serve(ctx, f, d)
}

// sayWhere says at what address the page is, and who can read it.
func (a *app) sayWhere(d *board.Door) {
	if a.json {
		_ = json.NewEncoder(a.out).Encode(map[string]string{"at": d.URL()}) // who closed our output wants none
		return
	}
	if d.Open() {
		a.printf("the board is at %s, and everybody on the network can read it; Ctrl-C ends it\n", d.URL())
		return
	}
	a.printf("the board is at %s on this machine; Ctrl-C ends it\n", d.URL())
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
