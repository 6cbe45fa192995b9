package coldwork

import (
	"errors"
	"fmt"
	"strings"

	"dullred/alloys"
	"dullred/alloys/unit"
)

// Limit is the most strain a metal is given between two anneals. The zero Limit
// is none known.
type Limit struct {
	Strain     unit.Strain
	Text       string // in words, with its kind: "45 % of thickness"
	Condition  alloys.Condition
	School     string // which rule of the trade; "own" for the smith's own figure
	Source     string // key of the source; empty for the smith's own
	Confidence alloys.Confidence
	Note       string
	Own        bool   // of an alloy of the smith's own table
	Learned    string // what moved it from the published figure, in words; empty for one that stands as published
}

// Known reports whether there is a limit at all.
func (l Limit) Known() bool { return l.Strain > 0 }

// OwnFigure says that a limit of an own alloy is the smith's own, and where it
// allows more than sterling, the most that an embedded alloy is given.
func (l Limit) OwnFigure() string {
	const own = "your own figure"
	silver, err := alloys.Find("AG925")
	if err != nil {
		return own
	}
	if most, err := LimitOf(silver, alloys.Wrought, ""); err == nil && l.Strain > most.Strain {
		return fmt.Sprintf("%s, more than the %s that sterling is given", own, most.Text)
	}
	return own
}

// OwnSchool marks a limit that the smith set.
const OwnSchool = "own"

// ErrLimit is returned for a limit that is neither a reduction nor a school of that alloy.
var ErrLimit = errors.New("not a limit")

// LimitOf is the limit of an alloy in a condition. An empty choice takes the
// table's default. A choice is a reduction ("50%", "30 % area"; without a kind
// it is of the default's kind) or the name of a school that the table keeps
// beside the default; anything else is ErrLimit. An alloy without a limit in the
// table, such as pewter, has the zero Limit by default and no schools.
func LimitOf(a alloys.Alloy, c alloys.Condition, choice string) (Limit, error) {
	preset, ok := a.Default(alloys.Limit, c)
	if choice = strings.TrimSpace(choice); choice == "" {
		if !ok {
			return Limit{}, nil
		}
		return fromFigure(a, preset), nil
	}
	for _, f := range append(a.Schools(c), preset) {
		if f.School != "" && strings.EqualFold(f.School, choice) {
			return chosen(a, f)
		}
	}
	like := unit.ThicknessKind
	if ok && preset.Unit == alloys.PctArea {
		like = unit.AreaKind
	}
	r, err := unit.ParseReduction(choice, like)
	if err != nil {
		return Limit{}, fmt.Errorf("%.60q is %w for %s: expected a reduction such as 50%% or %s", choice, ErrLimit, a.Name, schools(a, c))
	}
	return Limit{Strain: r.Strain(), Text: r.String(), Condition: c, School: OwnSchool,
		Note: "the smith's own limit"}, nil
}

func chosen(a alloys.Alloy, f alloys.Figure) (Limit, error) {
	l := fromFigure(a, f)
	if !l.Known() {
		return Limit{}, fmt.Errorf("the school %q counts courses, not strain: %w that can be summed", f.School, ErrLimit)
	}
	return l, nil
}

// fromFigure takes the low end of the figure.
func fromFigure(a alloys.Alloy, f alloys.Figure) Limit {
	strain, ok := f.LimitStrain()
	if !ok {
		return Limit{}
	}
	return Limit{Strain: strain, Text: reductionText(f), Condition: f.Condition, School: f.School,
		Source: f.Source, Confidence: f.Confidence, Note: f.Note, Own: a.Own}
}

func reductionText(f alloys.Figure) string {
	switch f.Unit {
	case alloys.PctArea:
		return unit.AreaReduction(f.Low / 100).String()
	case alloys.PctLength:
		return fmt.Sprintf("%g %% longer", f.Low)
	}
	return unit.ThicknessReduction(f.Low / 100).String()
}

// schools names what can be chosen beside the default.
func schools(a alloys.Alloy, c alloys.Condition) string {
	var names []string
	for _, f := range a.Schools(c) {
		if _, ok := f.LimitStrain(); ok {
			names = append(names, f.School)
		}
	}
	if len(names) == 0 {
		return "50% area"
	}
	return "one of the schools " + strings.Join(names, ", ")
}
