package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/record"
)

// defaultCalliper is the error taken for a reading when none is given: a
// vernier calliper read at the bench with gloves on (a judgement).
const defaultCalliper = "0.1mm"

func (a *app) pieceCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "piece",
		Short: "start a piece, finish it, or list the pieces",
		Args:  noSuchCommand,
		RunE:  func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	cmd.AddCommand(a.pieceNewCommand(), a.pieceFinishCommand(), a.pieceListCommand())
	return cmd
}

// newPiece is what piece new was given.
type newPiece struct {
	alloy, size, ring, length, calliper, limit, zones, mark, stock, at string
	cast, test                                                         bool
}

func (a *app) pieceNewCommand() *cobra.Command {
	var n newPiece
	cmd := &cobra.Command{
		Use:   "new NAME --alloy ALLOY --size 8x8",
		Short: "start a piece from its bar, wire, sheet or blank",
		Example: `  dullred piece new spoon --alloy sterling --size 8x8 --length 120 --cast
  dullred piece new band --alloy 925 --size 10x10 --zones tip,middle,butt
  dullred piece new bowl --alloy copper --size "1.2 sheet" --ring 150`,
		Args: names("NAME"),
		RunE: func(_ *cobra.Command, args []string) error { return a.startPiece(args[0], n) },
	}
	f := cmd.Flags()
	f.StringVar(&n.alloy, "alloy", "", "metal by name, number or fineness (see dullred alloys)")
	f.StringVar(&n.size, "size", "", "section: 8x8, 8 x 6.5mm, 3 round, \"1.2 sheet\", tube 12x1, ring 62x3x8")
	f.StringVar(&n.ring, "ring", "", "for a vessel: `DIAMETER` of the rim or ring that is read")
	f.StringVar(&n.length, "length", "", "`LENGTH` of the bar")
	f.BoolVar(&n.cast, "cast", false, "as cast: a cautious first limit holds until the first proved heat")
	f.StringVar(&n.zones, "zones", "", "names of the zones along it, comma separated")
	f.StringVar(&n.calliper, "calliper", defaultCalliper, "error of a reading")
	f.StringVar(&n.limit, "limit", "", "your own limit (50%, \"30% area\") or a school that dullred alloys names")
	f.StringVar(&n.mark, "mark", "", "what is chalked on it, to tell it from others in one fire")
	f.StringVar(&n.stock, "stock", "", "where the metal is from, such as a melt or a delivery: its limit is learned")
	f.BoolVar(&n.test, "test", false, "a test piece of its stock: worked on until it splits, to learn where the stock does")
	f.StringVar(&n.at, "at", "", "when it was started: `TIME` (default now)")
	return cmd
}

func (a *app) startPiece(name string, n newPiece) error {
	if err := schedule.CheckName(name); err != nil {
		return refuse("give a short name such as spoon-1", "a piece cannot be named so: %w", err)
	}
	book, err := a.metals()
	if err != nil {
		return err
	}
	body, err := n.parse(book)
	if err != nil {
		return err
	}
	at, err := parseWhen(n.at, a.now())
	if err != nil {
		return err
	}
	b, err := a.open()
	if err != nil {
		return err
	}
	return errors.Join(a.startOn(b, name, schedule.Entry{ID: schedule.NewID(), At: at,
		Written: schedule.Moment(a.now()), Bench: b.here.bench, Hand: b.here.hand, Piece: schedule.NewID(),
		Version: 1, Body: body}), b.close())
}

func (a *app) startOn(b *bench, name string, e schedule.Entry) error {
	if err := schedule.AcceptIn(b.book, nil, e, a.now()); err != nil {
		return asRefusal(err)
	}
	err := b.append([]record.Label{{ID: string(e.Piece), Class: "piece", Text: name}}, e)
	if errors.Is(err, record.ErrNameTaken) {
		return nameTaken(name)
	}
	if err != nil {
		return err
	}
	p := &piece{id: e.Piece, name: name, entries: []schedule.Entry{e}}
	p.state = schedule.FoldIn(b.book, p.entries)
	advice, err := a.adviceOn(b, p, a.now())
	if err != nil {
		return err
	}
	return errors.Join(a.showAct(p, e, advice), a.hint(b, p, advice.Verdict))
}

