package alloys

import "slices"

// ID names an alloy in the tables and in records, such as "AG925" or "C26000".
type ID string

// Alloy is one metal with its figures, curves and rules. The zero Alloy has
// none, and answers every question with "not known". What its methods return
// must not be changed.
type Alloy struct {
	ID          ID
	Name        string
	UNS         string   // Unified Numbering System, or empty
	Fineness    string   // parts of the precious metal in a thousand, or empty
	Names       []string // trade names by which it is found
	Family      string
	Composition string

	// SelfSoftening marks a metal that recrystallises at room temperature: it
	// does not harden under the hammer and is never annealed.
	SelfSoftening bool

	Own bool // read by ReadOwn: every figure is the user's own

	held *held
}

// Figures returns every figure of a property, the defaults first.
func (a Alloy) Figures(p Property) []Figure { return figuresOf(a.held.all().figures, p) }

func figuresOf(figures []Figure, p Property) []Figure {
	some := filter(figures, func(f Figure) bool { return f.Property == p })
	slices.SortStableFunc(some, func(f, g Figure) int { return f.Use.order() - g.Use.order() })
	return some
}

// Default returns the figure that is computed with: of the density, the melting
// range, the limit and the annealing window there is one for each condition.
// What is asked for cast or wrought metal and published for neither is answered
// with the figure that holds whatever the condition; a limit never is. Where
// strip and wire both have a default, as annealed hardness has, strip's is
// returned. The least work before an anneal has no default where it contradicts
// the limit. It is false if no default is published, and is never a figure
// marked never.
func (a Alloy) Default(p Property, c Condition) (Figure, bool) {
	return defaultOf(a.held.all().figures, p, c)
}

func defaultOf(figures []Figure, p Property, c Condition) (Figure, bool) {
	is := func(f Figure) bool { return f.Property == p && f.Condition == c && f.Use == UseDefault }
	if i := slices.IndexFunc(figures, is); i >= 0 {
		return figures[i], true
	}
	if c == Wrought || c == Cast {
		return defaultOf(figures, p, "")
	}
	return Figure{}, false
}

// Schools returns the limits that are published beside the default for a
// condition, one of which a smith may choose instead.
func (a Alloy) Schools(c Condition) []Figure {
	return filter(a.held.all().figures, func(f Figure) bool {
		return f.Property == Limit && f.Condition == c && f.Use == UseAlso
	})
}

// Rules returns the rules of a kind, the defaults first.
func (a Alloy) Rules(kind RuleKind) []Rule {
	some := filter(a.held.all().rules, func(r Rule) bool { return r.Kind == kind })
	slices.SortStableFunc(some, func(r, q Rule) int { return r.Use.order() - q.Use.order() })
	return some
}

// Curve returns the curve of a property that is computed with for a form, and
// false if none of at least two points is published.
func (a Alloy) Curve(p Property, f Form) (Curve, bool) {
	for _, c := range a.held.curves() {
		if c.Property == p && c.Form == f && c.Use == UseDefault {
			return c, true
		}
	}
	return Curve{}, false
}

// Curves returns the curves of a property from every source and form.
func (a Alloy) Curves(p Property) []Curve {
	return filter(a.held.curves(), func(c Curve) bool { return c.Property == p })
}

func filter[T any](all []T, keep func(T) bool) []T {
	var some []T
	for _, t := range all {
		if keep(t) {
			some = append(some, t)
		}
	}
	return some
}
