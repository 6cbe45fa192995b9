package main

import (
	"github.com/spf13/cobra"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/stock"
)

// stockFlags is what stock was given.
type stockFlags struct {
	alloy, density         string
	shape, inside          string
	bowl, thick, ring, gap string
	tangs                  []string
	losses                 map[stock.Cause]*string
	bar, factor, have      string
	in                     string
	ascii                  bool
}

const stockLong = `stock reckons how much metal a piece takes, how long a bar that is, and where the
metal goes. The piece is one of

  --shape "0:6x3 95:18x3 190:6x3"   PLACE:SECTION along the piece, in mm, tapering
                                    straight between; the sections are 6x3 (width x
                                    thickness), 8 square, 4 round, 6x3 D, 7x5 lozenge;
                                    two at one place are a shoulder
  --bowl "hemispherical 100x50"     or flat-bottomed, conical; mouth x height at the
                                    middle of the wall, with --thick
  --ring 62x3x8                     inside x thickness x width, with --gap if it is
                                    open; the inside may be a size: iso 54 x1.5x4

The losses are shares of the metal that comes so far. --loss is all but the crop in
one figure; without it, what you do not give is taken from the habits of the trade
or a judgement, and printed. With --have it says what your metal is enough for: a
weight, or the three sides of an ingot. A bar that is cast already loses nothing
to the melt: --melt 0%.`

func (a *app) stockCommand() *cobra.Command {
	s := stockFlags{losses: map[stock.Cause]*string{}}
	cmd := &cobra.Command{
		Use:   "stock --alloy sterling --shape \"0:6x3 95:18x3 190:6x3\"",
		Short: "how much metal to cast for a piece, or what your metal is enough for",
		Long:  stockLong,
		Example: `  dullred stock --alloy sterling --shape "0:6x3 95:18x3 190:6x3" --loss 2.5% --crop 5% --bar 10x10
  dullred stock --alloy sterling --have 77g --shape "0:6x3 95:18x3 190:6x3"
  dullred stock --alloy copper --bowl "hemispherical 100x50" --thick 0.9`,
		Args: names(),
		RunE: func(*cobra.Command, []string) error { return a.stock(s) },
	}
	f := cmd.Flags()
	f.StringVar(&s.alloy, "alloy", "", "metal by name, number or fineness")
	f.StringVar(&s.density, "density", "", "your own density in g/cm3, in place of the metal's")
	f.StringVar(&s.shape, "shape", "", "the piece as `STATIONS`")
	f.StringArrayVar(&s.tangs, "tang", nil, "an end drawn to wire, `DIAMETERxLENGTH`, with @0 or @end")
	f.StringVar(&s.inside, "inside", "", "the piece is bent round this inside `DIAMETER`: says what gap is left")
	f.StringVar(&s.bowl, "bowl", "", "a bowl as `FORM DIAMETERxHEIGHT`")
	f.StringVar(&s.thick, "thick", "", "`THICKNESS` of the disc of a bowl")
	f.StringVar(&s.ring, "ring", "", "a ring or bangle as `INSIDExTHICKNESSxWIDTH`")
	f.StringVar(&s.gap, "gap", "", "`WIDTH` of the gap of an open ring")
	for _, l := range lossFlags {
		text := new(string)
		s.losses[l.cause] = text
		f.StringVar(text, l.name, "", l.help)
	}
	f.StringVar(&s.bar, "bar", "", "`SECTION` of the bar to cast, such as 10x10")
	f.StringVar(&s.factor, "factor", "", "`SHARE` of its box that the bar or ingot fills, such as 0.62 (default 1)")
	f.StringVar(&s.have, "have", "", "`MASS` in hand, such as 77g, or the three sides of an ingot, such as 22x14x10")
	f.StringVar(&s.in, "in", "", "show masses in this `UNIT` too: ozt, dwt, gr, oz, or a historic one such as ora")
	f.BoolVar(&s.ascii, "ascii", false, "plain letters only, for a terminal without UTF-8")
	return cmd
}

// lossFlags are the losses in the order of the help.
var lossFlags = []struct {
	cause      stock.Cause
	name, help string
}{
	{stock.Work, "loss", "all losses but the crop, such as 2.5%"},
	{stock.Crop, "crop", "`SHARE` cut off the bar, such as 5%"},
	{stock.Melt, "melt", "`SHARE` lost to the melt"},
	{stock.Scale, "scale", "`SHARE` lost to scale and pickle"},
	{stock.Filing, "filing", "`SHARE` filed off"},
	{stock.Polish, "polish", "`SHARE` polished off"},
}

