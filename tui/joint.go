package tui

import (
	"strings"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/heat"
	"dullred/tui/view"
)

// soldering is the form that logs a joint.
type soldering struct {
	fields [3]string
	at     int
	err    error
}

// The fields of a joint.
const (
	jointName = iota
	jointSolder
	jointSolidus
)

var jointLabels = [...]string{"joint", "solder", "solidus"}

// joint opens the form; on an empty bench the same key offers the demo.
func (b *Bench) joint() {
	if len(b.pieces) == 0 {
		b.seeDemo()
		return
	}
	b.form = &soldering{}
}

func (s *soldering) typed(b *Bench, p Press) {
	s.err = nil
	n := len(s.fields)
	switch p.Key {
	case Tab, Down:
		s.at = (s.at + 1) % n
	case Up:
		s.at = (s.at - 1 + n) % n
	case Enter:
		if s.at < n-1 {
			s.at++
			return
		}
		s.enter(b)
	default:
		s.fields[s.at] = edit(s.fields[s.at], p)
	}
}

// enter logs the joint, or says what is wrong and keeps what was typed.
func (s *soldering) enter(b *Bench) {
	body, err := s.body()
	if err == nil {
		_, err = heat.JointOf(b.book(), body.Solder, body.Solidus, 0)
	}
	if err != nil {
		s.err = err
		return
	}
	b.form = nil
	b.logFor([]*piece{b.current()}, body)
}

func (s *soldering) body() (schedule.Jointed, error) {
	body := schedule.Jointed{Joint: strings.TrimSpace(s.fields[jointName]), Solder: strings.TrimSpace(s.fields[jointSolder])}
	if body.Joint == "" {
		body.Joint = "joint"
	}
	text := strings.TrimSpace(s.fields[jointSolidus])
	if text == "" {
		return body, nil
	}
	var err error
	body.Solidus, err = unit.ParseTemperature(text)
	return body, err
}

func (s *soldering) view(*Bench) *view.Form {
	f := &view.Form{Title: "A SOLDERED JOINT", At: s.at,
		Hint: "No heat after it may reach its solidus. The flow point on the packet is not the solidus. Enter goes on, Esc leaves."}
	empty := [...]string{"where: handle, rim", "extra-easy, BAg-7, or the maker's name", "°C from the maker's sheet; empty takes the table's"}
	for i, label := range jointLabels {
		f.Fields = append(f.Fields, view.FormField{Label: label, Text: s.fields[i], Empty: empty[i]})
	}
	if s.err != nil {
		f.Error = s.err.Error()
	}
	return f
}
