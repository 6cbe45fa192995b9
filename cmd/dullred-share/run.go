package main

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"dullred/cmd/dullred-share/internal/postgres"
	"dullred/cmd/internal/say"
	"dullred/schedule/record"
	"dullred/schedule/share"
)

func (a *app) runCommand() *cobra.Command {
	var to target
	cmd := &cobra.Command{
		Use:   "run",
		Short: "carry beside a bench, until it is ended",
		Long: `Carries beside a bench until it is ended with Ctrl-C: what the bench wrote goes to the
shared record, what the other benches wrote comes here, each as soon as it is there.
When the link is gone it says so, and tries again by itself. It may be ended and
started at any time.`,
		Example: "  dullred-share run --to postgres://bench3@db.example/school --password-file ~/.dullred-share",
		Args:    none,
		RunE:    func(cmd *cobra.Command, _ []string) error { return a.carry(cmd.Context(), to) },
	}
	targetFlags(cmd, &to)
	return cmd
}

// again is how often to look for a record that was moved away.
const again = 2 * time.Second

// carry carries until ctx ends. A record that was replaced, by one from a backup say, is
// opened anew when it is there.
func (a *app) carry(ctx context.Context, to target) error {
	said := false // that the record is away
	for first := true; ; first = false {
		began, err := a.carryBeside(ctx, to)
		away := errors.Is(err, record.ErrGone) || !first && !began && explain(err).Code == exitRecord
		if err == nil || ctx.Err() != nil {
			return nil
		}
		if !away {
			return err
		}
		if began || !said {
			a.say(eventJSON{At: a.now().UTC(), Event: "waiting", Why: "the record is not where it was; nothing is carried until it is back"})
			said = true
		}
		select {
		case <-time.After(again):
		case <-ctx.Done():
			return nil
		}
	}
}

// carryBeside carries until ctx ends, the record goes, or the address turns out to be
// none: trying that again would not help. It says whether it began to.
func (a *app) carryBeside(ctx context.Context, to target) (began bool, err error) {
	b, err := a.besideAlone(to)
	if err != nil {
		return false, err
	}
	defer func() { err = errors.Join(err, b.close()) }()
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	c := a.carrier(b, to)
	c.Beacon, c.Tell = b.beacon, func(n share.News) { a.say(eventOf(n)) }
	dial := c.Dial
	c.Dial = func(ctx context.Context, bench string) (share.Store, error) {
		s, err := dial(ctx, bench)
		if errors.Is(err, postgres.ErrAddress) {
			stop(err)
		}
		return s, err
	}
	err = c.Run(ctx)
	if cause := context.Cause(ctx); err == nil && errors.Is(cause, postgres.ErrAddress) {
		err = cause
	}
	return true, err
}

// eventJSON is something that happened, for a machine: one line each.
type eventJSON struct {
	At        time.Time `json:"at"`
	Event     string    `json:"event"` // began, carried, alone, held, together or waiting
	Sent      int       `json:"sent,omitempty"`
	Collected int       `json:"collected,omitempty"`
	Why       string    `json:"why,omitempty"`
}

func eventOf(n share.News) eventJSON {
	e := eventJSON{At: n.At.UTC(), Event: "together", Sent: n.Sent, Collected: n.Collected}
	switch {
	case n.Alone:
		e.Event = "alone"
	case n.Held:
		e.Event = "held"
	case n.First:
		e.Event = "began"
	case n.Sent+n.Collected > 0:
		e.Event = "carried"
	}
	if n.Why != nil {
		e.Why = n.Why.Error()
		if f := explain(n.Why); f.Do != "" && f.Code != exitFailed {
			e.Why += "; " + f.Do
		}
	}
	return e
}

// say prints what happened as one sentence.
func (a *app) say(e eventJSON) {
	if a.json {
		e.Why = say.Clean(e.Why)
		text, _ := say.JSON(e, "") // of texts, counts and times: it cannot fail
		_, _ = a.out.Write(text)   // who closed our output wants no more of it
		return
	}
	a.printf("%s\n", say.Clean(e.sentence(a.now().Location())))
}

func (e eventJSON) sentence(zone *time.Location) string {
	at := e.At.In(zone).Format("15:04")
	switch {
	case e.Event == "alone":
		return fmt.Sprintf("alone since %s: %s; the bench goes on, nothing is lost", at, e.Why)
	case e.Event == "held":
		return fmt.Sprintf("nothing of this bench goes out since %s, though the entries of others come in: %s; nothing is lost", at, e.Why)
	case e.Event == "waiting":
		return fmt.Sprintf("since %s: %s", at, e.Why)
	case e.Event == "began":
		return "with the shared record since " + at + "; Ctrl-C ends it, at any time"
	case e.Event == "together":
		return "with the others again at " + at
	case e.Sent == 0:
		return fmt.Sprintf("%s came in at %s", entries(e.Collected), at)
	case e.Collected == 0:
		return fmt.Sprintf("shared %s at %s", entries(e.Sent), at)
	}
	return fmt.Sprintf("shared %s at %s, and %s came in", entries(e.Sent), at, entries(e.Collected))
}
