package alloys

import "slices"

// figure reads and checks one row of the table of figures.
func (d *reader) figure(r *row) {
	var f Figure
	figures := d.owner(r, &f)
	s := specOf(f.Property)
	f.Form = oneOf(r, "form", "", Strip, Wire, Bar, CastForm, Hand)
	readCondition(r, &f)
	readPlace(r, s, &f)
	readValue(r, s, &f)
	f.Use = use(r)
	f.Source = d.cited(r)
	f.Confidence = confidence(r)
	f.Note = r.text()
	if f.Use == UseNever && f.Note == "" {
		r.fail("a figure never to be used needs a note that says why")
	}
	if r.err != nil {
		return
	}
	only(r, s, *figures, &f)
	follows(r, s, *figures, &f)
	*figures = append(*figures, f)
	d.hold(r, f)
}

// owner reads whose figure it is and of which property, and returns where it goes.
func (d *reader) owner(r *row, f *Figure) *[]Figure {
	f.Alloy = ID(r.word("alloy"))
	alloy, isAlloy := d.ids[f.Alloy]
	solder, isSolder := d.solders[f.Alloy]
	if !isAlloy && !isSolder {
		r.fail("alloy %.60q is not in the table of alloys", f.Alloy)
	}
	f.Property = oneOf(r, "property", properties...)
	switch {
	case isSolder && !specOf(f.Property).ofSolder, isAlloy && f.Property == Flow:
		r.fail("%s is no property of %s", f.Property, f.Alloy)
	case isSolder:
		return &d.book.solders[solder].held.figures
	case isAlloy:
		return &d.book.alloys[alloy].held.figures
	}
	return nil
}

// readCondition reads condition and school. A limit, and nothing else, belongs
// to a school; it and the least work are for cast or for wrought metal.
func readCondition(r *row, f *Figure) {
	limit := f.Property == Limit
	f.Condition = Condition(r.text())
	if (limit || f.Property == LeastWork) && f.Condition != Wrought && f.Condition != Cast {
		r.fail("a limit or a least work is for %.60q or %.60q metal, not for %.60q", Wrought, Cast, f.Condition)
	}
	if f.Property == Emissivity && !slices.Contains(Skins(), f.Condition) {
		r.fail("an emissivity is of a skin, one of %s, not of %.60q", quoted(Skins()), f.Condition)
	}
	f.School = r.text()
	if limit && f.School == "" {
		r.fail("a limit needs a school")
	}
	if !limit && f.School != "" {
		r.fail("school %.60q is for limits only", f.School)
	}
}

// readPlace reads the place on the reduction axis, if the figure has one.
func readPlace(r *row, s spec, f *Figure) {
	if r.fields[r.next] == "" {
		r.text()
		if kind := r.text(); kind != "" {
			r.fail("at_kind %.60q stands without a place", kind)
		}
		return
	}
	f.HasAt, f.At = true, r.number("at")
	if f.At < 0 || f.At >= 100 {
		r.fail("at %v is not from 0 to below 100 %%", f.At)
	}
	if s.trend == 0 {
		r.fail("a figure of %s has no place on the reduction axis", f.Property)
	}
	f.AtKind = oneOf(r, "at_kind", AtKind(PctThickness), PctArea)
}

// readValue reads low, high, bound and unit.
func readValue(r *row, s spec, f *Figure) {
	f.Low, f.High = r.number("low"), r.number("high")
	if f.Low > f.High {
		r.fail("low %v is above high %v", f.Low, f.High)
	}
	if !s.within(f) {
		r.fail("%v to %v is out of range for %s, which goes from %v to %v", f.Low, f.High, f.Property, s.min, s.max)
	}
	f.Bound = oneOf(r, "bound", BothEnds, AtLeast, AtMost)
	if f.Bound != BothEnds && f.Low != f.High {
		r.fail("bound %.60q is for a single value, not for %v to %v", f.Bound, f.Low, f.High)
	}
	f.Unit = oneOf(r, "unit", s.units...)
	if f.Unit == Courses && !s.within(f) {
		r.fail("%v to %v is not a whole number of courses", f.Low, f.High)
	}
}

// only refuses a figure that stands twice and a second default.
func only(r *row, s spec, figures []Figure, f *Figure) {
	for i := range figures {
		other := &figures[i]
		if other.Property != f.Property || other.Condition != f.Condition {
			continue
		}
		if other.Low == f.Low && same(*other, *f) {
			r.failWhole("this figure stands twice")
		}
		if s.sharesDefault(other, f) {
			r.failWhole("%s has a default %s for %.60q already", f.Alloy, f.Property, f.Condition)
		}
	}
}

// same says whether two figures differ in nothing but their notes.
func same(f, g Figure) bool {
	f.Note, g.Note = "", ""
	return f == g
}

// follows refuses a point that does not fit on the curve of its source.
func follows(r *row, s spec, figures []Figure, f *Figure) {
	if !f.onCurve() {
		return
	}
	k := keyOf(f)
	for i := range figures {
		p := &figures[i]
		if p.Property != f.Property || !p.onCurve() || keyOf(p) != k {
			continue
		}
		switch apart := f.place() - p.place(); {
		case p.AtKind != f.AtKind:
			r.failWhole("at_kind %.60q on a curve of %.60q", f.AtKind, p.AtKind)
		case apart >= -rounding && apart <= rounding:
			r.failWhole("a second figure at %v %% on one curve", f.At)
		case apart > 0 && s.against(p, f), apart < 0 && s.against(f, p):
			r.failWhole("%s at %v %% and at %v %% goes against its trend", f.Property, p.At, f.At)
		}
	}
}
