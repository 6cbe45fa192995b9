package tui

import (
	"errors"
	"fmt"
	"strings"
	"unicode"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/tui/view"
)

// form is something that is being typed.
type form interface {
	// typed takes one key. It closes the form by setting Bench.form to nil.
	typed(b *Bench, p Press)
	view(b *Bench) *view.Form
}

// longest is the most that a field takes.
const longest = 60

// edit is a field after one more key.
func edit(text string, p Press) string {
	r := []rune(text)
	switch {
	case p.Key == Backspace && len(r) > 0:
		return string(r[:len(r)-1])
	case p.Rune != 0 && unicode.IsPrint(p.Rune) && len(r) < longest:
		return text + string(p.Rune)
	}
	return text
}

// typed gives a key to the form. Ctrl-C closes it, so that a second one quits.
func (b *Bench) typed(p Press) {
	if p.Key == Escape || p.Key == Cancel {
		b.form = nil
		b.say("nothing was logged")
		return
	}
	b.form.typed(b, p)
}

// reading is the form that a digit opens: a calliper that types like a keyboard,
// or fingers, give figures and Enter.
type reading struct {
	text string
	err  error
	sure string // the text whose doubt was told
}

// measure opens the form empty.
func (b *Bench) measure() { b.measureFrom("") }

func (b *Bench) measureFrom(text string) {
	if b.current() == nil {
		b.refuse(errNoPiece)
		return
	}
	b.form = &reading{text: text}
}

func (r *reading) typed(b *Bench, p Press) {
	r.err = nil
	if p.Key == Tab {
		p = Press{Rune: 'x'}
	}
	if p.Key != Enter {
		r.text = edit(r.text, p)
		return
	}
	if strings.TrimSpace(r.text) == "" {
		b.form = nil
		return
	}
	section := b.section(b.current())
	taken, err := readingOf(section, r.text)
	if err != nil {
		r.err = err
		return
	}
	if doubtful(section, taken) && r.sure != r.text {
		r.sure, r.err = r.text, fmt.Errorf("%v is more than twice or less than half of %v; Enter again if it is so", taken, section)
		return
	}
	b.form = nil
	b.logFor([]*piece{b.current()}, schedule.Measured{Reading: taken})
	if b.toast.bad {
		b.form = r // what was typed is kept, to be mended
		r.err = errors.New(b.toast.text)
	}
}

// doubtful reports whether a side changed by more than a factor of two, which a
// point that was not typed does sooner than a hammer.
func doubtful(was coldwork.Section, r schedule.Reading) bool {
	now, err := r.On(was)
	if err != nil || !was.Known() {
		return false
	}
	far := func(a, b unit.Millimetre) bool { return a > 0 && b > 0 && (a > 2*b || b > 2*a) }
	return far(was.Thick, now.Thick) || far(was.Width, now.Width) || far(was.Diameter, now.Diameter)
}

// section is that of the zone on the screen.
func (b *Bench) section(p *piece) coldwork.Section {
	name := b.zone
	if on := b.zonesFor(p, schedule.KindMeasured); name == "" && len(on) > 0 {
		name = on[0]
	}
	if name == "" {
		name = b.advice(p).Zone
	}
	z, _ := p.state().Zone(name)
	return z.Tally.Section()
}

func (r *reading) view(b *Bench) *view.Form {
	section := b.section(b.current())
	f := &view.Form{Title: b.titleOf("MEASURE", b.current()), Hint: readingHint(section),
		Fields: []view.FormField{{Label: "was " + section.String(), Text: r.text, Empty: "..."}}}
	if r.err != nil {
		f.Error = r.err.Error()
	}
	return f
}

// readingHint says what a single figure stands for.
func readingHint(s coldwork.Section) string {
	rest := " Enter logs it, Esc leaves it."
	switch {
	case s.Shape == unit.Sheet && s.Diameter > 0:
		return "One figure is the ring diameter; \"1.1 sheet\" is the thickness." + rest
	case s.Shape == unit.Rectangular || s.Shape == unit.Square:
		return "One figure is the first side, the other is kept; x7.2 is the second, 6.4x7.2 both." + rest
	}
	return "One figure is the " + singleOf(s) + "." + rest
}

func singleOf(s coldwork.Section) string {
	switch s.Shape {
	case unit.Round, unit.Tube:
		return "diameter"
	}
	return "thickness"
}

// readingOf reads what was typed on a section. A single figure is the side that
// a calliper takes first; what was not measured is kept.
func readingOf(s coldwork.Section, text string) (schedule.Reading, error) {
	text = strings.ToLower(strings.TrimSpace(text))
	first, second, both := strings.Cut(text, "x")
	switch {
	case both && strings.TrimSpace(first) == "":
		return sideOf(s, second, true)
	case both && strings.TrimSpace(second) == "":
		return sideOf(s, first, false)
	case !both && !strings.ContainsFunc(text, shapeLetter):
		return sideOf(s, text, false)
	}
	size, err := unit.ParseSize(text, s.Shape)
	return schedule.Reading{Size: size}, err
}

// shapeLetter reports whether a rune belongs to a word that names a shape: the units
// of length have no more letters than m, c, i, n and the inch sign.
func shapeLetter(r rune) bool { return unicode.IsLetter(r) && !strings.ContainsRune("mcinµμ", r) }

// sideOf is one figure on a section.
func sideOf(s coldwork.Section, text string, second bool) (schedule.Reading, error) {
	l, err := unit.ParseLength(text)
	if err != nil {
		return schedule.Reading{}, err
	}
	size := unit.Size(s)
	switch {
	case s.Shape == unit.Sheet && s.Diameter > 0 && !second:
		return schedule.Reading{Ring: l}, nil
	case s.Shape == unit.Square:
		size.Shape = unit.Rectangular
	case !s.Known():
		size = unit.Size{Shape: unit.Round, Diameter: l}
	}
	set(&size, l, second)
	if size.Shape == unit.Sheet {
		size.Diameter = 0
	}
	return schedule.Reading{Size: size}, size.Check()
}

func set(size *unit.Size, l unit.Millimetre, second bool) {
	switch {
	case second && size.Width > 0:
		size.Width = l
	case size.Shape == unit.Round || size.Shape == unit.Tube:
		size.Diameter = l
	default:
		size.Thick = l
	}
}
