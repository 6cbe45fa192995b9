package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"dullred/schedule"
	"dullred/schedule/demo"
)

// view is a piece with the advice for it.
type view struct {
	piece  *piece
	advice schedule.Advice
}

func (a *app) adviseCommand() *cobra.Command {
	var now string
	var showDemo, why bool
	cmd := &cobra.Command{
		Use:   "advise [NAME]",
		Short: "what to do now: carry on, anneal soon, anneal now, and why",
		Example: `  dullred advise spoon
  dullred advise --demo             (an invented evening class, nothing recorded)`,
		Args: perhaps("NAME"),
		RunE: func(_ *cobra.Command, args []string) error {
			a.asked = now != ""
			at, err := parseWhen(now, a.now())
			if err != nil {
				return err
			}
			name := ""
			if len(args) == 1 {
				name = args[0]
			}
			if why {
				return a.adviseWhy(name, at, showDemo)
			}
			return a.advise(name, at, showDemo)
		},
	}
	cmd.Flags().StringVar(&now, "now", "", "the moment to advise for: `TIME` (default now)")
	cmd.Flags().BoolVar(&showDemo, "demo", false, "the invented class at Saltmarsh Quay, in memory")
	cmd.Flags().BoolVar(&why, "why", false, "the sum behind the advice for NAME, to be done again by hand")
	return cmd
}

func (a *app) advise(name string, at time.Time, showDemo bool) error {
	all, err := a.printedAdvice(name, at, showDemo)
	if err != nil {
		return err
	}
	if a.json {
		if name != "" {
			return a.printJSON(all[0].json)
		}
		return a.printJSON(jsonOfAll(all))
	}
	if len(all) == 0 {
		a.printf("%s", emptyHint)
	}
	for i, s := range all {
		if i > 0 {
			a.printf("\n")
		}
		a.printf("%s", s.text)
	}
	return nil
}

// printed is a piece with its advice as it is printed, without what that was reckoned from,
// of which a record of years has thousands.
type printed struct {
	name  string
	spent float64
	text  string
	json  adviceJSON
}

// show makes what is printed of a view, for people or for a machine.
func (a *app) show(v view, text func(view) string) printed {
	s := printed{name: v.piece.name, spent: v.advice.Spent}
	if a.json {
		s.json = jsonOf(v.piece, v.advice)
	} else {
		s.text = text(v)
	}
	return s
}

func wholeAdvice(v view) string { return adviceText(v.piece, v.advice, true) }

// printedAdvice is the advice for the piece that is named, or for each, of the record or of the
// invented class.
func (a *app) printedAdvice(name string, at time.Time, showDemo bool) ([]printed, error) {
	if showDemo {
		views, err := demoViews(name, at)
		return a.showAll(views), err
	}
	b, err := a.open()
	if err != nil {
		return nil, err
	}
	all, err := a.printedOf(b, name, at)
	return all, errors.Join(err, b.close())
}

func (a *app) printedOf(b *bench, name string, at time.Time) ([]printed, error) {
	if name == "" {
		return a.adviseAll(b, at, wholeAdvice)
	}
	v, err := a.viewOf(b, name, at)
	if err != nil {
		return nil, err
	}
	return a.showAll([]view{v}), nil
}

func (a *app) showAll(views []view) (all []printed) {
	for _, v := range views {
		all = append(all, a.show(v, wholeAdvice))
	}
	return bySpent(all)
}

// viewOf is the piece that is named, with its advice.
func (a *app) viewOf(b *bench, name string, at time.Time) (view, error) {
	p, err := b.find(name)
	if err != nil {
		return view{}, err
	}
	a.until(b, p, at)
	advice, err := a.adviceOn(b, p, at)
	return view{p, advice}, err
}

// until drops entries that had not happened at a moment that was asked for. What the
// clock of another bench has put ahead of now has happened.
func (a *app) until(b *bench, p *piece, at time.Time) {
	if a.asked {
		p.until(b, at)
	}
}

