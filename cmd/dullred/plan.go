package main

import (
	"errors"
	"fmt"
	"math"
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
	alloy, bar, shape, bend, temper, limit string
	joints, tangs                          []string
	cast, stamp                            bool
}

const planExample = `dullred plan --alloy sterling --cast --bar 10x10x74 --shape "0:6x3 95:18x3 190:6x3"`

func (a *app) planCommand() *cobra.Command {
	var p planFlags
	cmd := &cobra.Command{
		Use:   `plan --alloy sterling --bar 10x10x74 --shape "0:6x3 95:18x3 190:6x3"`,
		Short: "every pass and heat from a bar to the finished shape, with the size to stop at",
		Long: `Every pass and heat in order, from a bar to a finished shape: what to hammer, the
size to set the calliper to, and when to anneal. It takes the fewest anneals with
no step above the limit, and spreads the work evenly between them.

The shape is PLACE:WIDTHxTHICKNESS along the piece in mm. A piece is stamped flat
and soft, then bent, then soldered; the last heat follows from the temper.`,
		Args: names(),
		RunE: func(cmd *cobra.Command, _ []string) error { return a.plan(p, cmd.Flags().Changed("bend")) },
	}
	f := cmd.Flags()
	f.StringVar(&p.alloy, "alloy", "", "metal by name, number or fineness")
	f.BoolVar(&p.cast, "cast", false, "the bar is as cast: the first limit, and an inspection")
	f.StringVar(&p.bar, "bar", "", "`SECTIONxLENGTH` of the bar: 10x10x74, \"8 round x 60\"; without a length no mass is checked")
	f.StringVar(&p.shape, "shape", "", "finished `SHAPE`, flat: \"0:6x3 95:18x3 190:6x3\"")
	f.StringArrayVar(&p.tangs, "tang", nil, "an end drawn to wire, `DIAMETERxLENGTH[@0 or @end]`: 2x120@end")
	f.BoolVar(&p.stamp, "stamp", false, "it is stamped, before it is bent")
	f.StringVar(&p.bend, "bend", "", "inside `RADIUS` it is bent to: 30")
	f.StringArrayVar(&p.joints, "joint", nil, "a joint, `NAME:SOLDER[@SOLIDUS]`: rim:hard@745")
	f.StringVar(&p.temper, "temper", "", "soft, springy, hard or age-hardened (default as the work leaves it)")
	f.StringVar(&p.limit, "limit", "", "your own limit (50%, \"30% area\") or a school of the alloy")
	return cmd
}

func (a *app) plan(flags planFlags, bends bool) error {
	book, err := a.metals()
	if err != nil {
		return err
	}
	job, err := flags.job(book, bends)
	if err != nil {
		return err
	}
	p, err := schedule.PlanIn(book, job, schedule.PlanKnown{})
	if errors.Is(err, schedule.ErrNoPlan) {
		return refuse("mend --bar, --shape, --bend, --temper or --limit", "%w", err)
	}
	if err != nil {
		return err
	}
	if a.json {
		return a.printJSON(planJSONOf(p))
	}
	a.printf("%s", planText(p))
	if src, ok := book.SourceOf(p.Limit.Source); ok {
		a.printf("%s", workedLine("from", schedule.Cite(src)))
	}
	return nil
}

