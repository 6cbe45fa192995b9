package alloys

import (
	"errors"
	"fmt"
	"slices"
)

// leastMargin is how far, in °C, a default window ends below the solidus of the
// metal: a torch is no steadier (a judgement).
const leastMargin = 25

// placed is a figure with the place of its row, to be held against the other
// figures of its alloy once they are all read.
type placed struct {
	figure       Figure
	table        string
	line, column int
}

// hold keeps the figures of an alloy that could melt or split a piece.
func (d *reader) hold(r *row, f Figure) {
	if _, isAlloy := d.ids[f.Alloy]; !isAlloy || f.Use == UseNever {
		return
	}
	if slices.Contains([]Property{Solidus, Liquidus, Anneal, Age, Limit, LeastWork}, f.Property) {
		line, column := r.in.FieldPos(0)
		d.heats = append(d.heats, placed{f, r.table, line, column})
	}
}

func (p placed) wrong(err error) error { return &TableError{p.table, p.line, p.column, err} }

// fits says what is wrong with a figure beside the others of its alloy.
func (p placed) fits(a Alloy) error {
	f := p.figure
	switch {
	case f.Property == Age, f.Use != UseDefault && f.Property == Anneal:
		return a.unmelted(f)
	case f.Use != UseDefault:
		return nil
	}
	switch f.Property {
	case Solidus, Liquidus:
		return a.meltsInOrder(f.Condition)
	case Anneal:
		return a.windowFits(f)
	case Limit:
		return a.limitFits(f)
	}
	return a.leastFits(f)
}

// solidusOf is the default solidus of a condition, else the one that holds
// whatever the condition.
func (a Alloy) solidusOf(c Condition) (Figure, bool) {
	if s, ok := a.Default(Solidus, c); ok {
		return s, true
	}
	return a.Default(Solidus, "")
}

// heated are the heats that must not melt the metal, in words.
var heated = map[Property]string{Anneal: "an anneal", Age: "an age hardening"}

// unmelted refuses a heat at which the metal melts, which is told as never.
func (a Alloy) unmelted(f Figure) error {
	if s, ok := a.solidusOf(f.Condition); ok && f.High >= s.Low {
		return fmt.Errorf("%s of %v C melts %s, of which the solidus is %v C: its use is never", heated[f.Property], f.High, a.ID, s.Low)
	}
	return nil
}

func (a Alloy) meltsInOrder(c Condition) error {
	s, solid := a.Default(Solidus, c)
	l, liquid := a.Default(Liquidus, c)
	if solid && liquid && s.High > l.Low {
		return fmt.Errorf("the solidus of %s, %v C, is above its liquidus, %v C", a.ID, s.High, l.Low)
	}
	return nil
}

// windowFits holds a default window against the solidus of every condition that
// it answers for.
func (a Alloy) windowFits(f Figure) error {
	if a.SelfSoftening {
		return fmt.Errorf("%s softens by itself, so there is no default window to heat it to", a.ID)
	}
	for _, c := range []Condition{f.Condition, Wrought, Cast} {
		if w, _ := a.Default(Anneal, c); w != f {
			continue
		}
		s, ok := a.solidusOf(c)
		if !ok {
			return fmt.Errorf("a default anneal needs a default solidus to keep below, and %s has none", a.ID)
		}
		if f.High+leastMargin > s.Low {
			return fmt.Errorf("the default anneal of %s ends at %v C, less than %d C below its solidus of %v C", a.ID, f.High, leastMargin, s.Low)
		}
	}
	return nil
}

func (a Alloy) limitFits(f Figure) error {
	_, summed := f.LimitStrain()
	switch {
	case a.SelfSoftening:
		return fmt.Errorf("%s softens by itself, so it has no default limit", a.ID)
	case !summed:
		return errors.New("a default limit is a reduction; courses have no strain that can be summed")
	case f.Bound == AtLeast:
		return fmt.Errorf("a limit is the most work, so %q is none; the least before an anneal is %s", f.Bound, LeastWork)
	}
	return nil
}

// leastFits refuses a least work that the limit never lets one reach.
func (a Alloy) leastFits(f Figure) error {
	limit, ok := a.Default(Limit, f.Condition)
	if !ok {
		return nil
	}
	from, _ := f.LeastStrain()
	if most, _ := limit.LimitStrain(); from >= most {
		return fmt.Errorf("the least work of %s lies above the limit; its use is also", a.ID)
	}
	return nil
}
