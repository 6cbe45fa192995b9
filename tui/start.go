package tui

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/tui/view"
)

// starting is the form that begins a piece.
type starting struct {
	fields [4]string
	at     int
	choice int // of the completions
	err    error
}

// The fields of a start.
const (
	startName = iota
	startMetal
	startSize
	startCast
)

var startLabels = [...]string{"name", "metal", "size", "as cast?"}

// usualCalliper is the error taken for a reading: a vernier calliper read with
// gloves on (a judgement).
const usualCalliper = unit.Millimetre(0.1)

// begin opens the form, with what it was for the last piece filled in where that
// is likely to hold again.
func (b *Bench) begin() {
	b.form = &starting{at: startMetal, fields: [4]string{startName: b.freeName()}}
}

// freeName is a name that no piece has.
func (b *Bench) freeName() string {
	for n := len(b.pieces) + 1; ; n++ {
		name := fmt.Sprintf("piece %d", n)
		if !slices.ContainsFunc(b.pieces, func(p *piece) bool { return strings.EqualFold(p.name, name) }) {
			return name
		}
	}
}

func (s *starting) typed(b *Bench, p Press) {
	s.err = nil
	switch p.Key {
	case Tab:
		s.complete(b)
		s.move((s.at + 1) % len(s.fields))
	case Up:
		s.step(b, -1)
	case Down:
		s.step(b, +1)
	case Enter:
		s.enter(b)
	default:
		s.fields[s.at], s.choice = edit(s.fields[s.at], p), 0
	}
}

func (s *starting) move(field int) { s.at, s.choice = field, 0 }

// step goes through the metals, or from field to field.
func (s *starting) step(b *Bench, by int) {
	if n := len(s.metals(b)); s.at == startMetal && n > 0 {
		s.choice = (s.choice + by + n) % n
		return
	}
	s.move((s.at + by + len(s.fields)) % len(s.fields))
}

// enter takes the field, and on the last one begins the piece.
func (s *starting) enter(b *Bench) {
	s.complete(b)
	if s.err = s.fieldError(b); s.err != nil {
		return
	}
	if s.at < startCast {
		s.move(s.at + 1)
		return
	}
	body, err := s.body(b)
	if err == nil {
		err = b.start(strings.TrimSpace(s.fields[startName]), body)
	}
	if err != nil {
		s.err = err
		return
	}
	b.form = nil
}

// fieldError is what is wrong with the field that is left, before the next is typed.
func (s *starting) fieldError(b *Bench) error {
	switch s.at {
	case startMetal:
		if _, err := b.book().Find(s.fields[startMetal]); err != nil {
			return errNoMetal
		}
	case startSize:
		_, err := unit.ParseSize(s.fields[startSize], unit.Unshaped)
		return err
	}
	return nil
}

// complete puts the metal that is chosen into its field.
func (s *starting) complete(b *Bench) {
	if metals := s.metals(b); s.at == startMetal && len(metals) > 0 {
		s.fields[startMetal] = metals[s.choice%len(metals)].Name
	}
}

// metals are those that the field may mean: the one that it names, or those with
// a name that begins so, then those that hold it anywhere.
func (s *starting) metals(b *Bench) []alloys.Alloy {
	text := strings.ToLower(strings.TrimSpace(s.fields[startMetal]))
	var begin, hold []alloys.Alloy
	for _, a := range b.book().All() {
		names := append([]string{a.Name}, a.Names...)
		switch {
		case slices.ContainsFunc(names, func(n string) bool { return strings.HasPrefix(strings.ToLower(n), text) }):
			begin = append(begin, a)
		case slices.ContainsFunc(names, func(n string) bool { return strings.Contains(strings.ToLower(n), text) }):
			hold = append(hold, a)
		}
	}
	slices.SortStableFunc(begin, func(x, y alloys.Alloy) int { return exact(y, text) - exact(x, text) })
	return append(begin, hold...)
}

// exact is 1 for a metal of exactly that name.
func exact(a alloys.Alloy, text string) int {
	for _, n := range append([]string{a.Name}, a.Names...) {
		if strings.EqualFold(n, text) {
			return 1
		}
	}
	return 0
}

var (
	errNoMetal = errors.New("no metal is named so; arrow down shows them all when the field is empty")
	errYesNo   = errors.New("as cast: y for yes, n for no")
)

func (s *starting) body(b *Bench) (schedule.Started, error) {
	body := schedule.Started{Calliper: usualCalliper}
	alloy, err := b.book().Find(s.fields[startMetal])
	if err != nil {
		s.at = startMetal
		return body, errNoMetal
	}
	body.Alloy = string(alloy.ID)
	if body.Reading.Size, err = unit.ParseSize(s.fields[startSize], unit.Unshaped); err != nil {
		s.at = startSize
		return body, err
	}
	switch strings.ToLower(strings.TrimSpace(s.fields[startCast])) {
	case "", "y", "yes":
		body.Cast = true
	case "n", "no":
	default:
		return body, errYesNo
	}
	return body, nil
}

// start begins a piece on the bench and shows it.
func (b *Bench) start(name string, body schedule.Started) error {
	if err := schedule.CheckName(name); err != nil {
		return fmt.Errorf("the name: %w", err)
	}
	e := b.entry(schedule.NewID(), body)
	if err := schedule.AcceptIn(b.book(), nil, e, b.now()); err != nil {
		return err
	}
	if err := b.desk.Start(name, e); err != nil {
		return err
	}
	p := newPiece(b.book(), Loaded{ID: e.Piece, Name: name, Entries: []schedule.Entry{e}}, b.clocks)
	b.pieces = slices.Insert(b.pieces, 0, p)
	b.choose(p)
	b.turn(view.Distance)
	b.say("begun: " + name + ", " + p.state().Alloy.Name + " " + coldwork.Section(body.Reading.Size).String())
	return nil
}

func (s *starting) view(b *Bench) *view.Form {
	f := &view.Form{Title: "BEGIN A PIECE", At: s.at, Hint: s.hint()}
	empty := [...]string{"", "type a name or a number: sterling, copper, 925", "8x8, 3 round, 1.2 sheet", "y"}
	for i, label := range startLabels {
		f.Fields = append(f.Fields, view.FormField{Label: label, Text: s.fields[i], Empty: empty[i]})
	}
	if s.at == startMetal {
		metals := s.metals(b)
		for i := range metals {
			f.Choice = append(f.Choice, metals[(s.choice+i)%len(metals)].Name)
		}
	}
	if s.err != nil {
		f.Error = s.err.Error()
	}
	return f
}

func (s *starting) hint() string {
	switch s.at {
	case startSize:
		return "The section in mm: 8x8, 8 x 6.5, 3 round, 1.2 sheet, tube 12x1. Enter goes on, Esc leaves."
	case startCast:
		return "A casting has a cautious first limit until its first proved heat. Enter begins the piece."
	case startMetal:
		return "Enter takes the first metal of the list, arrow down the next."
	}
	return "Enter goes on, Esc leaves."
}
