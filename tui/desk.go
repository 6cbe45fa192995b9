package tui

import (
	"dullred/alloys"
	"dullred/schedule"
)

// Desk is where the pieces of a bench and their entries are kept.
type Desk interface {
	// Book has the metals that pieces are of.
	Book() *alloys.Book

	// Who are the bench and the hand that entries are written by.
	Who() (bench, hand schedule.ID)

	// Load gives what is on the bench.
	Load() (Contents, error)

	// Start writes the first entry of a piece together with its name.
	Start(name string, e schedule.Entry) error

	// Write writes entries: all of them, durably, when it returns nil, and none
	// otherwise.
	Write(entries ...schedule.Entry) error

	// Others are the measured courses of the hands that work a piece, on other
	// pieces: they sharpen its forecast.
	Others(piece schedule.ID, s *schedule.State) (*schedule.Observed, error)

	// Demo reports whether all of it is invented.
	Demo() bool
}

// Contents is what is on a bench.
type Contents struct {
	Pieces []Loaded
	Hands  map[schedule.ID]string // names of hands
	Others map[schedule.ID]string // names of other benches
	Bench  []schedule.Entry       // of this bench as a whole
	Clocks []schedule.Entry       // the clock steps of every bench
}

// Loaded is a piece with its entries, in any order.
type Loaded struct {
	ID      schedule.ID
	Name    string
	Entries []schedule.Entry
}
