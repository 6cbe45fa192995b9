package main

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"

	"dullred/schedule"
)

// act is one thing done to a piece, as a command line gives it.
type act struct {
	name  string // of the piece
	at    string // when; empty is now
	zones string // comma separated; empty is the whole piece
	body  schedule.Body
}

// flags adds the flags that every act takes.
func (t *act) flags(cmd *cobra.Command) {
	cmd.Flags().StringVar(&t.at, "at", "", "when it happened: `TIME` as 14:05 or \"2006-01-02 14:05\" (default now)")
	cmd.Flags().StringVar(&t.zones, "zone", "", "`ZONE` or zones, comma separated (default the whole piece)")
}

// do checks the act against its piece, writes it, and shows the advice that
// follows. Nothing is shown before it is on disk.
func (a *app) do(t act) error {
	return a.onBench(func(b *bench) error { return a.doOn(b, t) })
}

func (a *app) doOn(b *bench, t act) error {
	p, err := b.find(t.name)
	if err != nil {
		return err
	}
	at, err := parseWhen(t.at, a.now())
	if err != nil {
		return err
	}
	if begun, ok := t.body.(schedule.Begun); ok {
		if t.body, err = b.fired(begun); err != nil {
			return err
		}
	}
	e := schedule.Entry{ID: schedule.NewID(), At: at, Written: schedule.Moment(a.now()), Bench: b.here.bench,
		Hand: b.here.hand, Piece: p.id, Zones: splitNames(t.zones), Version: 1, Body: t.body}
	if err := schedule.AcceptIn(b.book, p.entries, e, a.now()); err != nil {
		return asRefusal(err)
	}
	p.entries = append(p.entries, e)
	p.state = b.fold(p.entries)
	advice, err := a.adviceOn(b, p, a.now())
	if err != nil {
		return err
	}
	if err := b.append(nil, advice.Follow(&p.state, e, a.now(), p.entries)...); err != nil {
		return err
	}
	if err := errors.Join(a.showAct(p, e, advice), a.hint(b, p, advice.Verdict)); err != nil || e.Kind() != schedule.KindPickled {
		return err
	}
	return a.mindBath(b)
}

// mindBath prints what is wrong with the pickle, once a piece is in it.
func (a *app) mindBath(b *bench) error {
	rows, err := b.rec.OfKind(string(b.here.bench), string(schedule.KindBath))
	if err != nil || a.json {
		return err
	}
	if text := schedule.FoldBench(b.here.bench, entriesOf(rows)).Bath.Caution(); text != "" {
		a.printf("%s", wrap("mind    ", "        ", text))
	}
	return nil
}

// fired is a heat begun with the torch that this bench lit last.
func (b *bench) fired(begun schedule.Begun) (schedule.Body, error) {
	rows, err := b.rec.OfKind(string(b.here.bench), string(schedule.KindTorchLit))
	if err != nil {
		return nil, err
	}
	fire := schedule.FoldBench(b.here.bench, entriesOf(rows)).Fire
	begun.Torch, begun.Brick = fire.Torch, fire.Brick
	return begun, nil
}

// asRefusal marks an error of the checks as one about what was typed.
func asRefusal(err error) error {
	if f := explain(err); f.Code != exitFailed {
		return f
	}
	if errors.Is(err, schedule.ErrFinished) {
		return refuse("take that entry back with dullred void to go on", "%w", err)
	}
	return refuse("check the figure and the unit, and log it again", "%w", err)
}

func splitNames(s string) []string {
	if strings.TrimSpace(s) == "" {
		return nil
	}
	parts := strings.Split(s, ",")
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i])
	}
	return parts
}

func (a *app) showAct(p *piece, e schedule.Entry, advice schedule.Advice) error {
	if a.json {
		return a.printJSON(struct {
			ID     schedule.ID `json:"id"`
			Kind   string      `json:"kind"`
			Advice adviceJSON  `json:"advice"`
		}{e.ID, string(e.Kind()), jsonOf(p, advice)})
	}
	a.printf("%s", wrap("logged  ", "        ", e.Describe()+"  ["+e.Handle()+"]"))
	a.printf("%s", adviceText(p, advice, false))
	return nil
}
