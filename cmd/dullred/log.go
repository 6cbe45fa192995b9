package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"dullred/schedule"
	"dullred/schedule/record"
)

func (a *app) logCommand() *cobra.Command {
	var f sought
	cmd := &cobra.Command{
		Use:   "log [NAME]",
		Short: "every entry of a piece, or of all, oldest first; or those that are looked for",
		Long: `Every entry of a piece, or of the whole record, oldest first. Entries are looked for
by metal, hand, date, kind and text, and what is found meets all that was given. Days
are those of this bench's clock.

A kind is given by its name or how that begins: --kind heat finds heats begun, reached
and out. A text is looked for in notes, marks, stocks, names of zones, limits, joints,
solders, tools, torches, photos, signs and what alerts say, and in the names of pieces,
of which every entry is then found.`,
		Example: `  dullred log spoon
  dullred log --text vice
  dullred log --kind "heat begun" --from 2026-03 --to 2026-03 --count
  dullred log --alloy sterling --hand AB --limit 20`,
		Args: perhaps("NAME"),
		RunE: func(cmd *cobra.Command, args []string) error {
			f.limited = cmd.Flags().Changed("limit")
			return a.onBench(func(b *bench) error {
				if f.any() {
					return a.find(b, f, args)
				}
				return a.log(b, args)
			})
		},
	}
	f.flags(cmd)
	return cmd
}

// entryJSON is one entry of the log for a machine.
type entryJSON struct {
	ID      string   `json:"id"`
	At      string   `json:"at"`
	Written string   `json:"written"`
	Piece   string   `json:"piece"`
	Hand    string   `json:"hand"`
	Zones   []string `json:"zones,omitempty"`
	Kind    string   `json:"kind"`
	Text    string   `json:"text"`
	Void    bool     `json:"void,omitempty"`
	Bench   string   `json:"bench,omitempty"` // only of another bench
}

func (a *app) log(b *bench, args []string) error {
	entries, err := b.logged(args)
	if err != nil {
		return err
	}
	labels, err := b.labels()
	if err != nil {
		return err
	}
	s := teller{labels: labels, dead: schedule.Voided(entries), place: a.now().Location(), here: b.here.bench}
	if a.json {
		out := []entryJSON{}
		for _, e := range entries {
			out = append(out, s.json(e))
		}
		return a.printJSON(out)
	}
	if len(entries) == 0 {
		a.printf("nothing is logged yet\n")
	}
	for _, e := range entries {
		a.printf("%s", s.text(e))
	}
	return nil
}

// logged are the entries of one piece, or of the whole record.
func (b *bench) logged(args []string) ([]schedule.Entry, error) {
	if len(args) == 1 {
		p, err := b.find(args[0])
		if err != nil {
			return nil, err
		}
		return p.entries, nil
	}
	entries, err := b.replay()
	b.heard("", entries)
	return entries, err
}

// labelBook is the text of each id that still has one.
type labelBook map[schedule.ID]string

func (b *bench) labels() (labelBook, error) {
	book := labelBook{}
	for _, class := range []record.Class{"piece", "hand", "bench"} {
		labels, err := b.rec.Labels(class)
		if err != nil {
			return nil, err
		}
		for _, l := range labels {
			book[schedule.ID(l.ID)] = l.Text
		}
	}
	return book, nil
}

func (l labelBook) of(id schedule.ID) string {
	if text, ok := l[id]; ok {
		return text
	}
	return "(forgotten)"
}

func (a *app) voidCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "void ID",
		Short: "take an entry back, by the id the log shows; nothing is deleted",
		Args:  names("ID"),
		RunE: func(_ *cobra.Command, args []string) error {
			return a.onBench(func(b *bench) error { return a.void(b, args[0]) })
		},
	}
}

