package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
)

// workedFlags is what worked was given.
type workedFlags struct {
	alloy, from, to, calliper, limit string
	passes                           int
	cast                             bool
}

func (a *app) workedCommand() *cobra.Command {
	var w workedFlags
	cmd := &cobra.Command{
		Use:   "worked --alloy sterling --from 8x8 --to 6.4x7.2",
		Short: "the sum for one change of section, without a record",
		Args:  names(),
		RunE:  func(*cobra.Command, []string) error { return a.worked(w) },
	}
	f := cmd.Flags()
	f.StringVar(&w.alloy, "alloy", "", "metal by name, number or fineness")
	f.StringVar(&w.from, "from", "", "`SECTION` when it was last soft")
	f.StringVar(&w.to, "to", "", "`SECTION` now")
	f.IntVar(&w.passes, "passes", 0, "courses it took (for the courses left)")
	f.StringVar(&w.calliper, "calliper", defaultCalliper, "error of a reading")
	f.StringVar(&w.limit, "limit", "", "your own limit (50%, \"30% area\") or a school of the alloy")
	f.BoolVar(&w.cast, "cast", false, "as cast: the first limit")
	return cmd
}

func (a *app) worked(w workedFlags) error {
	book, err := a.metals()
	if err != nil {
		return err
	}
	sum, err := w.parse(book)
	if err != nil {
		return err
	}
	r, err := sum.Reckon()
	if err != nil {
		return refuse("mend --from or --to", "%w", err)
	}
	if a.json {
		return a.printJSON(workedJSONOf(r))
	}
	a.printf("%s", workedText(sum, r))
	if src, ok := book.SourceOf(r.Limit.Source); ok {
		a.printf("%s", workedLine("from", schedule.Cite(src)))
	}
	return nil
}

func (w workedFlags) parse(book *alloys.Book) (coldwork.Sum, error) {
	sum := coldwork.Sum{Passes: w.passes, Limit: w.limit, Condition: alloys.Wrought}
	if w.alloy == "" || w.from == "" || w.to == "" {
		return sum, refuse("dullred worked --alloy sterling --from 8x8 --to 6.4x7.2 --passes 4", "worked needs --alloy, --from and --to")
	}
	if w.passes < 0 || w.passes > 1000 {
		return sum, refuse("give 1 to 1000, or leave it away", "%d passes cannot be", w.passes)
	}
	if w.cast {
		sum.Condition = alloys.Cast
	}
	var err error
	if sum.Alloy, err = book.Find(w.alloy); err != nil {
		return sum, err
	}
	from, err := unit.ParseSize(w.from, unit.Unshaped)
	if err != nil {
		return sum, refuse("mend --from", "%w", err)
	}
	to, err := unit.ParseSize(w.to, from.Shape)
	if err != nil {
		return sum, refuse("mend --to", "%w", err)
	}
	if sum.Calliper, err = unit.ParseLength(w.calliper); err != nil {
		return sum, refuse("mend --calliper", "%w", err)
	}
	if err := coldwork.CheckCalliper(sum.Calliper); err != nil {
		return sum, refuse("mend --calliper", "%w", err)
	}
	sum.From = coldwork.Section(from)
	sum.To = sum.From.After(coldwork.Section(to))
	return sum, nil
}

// workedJSON holds fractions 0..1 and equivalent true strains. What nobody
// published is absent.
type workedJSON struct {
	AreaReduction     float64  `json:"area_reduction"`
	AreaReductionLow  float64  `json:"area_reduction_low"`
	AreaReductionHigh float64  `json:"area_reduction_high"`
	Strain            float64  `json:"strain"`
	Worked            float64  `json:"worked"`
	LimitStrain       *float64 `json:"limit_strain,omitempty"`
	LimitSpent        *float64 `json:"limit_spent,omitempty"`
	HardnessLow       *float64 `json:"hardness_hv_low,omitempty"`
	HardnessHigh      *float64 `json:"hardness_hv_high,omitempty"`
	TensileLow        *float64 `json:"tensile_mpa_low,omitempty"`
	TensileHigh       *float64 `json:"tensile_mpa_high,omitempty"`
	ElongationLow     *float64 `json:"elongation_low,omitempty"`
	ElongationHigh    *float64 `json:"elongation_high,omitempty"`
	CoursesLow        *int     `json:"courses_left_low,omitempty"`
	CoursesLikely     *int     `json:"courses_left_likely,omitempty"`
	CoursesHigh       *int     `json:"courses_left_high,omitempty"`
}

