package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"dullred/alloys"
	"dullred/alloys/unit"
)

func (a *app) alloysCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "alloys [NAME]",
		Short: "the metals and solders: list them, search, or show one with every figure and source",
		Args:  cobra.ArbitraryArgs,
		RunE: func(_ *cobra.Command, args []string) error {
			book, err := a.metals()
			if err != nil {
				return err
			}
			if len(args) == 0 {
				return a.listAlloys(book.All())
			}
			return a.showOrSearch(book, strings.Join(args, " "))
		},
	}
	cmd.AddCommand(a.alloysCheckCommand(), a.soldersCommand())
	return cmd
}

// showOrSearch shows the alloy or solder of that name, else lists the alloys
// whose names hold the text.
func (a *app) showOrSearch(book *alloys.Book, text string) error {
	found, err := book.Find(text)
	if err == nil {
		return a.showAlloy(book, found)
	}
	if solder, err := book.FindSolder(text); err == nil {
		return a.showSolder(book, solder)
	}
	var like []alloys.Alloy
	for _, x := range book.All() {
		all := strings.ToLower(strings.Join(append([]string{string(x.ID), x.Name, x.Family, x.Composition}, x.Names...), " "))
		if strings.Contains(all, strings.ToLower(strings.TrimSpace(text))) {
			like = append(like, x)
		}
	}
	if len(like) == 0 {
		return err
	}
	return a.listAlloys(like)
}

// alloyJSON is one alloy for a machine.
type alloyJSON struct {
	ID          string       `json:"id"`
	Name        string       `json:"name"`
	UNS         string       `json:"uns,omitempty"`
	Fineness    string       `json:"fineness,omitempty"`
	Names       []string     `json:"names"`
	Composition string       `json:"composition"`
	Own         bool         `json:"own,omitempty"`
	Figures     []figureJSON `json:"figures,omitempty"`
	Rules       []ruleJSON   `json:"rules,omitempty"`
}

type figureJSON struct {
	Property   string   `json:"property"`
	Form       string   `json:"form,omitempty"`
	Condition  string   `json:"condition,omitempty"`
	School     string   `json:"school,omitempty"`
	At         *float64 `json:"at,omitempty"`
	AtKind     string   `json:"at_kind,omitempty"`
	Low        float64  `json:"low"`
	High       float64  `json:"high"`
	Bound      string   `json:"bound,omitempty"`
	Unit       string   `json:"unit"`
	Use        string   `json:"use"`
	Source     string   `json:"source"`
	Confidence string   `json:"confidence"`
	Note       string   `json:"note,omitempty"`
}

type ruleJSON struct {
	Kind   string `json:"kind"`
	Text   string `json:"text"`
	Use    string `json:"use"`
	Source string `json:"source"`
}

func alloyJSONOf(x alloys.Alloy) alloyJSON {
	return alloyJSON{ID: string(x.ID), Name: x.Name, UNS: x.UNS, Fineness: x.Fineness, Names: list(x.Names), Composition: x.Composition, Own: x.Own}
}

func (a *app) listAlloys(all []alloys.Alloy) error {
	if a.json {
		out := make([]alloyJSON, 0, len(all))
		for _, x := range all {
			out = append(out, alloyJSONOf(x))
		}
		return a.printJSON(out)
	}
	for _, x := range all {
		a.printf("%-8s %-20s %s\n", clean(string(x.ID)), clean(x.Name), clean(x.Composition+ownMark(x.Own)))
	}
	a.printf("dullred alloys NAME shows one with every figure and its source\n")
	return nil
}

// ownMark marks what stands in the smith's own table.
func ownMark(own bool) string {
	if own {
		return "; your own"
	}
	return ""
}

// shown is the order in which an alloy's figures are shown.
var shown = []struct {
	property alloys.Property
	title    string
}{
	{alloys.Density, "density"}, {alloys.Solidus, "solidus"}, {alloys.Liquidus, "liquidus"},
	{alloys.SpecificHeat, "specific heat"}, {alloys.Conductivity, "conductivity of heat"}, {alloys.Emissivity, "emissivity"},
	{alloys.Anneal, "anneal at"}, {alloys.Coarsens, "coarsens from"}, {alloys.HotShort, "hot short at"}, {alloys.Ordering, "quench from above"},
	{alloys.SoakTime, "hold at heat"}, {alloys.Age, "harden at"}, {alloys.AgeTime, "harden for"}, {alloys.Limit, "most work between anneals"},
	{alloys.LeastWork, "least work before an anneal"}, {alloys.Hardness, "hardness"},
	{alloys.HardnessHRB, "hardness, Rockwell B"}, {alloys.HardnessHB, "hardness, Brinell"},
	{alloys.Tensile, "tensile strength"}, {alloys.Yield, "yield strength"}, {alloys.Elongation, "elongation"},
}

// ofSome are the properties that few metals have; the others are not said to
// lack them.
var ofSome = []alloys.Property{alloys.Coarsens, alloys.HotShort, alloys.Ordering, alloys.SoakTime, alloys.Age, alloys.AgeTime}

