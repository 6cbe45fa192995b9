// Package years invents what workshops leave behind in years of use, for tests and
// benchmarks that ask what the length of a record costs:
//
//	for piece := range years.School().Pieces() { ... }
//
// A piece is begun, worked in forty courses that are read, each with the advice that was
// shown, annealed and proved three times, when its alert was seen, spoken of in notes,
// weighed and finished. Each bench makes one piece after the other in evenings, and the
// benches work side by side. All of it follows from a seed, and nothing was measured: the
// sizes, times and words are made up to be plausible.
package years

import (
	"fmt"
	"iter"
	"math/rand/v2"
	"time"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
)

// Workshop is what is invented.
type Workshop struct {
	Benches int // each with a hand of its own
	Each    int // pieces that a bench makes in a year
	Count   int // pieces of all benches
	Seed    uint64
}

// Shop is one bench for ten years, with two hundred pieces a year.
func Shop() Workshop { return Workshop{Benches: 1, Each: 200, Count: 2000, Seed: 1} }

// School is thirty benches until they have made a million entries.
func School() Workshop { return SchoolOf(1_000_000) }

// SchoolOf is the first so many entries of the school, to the next whole piece.
func SchoolOf(entries int) Workshop {
	return Workshop{Benches: 30, Each: 40, Count: (entries + pieceEntries - 1) / pieceEntries, Seed: 1}
}

// Entries is how many entries the workshop has made.
func (w Workshop) Entries() int { return w.Count * pieceEntries }

// Piece is one piece of a workshop with its entries, oldest first.
type Piece struct {
	ID      schedule.ID
	Name    string
	Entries []schedule.Entry
}

// Begun is when every workshop opens.
var Begun = time.Date(2016, time.January, 4, 18, 0, 0, 0, time.UTC)

// The parts of a year and of a piece.
const (
	year    = 365 * 24 * time.Hour
	courses = 40
	between = 10 // courses from one anneal to the next, which spend the limit of sterling

	pieceEntries = 2 + 2*courses + 9*(courses/between-1) + 4
)

// Pieces are the pieces in the order in which they were begun.
func (w Workshop) Pieces() iter.Seq[Piece] {
	return func(yield func(Piece) bool) {
		for n := range w.Count {
			if !yield(w.piece(n)) {
				return
			}
		}
	}
}

// Bench and Hand are those at the nth place of the workshop.
func (w Workshop) Bench(n int) schedule.ID { return w.fixed(0, n%w.Benches) }
func (w Workshop) Hand(n int) schedule.ID  { return w.fixed(1, n%w.Benches) }

// fixed is an id of no time, of a class of things.
func (w Workshop) fixed(class, n int) schedule.ID {
	return schedule.ID(fmt.Sprintf("00000000-0000-7000-8000-%04d%08d", class, n))
}

// piece is the nth piece. Its chances are its own, so that it is the same in a shorter
// and in a longer past.
func (w Workshop) piece(n int) Piece {
	h := history{Rand: rand.New(rand.NewPCG(w.Seed, uint64(n))), bench: w.Bench(n), hand: w.Hand(n)}
	round := n / w.Benches
	h.at = Begun.Add(time.Duration(round)*(year/time.Duration(w.Each)) + time.Duration(n%w.Benches)*time.Second)
	h.piece = h.id()
	h.make(n)
	return Piece{ID: h.piece, Name: fmt.Sprint("spoon ", n), Entries: h.entries}
}

// history is a piece in the making.
type history struct {
	*rand.Rand
	at                 time.Time
	bench, hand, piece schedule.ID
	entries            []schedule.Entry
}

// id is a UUIDv7 (RFC 9562) of the moment with the chances of the piece.
func (h *history) id() schedule.ID {
	ms := h.at.UnixMilli()
	return schedule.ID(fmt.Sprintf("%08x-%04x-7%03x-8%03x-%012x", ms>>16, ms&0xffff, h.IntN(1<<12), h.IntN(1<<12), h.Int64N(1<<48)))
}

// log is what happens next, after a while of between one and two times as given.
func (h *history) log(after time.Duration, b schedule.Body) schedule.ID {
	h.at = h.at.Add(after + time.Duration(h.Int64N(int64(after)+1))).Truncate(time.Microsecond)
	e := schedule.Entry{ID: h.id(), At: h.at, Written: h.at, Bench: h.bench, Hand: h.hand, Piece: h.piece, Version: 1, Body: b}
	h.entries = append(h.entries, e)
	return e.ID
}

// make is the life of the nth piece.
func (h *history) make(n int) {
	side := unit.Millimetre(8)
	square := func() schedule.Reading {
		return schedule.Reading{Size: unit.Size{Shape: unit.Square, Thick: tenth(side), Width: tenth(side)}}
	}
	h.log(time.Minute, schedule.Started{Alloy: "AG925", Reading: square(), Length: 90, Cast: true, Calliper: 0.1, Mark: fmt.Sprint(n % 40)})
	h.log(time.Minute, schedule.Weighed{Mass: unit.Gram(50 + h.IntN(20))})
	for i := 1; i <= courses; i++ {
		side *= 0.98
		pass := h.log(40*time.Second, schedule.Pass{Process: coldwork.Lengthen, Count: 1, Reading: square()})
		h.log(time.Microsecond, shown(pass, i))
		if i%between == 0 && i < courses {
			h.anneal(pass)
		}
		if i == courses/2 {
			h.log(time.Minute, schedule.Note{Text: h.words(n)})
		}
	}
	h.log(time.Minute, schedule.Note{Text: h.words(n)})
	h.log(time.Minute, schedule.Weighed{Mass: unit.Gram(48 + h.IntN(10))})
	h.log(time.Minute, schedule.Finished{})
}

// tenth is a size as a calliper of a tenth reads it.
func tenth(x unit.Millimetre) unit.Millimetre { return unit.Millimetre(int(x*10+0.5)) / 10 }

// shown is the advice after the ith course, with about the figures of that bar.
func shown(pass schedule.ID, i int) schedule.Shown {
	worked := 0.04 * float64((i-1)%between+1)
	s := schedule.Shown{After: pass, Verdict: schedule.VerdictCarryOn, Zone: "whole", Worked: worked, Spent: worked / 0.4, Limit: 0.4, Table: "1"}
	if i%between == 0 {
		s.Verdict = schedule.VerdictAnnealNow
	}
	return s
}

// anneal is an alert that is seen, and the heat that it calls for.
func (h *history) anneal(pass schedule.ID) {
	alert := h.log(time.Microsecond, schedule.Raised{Cause: "anneal " + string(pass), Verdict: schedule.VerdictAnnealNow})
	h.log(5*time.Second, schedule.Acknowledged{Alert: alert})
	for _, b := range []schedule.Body{schedule.Begun{}, schedule.Reached{}, schedule.Out{}, schedule.Quenched{}, schedule.Pickled{}, schedule.Rinsed{}, schedule.Soft{}} {
		h.log(time.Minute, b)
	}
}

// sayings are what notes are made of.
var sayings = []string{"scale", "came", "off", "in", "flakes", "the", "edge", "held", "under", "bent", "rim", "sounds", "dull", "rings", "bright"}

// words is a note of some words; that of every thousandth piece tells of a slip, to be
// looked for.
func (h *history) words(n int) string {
	text := fmt.Sprint(n)
	for range 4 + h.IntN(12) {
		text += " " + sayings[h.IntN(len(sayings))]
	}
	if n%1000 == 7 {
		text += " slipped in the vice"
	}
	return text
}