func (a *app) stock(s stockFlags) error {
	book, err := a.metals()
	if err != nil {
		return err
	}
	sum, err := s.parse(book)
	if err != nil {
		return err
	}
	if err := sum.reckon(); err != nil {
		return refuse("mend the shape or the losses", "%w", err)
	}
	if a.json {
		return a.printJSON(sum.json())
	}
	text := sum.text(stock.Drawing{Columns: stockColumns, ASCII: s.ascii || !a.utf8()})
	if s.ascii || !a.utf8() {
		text = plainLetters.Replace(text)
	}
	a.printf("%s", text)
	return nil
}

// stockSum is a question that was read, and its answer.
type stockSum struct {
	metal string // name
	piece stockPiece
	job   stock.Job
	in    *stock.Weight // nil for none

	have   unit.Gram // 0 for none
	box    bool      // have is reckoned from the sides of an ingot
	needs  stock.Metal
	enough stock.Enough
}

func (s stockFlags) parse(book *alloys.Book) (sum stockSum, err error) {
	if err := s.alone(); err != nil {
		return sum, err
	}
	if sum.metal, sum.job.Density, err = s.metalOf(book); err != nil {
		return sum, err
	}
	if sum.piece, err = s.parsePiece(); err != nil {
		return sum, err
	}
	sum.job.Volume = sum.piece.volume
	if sum.job.Losses, err = s.parseLosses(); err != nil {
		return sum, err
	}
	if s.bar != "" {
		if sum.job.Bar, err = stock.ParseSection(s.bar); err != nil {
			return sum, refuse("mend --bar", "%w", err)
		}
	}
	if s.factor != "" {
		if sum.job.Factor, err = share01(s.factor); err != nil {
			return sum, err
		}
	}
	if s.in != "" {
		w, err := stock.ParseWeight(s.in)
		if err != nil {
			return sum, refuse("mend --in", "%w", err)
		}
		sum.in = &w
	}
	return sum, s.parseHave(&sum)
}

// share01 is a section factor.
func share01(text string) (float64, error) {
	v, err := plainFigure(text)
	if err != nil || v < 0.1 || v > 1 {
		return 0, refuse("mend --factor", "%.60q is not a share of a box from 0.1 to 1", text)
	}
	return v, nil
}

// metalOf is the density by name, or the smith's own.
func (s stockFlags) metalOf(book *alloys.Book) (string, stock.Spread, error) {
	if s.density != "" {
		v, err := plainFigure(s.density)
		if err != nil || v < 0.5 || v > 25 {
			return "", stock.Spread{}, refuse("mend --density", "%.60q is no density of a metal, 0.5 to 25 g/cm3", s.density)
		}
		d := unit.Density(v)
		return s.alloy, stock.Spread{Value: d, Low: d, High: d}, nil
	}
	alloy, err := book.Find(s.alloy)
	if err != nil {
		return "", stock.Spread{}, err
	}
	d, ok := stock.DensityOf(alloy)
	if !ok {
		return "", d, refuse("give your own, such as --density 8.9", "no density is published for %s", alloy.Name)
	}
	return alloy.Name, d, nil
}

// parseLosses puts what was given in place of the habits of the trade.
func (s stockFlags) parseLosses() ([]stock.Loss, error) {
	losses := stock.UsualLosses()
	for _, l := range lossFlags {
		text := *s.losses[l.cause]
		if text == "" {
			continue
		}
		share, err := stock.ParseShare(text)
		if err != nil {
			return nil, refuse("mend --"+l.name, "%w", err)
		}
		losses = stock.WithLoss(losses, stock.NewLoss(l.cause, share))
	}
	return losses, nil
}

// parseHave reads a mass, or the sides of an ingot.
func (s stockFlags) parseHave(sum *stockSum) (err error) {
	if s.have == "" {
		return nil
	}
	if sides, boxErr := unit.ParseSize(s.have, unit.Ring); boxErr == nil && sides.Shape == unit.Ring {
		sum.have, sum.box = sum.job.BoxMass([3]unit.Millimetre{sides.Diameter, sides.Thick, sides.Width}), true
		return nil
	}
	if sum.have, err = unit.ParseMass(s.have); err != nil {
		return refuse("give --have as a mass such as 77g, or as three sides such as 22x14x10", "%w", err)
	}
	return nil
}

func (s *stockSum) reckon() (err error) {
	if s.needs, err = s.job.Forward(); err != nil || s.have == 0 {
		return err
	}
	s.enough, err = s.job.Backward(s.have)
	return err
}