func (a *app) void(b *bench, handle string) error {
	rows, err := b.rec.Find(handle, 2)
	if err != nil && explain(err).Code == exitFailed {
		return refuse("dullred log shows the ids", "%w", err)
	}
	if err != nil {
		return err
	}
	switch {
	case len(rows) == 0:
		return missing("dullred log shows the ids", "no entry has the id %.60q", handle)
	case len(rows) > 1:
		return refuse("give more of it", "more than one entry ends in %.60q", handle)
	}
	target := entriesOf(rows)[0]
	labels, err := b.labels()
	if err != nil {
		return err
	}
	p, err := b.load(target.Piece, labels.of(target.Piece))
	if err != nil {
		return err
	}
	if schedule.Voided(p.entries)[target.ID] {
		return refuse("void the void to bring it back", "%s is already void", target.Handle())
	}
	e := schedule.Entry{ID: schedule.NewID(), At: schedule.Moment(a.now()), Written: schedule.Moment(a.now()),
		Bench: b.here.bench, Hand: b.here.hand, Piece: target.Piece, Version: 1, Body: schedule.Void{Target: target.ID}}
	if err := b.append(nil, e); err != nil {
		return err
	}
	p.entries = append(p.entries, e)
	p.state = b.fold(p.entries)
	ofBench, err := b.isBench(target)
	if err != nil {
		return err
	}
	if ofBench || !p.state.Started {
		return a.showVoid(e, target, map[bool]string{false: "; the piece " + p.name + " has no start now"}[ofBench])
	}
	advice, err := a.adviceOn(b, p, a.now())
	if err != nil {
		return err
	}
	return a.showAct(p, e, advice)
}

// isBench is whether an entry is about a bench, this one or another.
func (b *bench) isBench(e schedule.Entry) (bool, error) {
	benches, err := b.rec.Labels(record.BenchClass)
	of := func(l record.Label) bool { return schedule.ID(l.ID) == e.Piece }
	return e.Kind().OfBench() || slices.ContainsFunc(benches, of), err
}

// showVoid tells of an entry taken back on which no advice follows, and why.
func (a *app) showVoid(e, target schedule.Entry, why string) error {
	if a.json {
		return a.printJSON(struct {
			ID   schedule.ID `json:"id"`
			Kind string      `json:"kind"`
		}{e.ID, string(e.Kind())})
	}
	a.printf("%s", wrap("", "  ", "void: "+target.Describe()+why+" (void "+e.Handle()+" to bring it back)"))
	return nil
}

func (a *app) noteCommand() *cobra.Command {
	var t act
	cmd := &cobra.Command{
		Use:   "note NAME TEXT",
		Short: "log a note: what you saw, heard or changed",
		Args:  cobra.ArbitraryArgs,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) < 2 {
				return refuse("dullred note NAME what you saw", "a note needs a piece and a text")
			}
			t.name, t.body = args[0], schedule.Note{Text: strings.Join(args[1:], " ")}
			return a.do(t)
		},
	}
	t.flags(cmd)
	return cmd
}

func (a *app) ackCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "ack [NAME]",
		Short: "acknowledge the alerts of a piece, or those of the bench: its torch, fire watch and noise",
		Args:  perhaps("NAME"),
		RunE: func(_ *cobra.Command, args []string) error {
			return a.onBench(func(b *bench) error { return a.ack(b, args) })
		},
	}
}

func (a *app) ack(b *bench, args []string) error {
	p, err := b.acknowledged(args)
	if err != nil {
		return err
	}
	var news []schedule.Entry
	for _, alert := range schedule.Unacknowledged(p.entries) {
		news = append(news, schedule.Acknowledge(alert, b.here.bench, b.here.hand, a.now()))
	}
	text := fmt.Sprintf("no alert of %s waits\n", clean(p.name))
	if len(news) > 0 {
		if err := b.append(nil, news...); err != nil {
			return err
		}
		text = fmt.Sprintf("acknowledged: %d\n", len(news))
	}
	return a.answer(struct {
		Of           string `json:"of"`
		Acknowledged int    `json:"acknowledged"`
	}{p.name, len(news)}, text)
}

// acknowledged is the piece of that name, or the bench itself.
func (b *bench) acknowledged(args []string) (*piece, error) {
	if len(args) == 1 {
		return b.find(args[0])
	}
	rows, err := b.rec.Piece(string(b.here.bench))
	return &piece{id: b.here.bench, name: "the bench", entries: entriesOf(rows)}, err
}
