package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/heat"
	"dullred/schedule/stock"
)

// planFlags is what plan was given.
type planFlags struct {
	alloy, bar, shape, bend, temper, inside, limit, against string
	joints, tangs                                           []string
	cast, stamp, bends                                      bool
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

// job is a whole job, with its metal and its bar.
func (f planFlags) job(book *alloys.Book) (j schedule.PlanJob, err error) {
	if f.alloy == "" || f.bar == "" || f.shape == "" {
		return j, refuse(planExample, "plan needs --alloy, --bar and --shape")
	}
	alloy, err := book.Find(f.alloy)
	if err != nil {
		return j, err
	}
	if j, err = f.work(book); err != nil {
		return j, err
	}
	j.Alloy, j.Cast = string(alloy.ID), f.cast
	if j.Bar, j.Length, err = parseBar(f.bar); err != nil {
		return j, refuse("--bar 10x10x74 is 10 by 10 mm and 74 mm long", "%w", err)
	}
	return j, nil
}

// work is what is to be made, of whatever bar.
func (f planFlags) work(book *alloys.Book) (j schedule.PlanJob, err error) {
	j = schedule.PlanJob{Stamp: f.stamp, Limit: f.limit, Temper: schedule.PlanTemper(strings.ToLower(strings.TrimSpace(f.temper)))}
	if j.Shape, err = stock.ParseShape(f.shape); err != nil {
		return j, refuse(`mend --shape, such as "0:6x3 95:18x3 190:6x3"`, "%w", err)
	}
	for _, t := range f.tangs {
		if j.Shape, err = j.Shape.WithTang(t); err != nil {
			return j, refuse("mend --tang", "%w", err)
		}
	}
	if j.Bend, err = f.radius(); err != nil {
		return j, err
	}
	for _, t := range f.joints {
		joint, err := parseJoint(book, t)
		if err != nil {
			return j, refuse("mend --joint: NAME:SOLDER@SOLIDUS, such as rim:hard@745, with the solidus on the maker's sheet", "%w", err)
		}
		j.Joints = append(j.Joints, joint)
	}
	return j, nil
}

// radius is the inside radius of the bend; 0 for a straight piece.
func (f planFlags) radius() (r unit.Millimetre, err error) {
	switch {
	case f.bends && f.inside != "":
		return 0, refuse("give one of them", "--bend is a radius and --inside the same as a diameter")
	case f.bends:
		r, err = unit.ParseLength(f.bend)
	case f.inside != "":
		r, err = unit.ParseLength(f.inside)
		r /= 2
	}
	if err != nil {
		return 0, refuse("give the inside radius, such as --bend 30, or leave it away for a straight piece", "%w", err)
	}
	return r, nil
}

// parseBar reads a section and, behind the last x, a length, which may be left away.
func parseBar(text string) (unit.Size, unit.Millimetre, error) {
	text = strings.ReplaceAll(text, "×", "x")
	size, err := unit.ParseSize(text, unit.Unshaped)
	if err == nil {
		return size, 0, nil
	}
	i := strings.LastIndexAny(text, "xX")
	if i < 0 {
		return size, 0, err
	}
	size, err = unit.ParseSize(strings.TrimSpace(text[:i]), unit.Unshaped)
	if err != nil {
		return size, 0, err
	}
	length, err := unit.ParseLength(strings.TrimSpace(text[i+1:]))
	return size, length, err
}

// parseJoint reads NAME:SOLDER, with the maker's solidus behind an @.
func parseJoint(book *alloys.Book, text string) (heat.Joint, error) {
	name, solder, ok := strings.Cut(text, ":")
	if name = strings.TrimSpace(name); !ok || schedule.CheckName(name) != nil {
		return heat.Joint{}, fmt.Errorf("%.60q is no joint", text)
	}
	solder, warm, typed := strings.Cut(solder, "@")
	var solidus unit.Celsius
	if typed {
		var err error
		if solidus, err = unit.ParseTemperature(warm); err != nil {
			return heat.Joint{}, err
		}
	}
	j, err := heat.JointOf(book, solder, solidus, 0)
	j.Name = name
	return j, err
}
