package schedule_test

import (
	"testing"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/split"
)

// hundred is a piece of a hundred entries in three zones: drawn out, annealed
// and proved eight times over, read after every course but the last ones.
func hundred() story {
	h := start(wrought("AG925", "bowl", "neck", "handle"))
	side := unit.Millimetre(8)
	for len(h) < 100 {
		for range 7 {
			side *= 0.985
			h = h.then(course("lengthen", bar(side, side)))
		}
		h = h.annealed()
	}
	return append(h[:97:97], entryAt(97, unread("lengthen", 1)), entryAt(98, unread("lengthen", 1)), entryAt(99, unread("lengthen", 1)))
}

func BenchmarkFold(b *testing.B) {
	h := hundred()
	b.ReportAllocs()
	for b.Loop() {
		schedule.Fold(h)
	}
}

func BenchmarkAdvise(b *testing.B) {
	h := hundred()
	s := h.state()
	b.ReportAllocs()
	for b.Loop() {
		s.Advise(h.now(), nil)
	}
}

// BenchmarkAdviseOfAStock is Advise with a hundred intervals of the stock known, which
// are learned from once.
func BenchmarkAdviseOfAStock(b *testing.B) {
	h := start(fromMelt("melt 7")).then(course(coldwork.Lengthen, bar(7.2, 7.8)))
	others := ofMelt("melt 7")
	for i := range 100 {
		others.Intervals = append(others.Intervals, ofMelt("melt 7", split.Interval{Strain: 0.5 + 0.004*unit.Strain(i), Split: i%10 == 0}).Intervals...)
	}
	s := h.state()
	b.ReportAllocs()
	for b.Loop() {
		s.Advise(h.now(), others)
	}
}
