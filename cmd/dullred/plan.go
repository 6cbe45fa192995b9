package main

import (
	"errors"
	"io/fs"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"dullred/schedule"
)

// planFlags is what plan was given.
type planFlags struct {
	alloy, bar, shape, bend, temper, inside, limit, against string
	bowl, thick, disc, twist                                string
	joints, tangs                                           []string
	cast, stamp, bends, sunk                                bool
	pieces                                                  int
}

const planExample = `dullred plan --alloy sterling --cast --bar 10x10x74 --shape "0:6x3 95:18x3 190:6x3"`

// planExampleOf is the same for a piece.
func planExampleOf(name string) string { return strings.Replace(planExample, "plan", "plan "+name, 1) }

func (a *app) planCommand() *cobra.Command {
	var p planFlags
	cmd := &cobra.Command{
		Use:   `plan [NAME] --alloy sterling --bar 10x10x74 --shape "0:6x3 95:18x3 190:6x3"`,
		Short: "every pass and heat from a bar to the finished shape, with the size to stop at",
		Long: `Every pass and heat in order, from a bar to a finished shape: what to hammer, the
size to set the calliper to, and when to anneal. It takes the fewest anneals with
no step above the limit, and spreads the work evenly between them.

The shape is PLACE:WIDTHxTHICKNESS along the piece in mm. A piece is stamped flat
and soft, then bent, then soldered; the last heat follows from the temper.

With the NAME of a piece the plan is kept with it, from where its metal is now, and
the log is set against it; a piece that is not there yet is started with its bar.
The NAME alone shows how far it is.`,
		Example: `  dullred plan --alloy sterling --cast --bar 10x10x74 --shape "0:6x3 95:18x3 190:6x3" --stamp --bend 31 --temper springy
  dullred plan --alloy copper --bowl "hemispherical 100x50" --thick 0.9
  dullred plan band --alloy sterling --cast --bar 10x10x74 --shape "0:6x3 95:18x3 190:6x3"
  dullred plan band`,
		Args: perhaps("NAME"),
		RunE: func(cmd *cobra.Command, args []string) error {
			p.bends = cmd.Flags().Changed("bend")
			if len(args) == 0 {
				return a.plan(p)
			}
			return a.planPiece(args[0], p)
		},
	}
	f := cmd.Flags()
	f.StringVar(&p.alloy, "alloy", "", "metal by name, number or fineness")
	f.BoolVar(&p.cast, "cast", false, "the bar is as cast: the first limit, and an inspection")
	f.StringVar(&p.bar, "bar", "", "`SECTIONxLENGTH` of the bar: 10x10x74, \"8 round x 60\"; without a length no mass is checked")
	f.StringVar(&p.shape, "shape", "", "finished `SHAPE`, flat: \"0:6x3 95:18x3 190:6x3\"")
	f.StringVar(&p.bowl, "bowl", "", "in place of --shape: a bowl of a disc, `FORM DIAMETERxHEIGHT`: \"hemispherical 100x50\"")
	f.StringVar(&p.thick, "thick", "", "`THICKNESS` of the disc of a bowl")
	f.StringVar(&p.disc, "disc", "", "`DIAMETER` of the disc (default that of equal area)")
	f.BoolVar(&p.sunk, "sunk", false, "the bowl is sunk from inside, not raised from outside")
	f.StringVar(&p.twist, "twist", "", "it is twisted, `TURNSxLENGTH`: 5x100")
	f.StringArrayVar(&p.tangs, "tang", nil, "an end drawn to wire, `DIAMETERxLENGTH[@0 or @end]`: 2x120@end")
	f.BoolVar(&p.stamp, "stamp", false, "it is stamped, before it is bent")
	f.StringVar(&p.bend, "bend", "", "inside `RADIUS` it is bent to: 30")
	f.StringVar(&p.inside, "inside", "", "inside `DIAMETER` it is bent to, in place of --bend: 62")
	f.StringArrayVar(&p.joints, "joint", nil, "a joint, `NAME:SOLDER[@SOLIDUS]`: rim:hard@745")
	f.StringVar(&p.temper, "temper", "", "soft, springy, hard or age-hardened (default as the work leaves it)")
	f.StringVar(&p.limit, "limit", "", "your own limit (50%, \"30% area\") or a school of the alloy")
	f.StringVar(&p.against, "against", "", "`SECTIONxLENGTH` of a casting near the shape, to set beside the bar in heats and hours")
	f.IntVar(&p.pieces, "pieces", 1, "`NUMBER` of pieces alike, planned as a batch with shared heats")
	return cmd
}

// plan plans a job that belongs to no piece of the record.
func (a *app) plan(flags planFlags) error {
	book, err := a.metals()
	if err != nil {
		return err
	}
	job, err := flags.job(book)
	if err != nil {
		return err
	}
	known, err := a.knownOf(job.Alloy)
	if err != nil {
		return err
	}
	p, err := schedule.PlanIn(book, job, known)
	if err != nil {
		return noPlan(err)
	}
	if flags.pieces != 1 && flags.against != "" {
		return refuse("ask one of them at a time", "--pieces plans a batch, and --against sets one piece beside a casting")
	}
	if flags.pieces != 1 {
		return a.batchAlike(p, flags.pieces)
	}
	near, err := flags.near(book, job, known)
	if err != nil {
		return err
	}
	j := planJSONOf(p)
	j.Against = near.json()
	return a.answer(j, planText(p, nil)+near.text(p)+sourceLine(book, p))
}

// noPlan is a refusal of a job for which there is no plan.
func noPlan(err error) error {
	if errors.Is(err, schedule.ErrNoPlan) {
		return refuse("mend --bar, --shape, --bend, --temper or --limit", "%w", err)
	}
	return err
}

// knownOf is what the record says of the hand and of the torch; nothing where there
// is no record yet.
func (a *app) knownOf(alloy string) (k schedule.PlanKnown, err error) {
	path, err := a.path()
	if err != nil {
		return k, err
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return k, nil
	}
	b, err := a.open()
	if err != nil {
		return k, err
	}
	k, err = b.knownBy(b.here.hand, "")
	return k, errors.Join(err, b.close())
}

// knownBy is what is known of a hand by the pieces that it worked, but for one.
func (b *bench) knownBy(hand, but schedule.ID) (schedule.PlanKnown, error) {
	k := schedule.PlanKnown{Hand: hand, Others: &schedule.Observed{}}
	pieces, err := b.piecesOf(hand)
	for _, p := range pieces {
		if p.id != but {
			k.Others.Take(&p.state)
		}
	}
	return k, err
}