// nameTaken is the refusal of a name that another piece has.
func nameTaken(name string) error {
	return refuse("choose another name, or go on with that piece", "there is already a piece named %q", name)
}

// parse turns the flags into the body of the entry.
func (n newPiece) parse(book *alloys.Book) (schedule.Started, error) {
	var s schedule.Started
	if n.alloy == "" || n.size == "" {
		return s, refuse("dullred piece new NAME --alloy sterling --size 8x8", "a piece needs --alloy and --size")
	}
	alloy, err := book.Find(n.alloy)
	if err != nil {
		return s, err
	}
	size, err := unit.ParseSize(n.size, unit.Unshaped)
	if err != nil {
		return s, refuse("mend --size", "%w", err)
	}
	s = schedule.Started{Alloy: string(alloy.ID), Reading: schedule.Reading{Size: size}, Cast: n.cast,
		Zones: splitNames(n.zones), Limit: n.limit, Mark: n.mark, Stock: strings.TrimSpace(n.stock), Test: n.test}
	if s.Test && s.Stock == "" {
		return s, refuse("name it with --stock", "a test piece is of a stock")
	}
	if s.Calliper, err = unit.ParseLength(n.calliper); err != nil {
		return s, refuse("mend --calliper", "%w", err)
	}
	if s.Length, err = optionalLength(n.length); err != nil {
		return s, refuse("mend --length", "%w", err)
	}
	if s.Reading.Ring, err = optionalLength(n.ring); err != nil {
		return s, refuse("mend --ring", "%w", err)
	}
	return s, checkLimit(alloy, s)
}

// checkLimit refuses a limit that no condition of the alloy knows, and a ring on a bar.
func checkLimit(alloy alloys.Alloy, s schedule.Started) error {
	if _, err := s.Reading.On(coldwork.Section{}); err != nil {
		return refuse("leave --ring away, or give a sheet or ring --size", "%w", err)
	}
	_, wrought := coldwork.LimitOf(alloy, alloys.Wrought, s.Limit)
	_, cast := coldwork.LimitOf(alloy, alloys.Cast, s.Limit)
	if wrought != nil && (cast != nil || !s.Cast) {
		return refuse("mend --limit", "%w", wrought)
	}
	return nil
}

func optionalLength(s string) (unit.Millimetre, error) {
	if s == "" {
		return 0, nil
	}
	return unit.ParseLength(s)
}

func (a *app) pieceFinishCommand() *cobra.Command {
	var t act
	cmd := &cobra.Command{
		Use:   "finish NAME",
		Short: "a piece is done: no more advice to work it, until that is taken back",
		Args:  names("NAME"),
		RunE: func(_ *cobra.Command, args []string) error {
			t.name, t.body = args[0], schedule.Finished{}
			return a.do(t)
		},
	}
	cmd.Flags().StringVar(&t.at, "at", "", "when it was finished: `TIME` (default now)")
	return cmd
}

func (a *app) pieceListCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "list",
		Short: "all pieces, nearest to splitting first",
		Args:  names(),
		RunE:  func(*cobra.Command, []string) error { return a.listPieces() },
	}
}

func (a *app) listPieces() error {
	wall := a.now() // a carrier goes by it
	b, err := a.open()
	if err != nil {
		return err
	}
	all, err := a.adviseAll(b, a.now(), listLine)
	if err = errors.Join(err, b.close()); err != nil {
		return err
	}
	left, _ := beaconAt(b.rec.Path())
	if a.json {
		return a.printJSON(jsonOfAll(all))
	}
	if len(all) == 0 {
		a.printf("%s", emptyHint)
	}
	for _, s := range all {
		a.printf("%s\n", s.text)
	}
	if words := left.Words(wall); words != "" {
		a.printf("the record: %s\n", words)
	}
	return nil
}

func listLine(v view) string {
	spent := "    -"
	if v.advice.Limit.Known() {
		spent = fmt.Sprintf("%3.0f %%", 100*v.advice.Spent)
	}
	return fmt.Sprintf("%-12s %s  %s", v.advice.Verdict, spent, clean(v.piece.name+", "+v.piece.state.Alloy.Name+", "+sectionText(v)))
}

func sectionText(v view) string {
	z, ok := v.piece.state.Zone(v.advice.Zone)
	if !ok {
		return "not readable"
	}
	return z.Name + " " + z.Tally.Section().String()
}