var ruleTitles = []struct {
	kind  alloys.RuleKind
	title string
}{
	{alloys.RuleHammer, "under the hammer"}, {alloys.RuleAnneal, "annealing"}, {alloys.RuleSlow, "heat it slowly"},
	{alloys.RuleGas, "flame"}, {alloys.RuleQuench, "quenching"}, {alloys.RulePickle, "pickle"}, {alloys.RuleAge, "hardening by heat"},
	{alloys.RuleHot, "working hot"}, {alloys.RuleHazard, "hazards"},
}

func (a *app) showAlloy(book *alloys.Book, x alloys.Alloy) error {
	if a.json {
		return a.printJSON(wholeAlloy(x))
	}
	used := map[string]bool{}
	a.printf("%s", wrap("", "  ", fmt.Sprintf("%s (%s), %s; found as %s", x.Name, x.ID, x.Composition, strings.Join(x.Names, ", "))+ownMark(x.Own)))
	a.printf("%s", wrap("", "  ", "* computed with; + published beside it, for a limit a school to choose; - shown only, never computed with"))
	for _, s := range shown {
		figures := x.Figures(s.property)
		if len(figures) == 0 && slices.Contains(ofSome, s.property) {
			continue
		}
		if len(figures) == 0 {
			a.printf("%s: nothing published here, nothing is computed with it\n", s.title)
			continue
		}
		a.printf("%s\n", s.title)
		a.printFigures(figures, used, x.Own)
	}
	for _, s := range ruleTitles {
		for i, r := range x.Rules(s.kind) {
			if i == 0 {
				a.printf("%s\n", s.title)
			}
			used[r.Source] = true
			a.printf("%s", wrap("  "+useMark(r.Use)+" ", "      ", fmt.Sprintf("%s [%s, %s]", r.Text, r.Source, r.Confidence)+ownMark(x.Own)))
		}
	}
	a.printSources(book, used)
	return nil
}

// printFigures prints figures of one property and notes the sources they name.
func (a *app) printFigures(figures []alloys.Figure, used map[string]bool, own bool) {
	for _, f := range figures {
		used[f.Source] = true
		a.printf("%s", wrap("  "+useMark(f.Use)+" ", "      ", figureText(f)+ownMark(own)))
	}
}

func wholeAlloy(x alloys.Alloy) alloyJSON {
	j := alloyJSONOf(x)
	for _, s := range shown {
		for _, f := range x.Figures(s.property) {
			j.Figures = append(j.Figures, figureJSONOf(f))
		}
	}
	for _, s := range ruleTitles {
		for _, r := range x.Rules(s.kind) {
			j.Rules = append(j.Rules, ruleJSON{Kind: string(r.Kind), Text: r.Text, Use: string(r.Use), Source: r.Source})
		}
	}
	return j
}

func figureJSONOf(f alloys.Figure) figureJSON {
	j := figureJSON{Property: string(f.Property), Form: string(f.Form), Condition: string(f.Condition), School: f.School,
		AtKind: string(f.AtKind), Low: f.Low, High: f.High, Bound: string(f.Bound), Unit: f.Unit, Use: string(f.Use),
		Source: f.Source, Confidence: string(f.Confidence), Note: f.Note}
	if f.HasAt {
		j.At = new(f.At)
	}
	return j
}

func useMark(u alloys.Use) string {
	switch u {
	case alloys.UseDefault:
		return "*"
	case alloys.UseAlso:
		return "+"
	}
	return "-"
}

// unitText is a unit of the table as it is read aloud.
var unitText = map[string]string{
	"g/cm3": "g/cm³", "C": "°C", "pct": "%", alloys.PctThickness: "% of thickness", alloys.PctArea: "% of area",
	alloys.PctLength: "% longer", alloys.Courses: "courses",
}

func figureText(f alloys.Figure) string {
	text := fmt.Sprintf("%g", f.Low)
	if f.High != f.Low {
		text = fmt.Sprintf("%g to %g", f.Low, f.High)
	}
	switch f.Bound {
	case alloys.AtLeast:
		text = "at least " + text
	case alloys.AtMost:
		text = "at most " + text
	}
	text += unitOf(f.Unit)
	if s, ok := f.LimitStrain(); ok {
		text += fmt.Sprintf(" (strain %.3f)", s)
	}
	var where []string
	for _, w := range []string{formText(f.Form), string(f.Condition)} {
		if w != "" {
			where = append(where, w)
		}
	}
	if f.HasAt {
		where = append(where, "at "+reduction(f))
	}
	if len(where) > 0 {
		text += ", " + strings.Join(where, ", ")
	}
	if f.School != "" {
		text += ", school " + f.School
	}
	text += fmt.Sprintf(" [%s, %s]", f.Source, f.Confidence)
	if f.Note != "" {
		text += ": " + f.Note
	}
	return text
}

// unitOf is a unit behind a space; a bare share has none.
func unitOf(u string) string {
	switch name := unitText[u]; {
	case u == "-":
		return ""
	case name != "":
		return " " + name
	}
	return " " + u
}

func formText(f alloys.Form) string {
	switch f {
	case alloys.Strip:
		return "rolled strip"
	case alloys.Wire:
		return "drawn wire"
	}
	return string(f)
}

func reduction(f alloys.Figure) string {
	if f.AtKind == alloys.PctArea {
		return unit.AreaReduction(f.At / 100).String()
	}
	return unit.ThicknessReduction(f.At / 100).String()
}