// until drops entries that had not happened at a moment.
func (p *piece) until(b *bench, at time.Time) {
	p.entries = slices.DeleteFunc(p.entries, func(e schedule.Entry) bool { return e.At.After(at) })
	p.state = b.fold(p.entries)
}

func (a *app) adviceOn(b *bench, p *piece, at time.Time) (schedule.Advice, error) {
	others, err := b.others(p)
	if err != nil {
		return schedule.Advice{}, err
	}
	p.state.Learn(others)
	if err := p.followPlan(others); err != nil {
		return schedule.Advice{}, err
	}
	return p.state.Advise(at, others), nil
}

// adviseAll is every piece of the record, nearest to splitting first.
func (a *app) adviseAll(b *bench, at time.Time, text func(view) string) ([]printed, error) {
	labels, err := b.rec.Labels("piece")
	if err != nil {
		return nil, err
	}
	var all []printed
	for _, l := range labels {
		p, err := b.load(schedule.ID(l.ID), l.Text)
		if err != nil {
			return nil, err
		}
		if a.until(b, p, at); len(p.entries) == 0 {
			continue // not started by then
		}
		advice, err := a.adviceOn(b, p, at)
		if err != nil {
			return nil, err
		}
		all = append(all, a.show(view{p, advice}, text))
	}
	return bySpent(all), nil
}

func bySpent(all []printed) []printed {
	slices.SortStableFunc(all, func(x, y printed) int {
		return cmp.Or(cmp.Compare(y.spent, x.spent), strings.Compare(x.name, y.name))
	})
	return all
}

func demoViews(name string, at time.Time) ([]view, error) {
	var views []view
	var known []string
	for _, d := range demo.Class(at) {
		known = append(known, d.Name)
		if name != "" && !strings.EqualFold(name, d.Name) {
			continue
		}
		p := &piece{id: d.Entries[0].Piece, name: d.Name, entries: d.Entries, state: schedule.Fold(d.Entries)}
		views = append(views, view{p, p.state.Advise(at, nil)})
	}
	if len(views) == 0 {
		return nil, missing("the class has "+strings.Join(known, ", "), "there is no demo piece named %.60q", name)
	}
	return views, nil
}

// adviceText is the advice as a person reads it. What follows a logged act is
// short; the whole has every reason, caution and source.
func adviceText(p *piece, a schedule.Advice, whole bool) string {
	var b strings.Builder
	title := p.name
	if z, ok := p.state.Zone(a.Zone); ok {
		title += ", " + p.state.Alloy.Name + ", " + z.Name + " " + z.Tally.Section().String()
	}
	b.WriteString(wrap("", "  ", title))
	b.WriteString(wrap("", "  ", headline(a)))
	b.WriteString(wrap("next    ", "        ", a.Next))
	if text := timeOf(&p.state, a.Zone); text != "" {
		b.WriteString(wrap("time    ", "        ", text))
	}
	if p.on != nil {
		b.WriteString(wrap("plan    ", "        ", p.on.Text()))
	}
	list := func(head string, lines []string) {
		for _, line := range lines {
			b.WriteString(wrap(fmt.Sprintf("%-8s", head), "        ", line))
			head = ""
		}
	}
	if !whole {
		list("mind", a.Cautions[:min(1, len(a.Cautions))])
		list("why", []string{"dullred advise " + asWord(p.name)})
		return b.String()
	}
	list("why", a.Reasons)
	list("mind", few(a.Cautions, p))
	if len(a.Sources) > 0 {
		list("from", []string{sourceKeys(a.Sources) + " (in full: dullred alloys " + p.state.AlloyID + ")"})
	}
	return b.String()
}

// fewCautions keeps the verdict, its reasons and cautions on one screen of 24 rows.
const fewCautions = 3

