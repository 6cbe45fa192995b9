package main

import (
	"context"
	"errors"
	"time"

	"github.com/spf13/cobra"

	"dullred/schedule/share"
)

func (a *app) sendCommand() *cobra.Command {
	var to target
	cmd := &cobra.Command{
		Use:   "send",
		Short: "carry what this bench wrote to the shared record, once",
		Args:  none,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return a.once(cmd.Context(), to, func(c *share.Carrier) (share.News, error) { return c.Once(cmd.Context(), true, false) })
		},
	}
	targetFlags(cmd, &to)
	return cmd
}

func (a *app) collectCommand() *cobra.Command {
	var to target
	cmd := &cobra.Command{
		Use:   "collect",
		Short: "bring what the other benches wrote, once",
		Long: `Brings what the other benches wrote from the shared record, once. Names go as with
dullred import: one that is taken here gets a number, and those that are here stay.`,
		Args: none,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return a.once(cmd.Context(), to, func(c *share.Carrier) (share.News, error) { return c.Once(cmd.Context(), false, true) })
		},
	}
	targetFlags(cmd, &to)
	return cmd
}

// carriedJSON is what was carried, for a machine.
type carriedJSON struct {
	At        time.Time `json:"at"`
	Sent      int       `json:"sent"`
	Collected int       `json:"collected"`
	Waiting   int       `json:"waiting"` // entries of this bench that are still to be sent
	Staying   int       `json:"staying"` // entries of this bench that the shared record does not take
}

func (a *app) once(ctx context.Context, to target, carry func(*share.Carrier) (share.News, error)) (err error) {
	b, err := a.besideAlone(to)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, b.close()) }()
	done, err := carry(a.carrier(b, to))
	if err != nil {
		return err
	}
	j := carriedJSON{At: done.At.UTC(), Sent: done.Sent, Collected: done.Collected}
	if j.Waiting, j.Staying, err = b.ledger.Waiting(); err != nil {
		return err
	}
	return a.answer(j, j.text())
}

func (j carriedJSON) text() string {
	var l lines
	l.line("sent", "%s", entries(j.Sent))
	l.line("came in", "%s", entries(j.Collected))
	if j.Waiting > 0 {
		l.line("waiting", "%s of this bench", entries(j.Waiting))
	}
	if j.Staying > 0 {
		l.line("staying", "%s of this bench that the shared record does not take: dullred-share compare", entries(j.Staying))
	}
	return l.String()
}