func (f planFlags) job(book *alloys.Book, bends bool) (j schedule.PlanJob, err error) {
	if f.alloy == "" || f.bar == "" || f.shape == "" {
		return j, refuse(planExample, "plan needs --alloy, --bar and --shape")
	}
	alloy, err := book.Find(f.alloy)
	if err != nil {
		return j, err
	}
	j = schedule.PlanJob{Alloy: string(alloy.ID), Cast: f.cast, Stamp: f.stamp, Limit: f.limit,
		Temper: schedule.PlanTemper(strings.ToLower(strings.TrimSpace(f.temper)))}
	if j.Bar, j.Length, err = parseBar(f.bar); err != nil {
		return j, refuse("--bar 10x10x74 is 10 by 10 mm and 74 mm long", "%w", err)
	}
	if j.Shape, err = stock.ParseShape(f.shape); err != nil {
		return j, refuse(`mend --shape, such as "0:6x3 95:18x3 190:6x3"`, "%w", err)
	}
	for _, t := range f.tangs {
		if j.Shape, err = j.Shape.WithTang(t); err != nil {
			return j, refuse("mend --tang", "%w", err)
		}
	}
	if bends {
		if j.Bend, err = unit.ParseLength(f.bend); err != nil {
			return j, refuse("give the inside radius, such as --bend 30, or leave it away for a straight piece", "%w", err)
		}
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

// planJSON holds fractions 0..1. What nobody published, and what a step does not
// have, is absent.
type planJSON struct {
	Anneals int            `json:"anneals"`
	Steps   []planStepJSON `json:"steps"`
}

type planStepJSON struct {
	Act     string   `json:"act"`
	Zone    string   `json:"zone"`
	Process string   `json:"process,omitempty"`
	StopAt  string   `json:"stop_at,omitempty"`
	Worked  float64  `json:"worked"`
	Spent   float64  `json:"limit_spent"`
	HVLow   *float64 `json:"hardness_hv_low,omitempty"`
	HVHigh  *float64 `json:"hardness_hv_high,omitempty"`
	Courses *int     `json:"courses,omitempty"`
}

func planJSONOf(p schedule.Plan) planJSON {
	j := planJSON{Anneals: p.Anneals, Steps: []planStepJSON{}}
	for _, s := range p.Steps {
		step := planStepJSON{Act: string(s.Act), Zone: s.Zone, Process: string(s.Process), StopAt: stopText(s.StopAt),
			Worked: figure(float64(s.Worked)), Spent: figure(s.LimitSpent)}
		if s.Hardness.OK {
			step.HVLow, step.HVHigh = new(figure(s.Hardness.Low)), new(figure(s.Hardness.High))
		}
		if s.Courses > 0 {
			step.Courses = &s.Courses
		}
		j.Steps = append(j.Steps, step)
	}
	return j
}

// stopText is a size as it is typed, without the unit: 7.5x7.5, 2 round.
func stopText(z unit.Size) string {
	if z.Shape == unit.Unshaped {
		return ""
	}
	for _, l := range []*unit.Millimetre{&z.Thick, &z.Width, &z.Diameter} {
		*l = unit.Millimetre(math.Round(float64(*l)*100) / 100)
	}
	return strings.Replace(z.String(), " mm", "", 1)
}

func planText(p schedule.Plan) string {
	var b strings.Builder
	bar := stopText(p.Job.Bar)
	if p.Job.Length > 0 {
		bar += fmt.Sprintf(", %v long", p.Job.Length)
	}
	b.WriteString(wrap("", "  ", fmt.Sprintf("%s, bar %s, to %v", p.Job.Alloy, bar, p.Job.Shape)))
	for i, s := range p.Steps {
		b.WriteString(wrap(fmt.Sprintf("%2d  ", i+1), "    ", planLine(s)))
	}
	heats := counted(p.Anneals, "anneal")
	if n := len(p.Job.Joints); n > 0 {
		heats += " and " + counted(n, "soldering heat")
	}
	b.WriteString(workedLine("heats", heats))
	b.WriteString(workedLine("minutes", fmt.Sprintf("about %.0f", p.Minutes)))
	if m := p.Mass; m.Bar > 0 {
		b.WriteString(workedLine("mass", fmt.Sprintf("bar %.1f g, finished %.1f g: %.1f g to spare for losses and crop", m.Bar, m.Finished, m.Spare)))
	}
	limit := p.Limit.Text + " between anneals" + judged(p.Limit)
	if p.First.Known() {
		limit = p.First.Text + " as cast" + judged(p.First) + "; then " + limit
	}
	b.WriteString(workedLine("limit", limit))
	for _, n := range p.Notes {
		b.WriteString(workedLine("mind", n))
	}
	return b.String()
}

// planLine is a step in words, what to do first.
func planLine(s schedule.PlanStep) string {
	switch s.Act {
	case schedule.DoAnneal:
		text := fmt.Sprintf("ANNEAL %s", s.Zone)
		if s.High > 0 {
			text += fmt.Sprintf(" at %g to %g °C", float64(s.Low), float64(s.High))
		} else {
			text += ": no heat is published"
		}
		return text + behind(s)
	case schedule.DoPass:
		text := fmt.Sprintf("%s %s", strings.ToUpper(string(s.Process)), s.Zone)
		if stop := stopText(s.StopAt); stop != "" {
			text += ", STOP AT " + stop
		}
		return text + fmt.Sprintf(", %s: %.0f %% of the limit", counted(s.Courses, "course"), 100*s.LimitSpent) + hardnessOf(s) + behind(s)
	case schedule.DoBend:
		return fmt.Sprintf("BEND %s: %.0f %% of the limit", s.Zone, 100*s.LimitSpent) + hardnessOf(s) + behind(s)
	}
	return strings.ToUpper(string(s.Act)) + " " + s.Zone + behind(s)
}

func hardnessOf(s schedule.PlanStep) string {
	if !s.Hardness.OK {
		return ""
	}
	return fmt.Sprintf(", %.0f to %.0f HV", s.Hardness.Low, s.Hardness.High)
}

func behind(s schedule.PlanStep) string {
	return strings.TrimSuffix("; "+s.Text, "; ")
}