// few are the most pressing cautions, and where the rest is.
func few(cautions []string, p *piece) []string {
	if len(cautions) <= fewCautions {
		return cautions
	}
	return append(slices.Clone(cautions[:fewCautions]), "more: dullred alloys "+p.state.AlloyID+", dullred safety")
}

// sourceKeys are the keys of sources, which lead their text.
func sourceKeys(sources []string) string {
	var keys []string
	for _, s := range sources {
		key, _, _ := strings.Cut(s, ":")
		keys = append(keys, key)
	}
	return strings.Join(keys, ", ")
}

// headline is the verdict with its figures: "CARRY ON  49 % of the limit spent, 4 more courses (3 to 5)".
func headline(a schedule.Advice) string {
	text := strings.ToUpper(a.Verdict.String())
	if !a.Limit.Known() {
		return text
	}
	text += fmt.Sprintf(" - %.0f %% of the limit spent", 100*a.Spent)
	if a.Forecast && a.Courses.High > 0 {
		c := a.Courses
		text += fmt.Sprintf(", courses left %d (%d to %d)", c.Likely, c.Low, c.High)
	}
	return text
}

// adviceJSON is the advice for a machine. Figures that are not known are absent.
type adviceJSON struct {
	Piece         string      `json:"piece"`
	Verdict       string      `json:"verdict"`
	Zone          string      `json:"zone"`
	Worked        *float64    `json:"worked,omitempty"`
	Strain        *float64    `json:"strain,omitempty"`
	LimitStrain   *float64    `json:"limit_strain,omitempty"`
	LimitSpent    *float64    `json:"limit_spent,omitempty"`
	CoursesLow    *int        `json:"courses_left_low,omitempty"`
	CoursesLikely *int        `json:"courses_left_likely,omitempty"`
	CoursesHigh   *int        `json:"courses_left_high,omitempty"`
	Next          string      `json:"next"`
	Time          string      `json:"time,omitempty"` // of the step that runs
	Plan          string      `json:"plan,omitempty"` // what is next by it
	Reasons       []string    `json:"reasons"`
	Cautions      []string    `json:"cautions"`
	Sources       []string    `json:"sources"`
	Zones         []zonesJSON `json:"zones"`
}

type zonesJSON struct {
	Zone       string   `json:"zone"`
	Verdict    string   `json:"verdict"`
	Worked     float64  `json:"worked"`
	LimitSpent *float64 `json:"limit_spent,omitempty"`
}

func jsonOf(p *piece, a schedule.Advice) adviceJSON {
	j := adviceJSON{Piece: p.name, Verdict: a.Verdict.String(), Zone: a.Zone, Next: a.Next, Time: timeOf(&p.state, a.Zone),
		Reasons: list(a.Reasons), Cautions: list(a.Cautions), Sources: list(a.Sources), Zones: []zonesJSON{}}
	if p.on != nil {
		j.Plan = p.on.Text()
	}
	if len(a.Zones) > 0 {
		j.Worked, j.Strain = new(figure(float64(a.Worked()))), new(figure(float64(a.Done.Strain)))
	}
	if a.Limit.Known() {
		j.LimitStrain, j.LimitSpent = new(figure(float64(a.Limit.Strain))), new(figure(a.Spent))
	}
	if a.Forecast {
		j.CoursesLow, j.CoursesLikely, j.CoursesHigh = new(a.Courses.Low), new(a.Courses.Likely), new(a.Courses.High)
	}
	for _, z := range a.Zones {
		zone := zonesJSON{Zone: z.Zone, Verdict: z.Verdict.String(), Worked: figure(float64(z.Worked()))}
		if z.Limit.Known() {
			zone.LimitSpent = new(figure(z.Spent))
		}
		j.Zones = append(j.Zones, zone)
	}
	return j
}

func jsonOfAll(all []printed) []adviceJSON {
	out := make([]adviceJSON, 0, len(all))
	for _, s := range all {
		out = append(out, s.json)
	}
	return out
}

// list is never null in JSON.
func list(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}