func workedJSONOf(r coldwork.Result) workedJSON {
	j := workedJSON{AreaReduction: figure(float64(r.Reduction)), AreaReductionLow: figure(float64(r.ReductionLow)),
		AreaReductionHigh: figure(float64(r.ReductionHigh)), Strain: figure(float64(r.Strain.Strain)),
		Worked: figure(float64(r.Worked))}
	if r.Limit.Known() {
		j.LimitStrain, j.LimitSpent = new(figure(float64(r.Limit.Strain))), new(figure(r.Spent))
	}
	if b := r.Temper.Hardness; b.OK {
		j.HardnessLow, j.HardnessHigh = new(figure(b.Low)), new(figure(b.High))
	}
	if b := r.Temper.Tensile; b.OK {
		j.TensileLow, j.TensileHigh = new(figure(b.Low)), new(figure(b.High))
	}
	if b := r.Temper.Elongation; b.OK {
		j.ElongationLow, j.ElongationHigh = new(figure(b.Low)), new(figure(b.High))
	}
	if r.CoursesKnown {
		j.CoursesLow, j.CoursesLikely, j.CoursesHigh = new(r.Courses.Low), new(r.Courses.Likely), new(r.Courses.High)
	}
	return j
}

func workedLine(head, text string) string {
	return wrap(fmt.Sprintf("%-10s", head), strings.Repeat(" ", 10), text)
}

func workedText(sum coldwork.Sum, r coldwork.Result) string {
	var b strings.Builder
	line := func(head, format string, args ...any) {
		b.WriteString(workedLine(head, fmt.Sprintf(format, args...)))
	}
	b.WriteString(wrap("", "  ", fmt.Sprintf("%s, %v to %v, readings good to %v", sum.Alloy.Name, sum.From, sum.To, sum.Calliper)))
	taken := "area"
	if _, ok := sum.From.Area(); !ok {
		taken = "thickness"
	}
	line(taken, "%.1f %% of the %s taken off (%.1f to %.1f)", 100*r.Reduction, taken, 100*r.ReductionLow, 100*r.ReductionHigh)
	line("strain", "%.3f (%.3f to %.3f), as if %.1f %% of the thickness had been rolled off",
		r.Strain.Strain, r.Strain.Low(), r.Strain.High(), 100*r.Worked)
	if r.Limit.Known() {
		line("limit", "%.0f %% of it spent; it is %s between anneals, strain %.3f%s", 100*r.Spent, r.Limit.Text, r.Limit.Strain, judged(r.Limit))
	} else {
		line("limit", "none: %s", noLimit(sum.Alloy))
	}
	if r.CoursesKnown {
		line("courses", "%d left (%d to %d) if the next ones are like the %d so far", r.Courses.Likely, r.Courses.Low, r.Courses.High, sum.Passes)
	}
	band := func(head, unit string, scale float64, x coldwork.Band) {
		if x.OK {
			line(head, "%.0f to %.0f %s (%s, %s)", scale*x.Low, scale*x.High, unit, x.Form, x.Source)
		} else {
			line(head, "nothing published for %s %s at this work", sum.Alloy.Name, coldwork.FormOf(sum.To))
		}
	}
	band("hardness", "HV", 1, r.Temper.Hardness)
	band("tensile", "MPa", 1, r.Temper.Tensile)
	band("stretch", "% elongation", 100, r.Temper.Elongation)
	return b.String()
}

func judged(l coldwork.Limit) string {
	if l.School == coldwork.OwnSchool {
		return "; your own"
	}
	if l.Own {
		return "; " + l.OwnFigure()
	}
	switch l.Confidence {
	case alloys.ConfidenceJudgement:
		return "; a judgement, none is published for hand work"
	case alloys.ConfidencePractice:
		return "; common practice"
	}
	return ""
}

func noLimit(a alloys.Alloy) string {
	if a.SelfSoftening {
		return "it softens by itself at room temperature and needs no anneal"
	}
	return "none is published; give your own with --limit"
}
