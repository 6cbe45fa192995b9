package tui

import (
	"errors"
	"slices"
	"strings"

	"dullred/alloys"
	"dullred/schedule"
)

// Memory is a Desk that is gone when the program ends: for the demo, and for
// trying things out.
type Memory struct {
	Bench, Hand schedule.ID
	HandName    string
	Pieces      []Loaded
	Hearth      []schedule.Entry // of the bench as a whole
	Invented    bool
}

var _ Desk = (*Memory)(nil)

// Book is the embedded one.
func (m *Memory) Book() *alloys.Book { return alloys.Default() }

// Who are Bench and Hand.
func (m *Memory) Who() (bench, hand schedule.ID) { return m.Bench, m.Hand }

// Demo is Invented.
func (m *Memory) Demo() bool { return m.Invented }

// Load gives everything.
func (m *Memory) Load() (Contents, error) {
	return Contents{Pieces: m.Pieces, Bench: m.Hearth, Clocks: schedule.ClockSteps(m.Hearth),
		Hands: map[schedule.ID]string{m.Hand: m.HandName}}, nil
}

// ErrTaken is returned by Start for a name that another piece has.
var ErrTaken = errors.New("there is already a piece of that name")

// Start keeps a new piece.
func (m *Memory) Start(name string, e schedule.Entry) error {
	for _, p := range m.Pieces {
		if strings.EqualFold(p.Name, name) {
			return ErrTaken
		}
	}
	m.Pieces = append(m.Pieces, Loaded{ID: e.Piece, Name: name, Entries: []schedule.Entry{e}})
	return nil
}

// Write keeps entries with their pieces.
func (m *Memory) Write(entries ...schedule.Entry) error {
	for _, e := range entries {
		if m.has(e.ID) {
			continue // a repeated message, as for the record
		}
		if e.Piece == m.Bench {
			m.Hearth = append(m.Hearth, e)
			continue
		}
		for i := range m.Pieces {
			if p := &m.Pieces[i]; p.ID == e.Piece {
				p.Entries = append(p.Entries, e)
			}
		}
	}
	return nil
}

func (m *Memory) has(id schedule.ID) bool {
	same := func(e schedule.Entry) bool { return e.ID == id }
	return slices.ContainsFunc(m.Hearth, same) ||
		slices.ContainsFunc(m.Pieces, func(p Loaded) bool { return slices.ContainsFunc(p.Entries, same) })
}

// Others is what all the other pieces teach.
func (m *Memory) Others(piece schedule.ID, _ *schedule.State) (*schedule.Observed, error) {
	out := &schedule.Observed{}
	for _, p := range m.Pieces {
		if p.ID != piece {
			s := schedule.Fold(p.Entries)
			out.Take(&s)
		}
	}
	return out, nil
}
