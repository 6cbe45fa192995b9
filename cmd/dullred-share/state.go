package main

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"dullred/cmd/internal/say"
	"dullred/schedule/record"
	"dullred/schedule/share"
)

func (a *app) stateCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "state",
		Short: "how sharing stands at this bench; asks nobody",
		Args:  none,
		RunE:  func(*cobra.Command, []string) error { return a.state() },
	}
}

// stateJSON is how sharing stands.
type stateJSON struct {
	Record     string    `json:"record"`
	Runs       bool      `json:"runs"` // a carrier works beside the record
	Shared     time.Time `json:"shared,omitzero"`
	AloneSince time.Time `json:"alone_since,omitzero"`
	Why        string    `json:"why,omitempty"`
	Known      bool      `json:"known"`   // something was carried once
	Waiting    int       `json:"waiting"` // entries of this bench that are to be sent, as far as was looked
	New        int       `json:"new"`     // entries that no carrier has looked at, as while it is alone
	Staying    int       `json:"staying"` // that the shared record does not take
}

func (a *app) state() error {
	path, err := a.path()
	if err != nil {
		return err
	}
	j := stateJSON{Record: path}
	left, err := share.ReadBeacon(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("what the carrier left cannot be read: %w", err)
	}
	j.Known, j.Shared, j.AloneSince, j.Why = err == nil, left.Shared, left.AloneSince, say.Clean(left.Why)
	if j.Runs, err = share.Runs(path); err != nil {
		return err
	}
	if j.Waiting, j.Staying, j.New, err = waiting(path); err != nil {
		return err
	}
	return a.answer(j, j.text(a.now()))
}

// waiting reads how many entries were found that are to be sent, and that stay, and how
// many the record has more than a carrier has ever looked at.
func waiting(path string) (waiting, staying, fresh int, err error) {
	rec, err := record.Open(path)
	if err != nil {
		return 0, 0, 0, err
	}
	defer func() { err = errors.Join(err, rec.Close()) }()
	here, err := rec.Count()
	if err != nil {
		return 0, 0, 0, err
	}
	ledger, err := share.ReadLedger(path+ledgerEnd, "")
	if errors.Is(err, share.ErrNoLedger) {
		return 0, 0, here, nil
	}
	if err != nil {
		return 0, 0, 0, err
	}
	defer func() { err = errors.Join(err, ledger.Close()) }()
	known, err := ledger.Known()
	if err != nil {
		return 0, 0, 0, err
	}
	waiting, staying, err = ledger.Waiting()
	return waiting, staying, max(0, here-known), err
}

func (j stateJSON) text(now time.Time) string {
	var l lines
	l.line("record", "%s", say.Clean(j.Record))
	words := share.Standing{Shared: j.Shared, AloneSince: j.AloneSince}.Words(now)
	head, rest, _ := strings.Cut(words, " ")
	switch {
	case words == "":
		l.line("alone", "nothing was ever carried from here")
	case j.Why != "":
		l.line(head, "%s: %s", rest, j.Why)
	default:
		l.line(head, "%s", rest)
	}
	if !j.Runs {
		l.line("mind", "no dullred-share run works beside this record: nothing is carried until one is started")
	}
	fresh := ""
	if j.New > 0 {
		fresh = fmt.Sprintf(", and %s that no dullred-share has looked at yet", entries(j.New))
	}
	l.line("waiting", "%s of this bench%s", entries(j.Waiting), fresh)
	if j.Staying > 0 {
		l.line("staying", "%s of this bench that the shared record does not take: dullred-share compare", entries(j.Staying))
	}
	return l.String()
}

// farewell is the last sentence of a run that was ended: what is still to be carried.
// It never makes an error of an end that was wanted.
func (a *app) farewell() {
	wait := "what was not shared goes out when dullred-share run is started again"
	if path, err := a.path(); err == nil {
		left, _ := share.ReadBeacon(path) // none says nothing
		n, _, fresh, err := waiting(path)
		n += fresh
		switch {
		case err == nil && n > 0:
			wait = counted(n, "entry of this bench waits, and goes", "entries of this bench wait, and go") + " out when dullred-share run is started again"
		case err == nil && !left.Shared.IsZero():
			wait = "nothing of this bench waits"
		}
	}
	if a.json {
		a.say(eventJSON{At: a.now().UTC(), Event: "ended", Why: wait})
		return
	}
	a.printf("ended at %s; %s\n", a.now().Format("15:04"), wait)
}
