package unit

import (
	"slices"
	"strings"
)

// Style is how figures are written for a smith: with a decimal point or comma,
// in which units, and dates in which order. The zero Style is how every house
// prints: decimal point, mm, °C, g and ISO dates. A Style may be copied.
//
// It is applied once, where text leaves the program, see Text. What machines
// read (JSON, CSV) takes none.
type Style struct {
	Comma      bool // 0,17 for 0.17
	Inches     bool // in, in² and in³ for mm, cm and µm and their powers
	Fahrenheit bool // °F for °C
	Weight     Weight
	Dates      DateOrder

	kept *kept // names that people typed; nil for none
}

// Weight is the unit of masses.
type Weight uint8

// The units of masses. A density stays in g/cm³ with each of them.
const (
	Grams Weight = iota
	TroyOunces
	Pennyweights
)

// DateOrder is how a calendar date is written.
type DateOrder uint8

// The orders: 2026-03-31, 31.03.2026, 31/03/2026 and 03/31/2026.
const (
	ISODates DateOrder = iota
	DayDots
	DaySlashes
	MonthSlashes
)

// Metric is the style without its units: decimal sign and dates alone. It is for
// a sum that is worked in mm and °C with the figures bare, such as ln(7.2/8).
func (s Style) Metric() Style {
	return Style{Comma: s.Comma, Dates: s.Dates, kept: s.kept}
}

// Plain reports whether Text returns every text as it is.
func (s Style) Plain() bool {
	s.kept = nil
	return s == Style{}
}

// Text writes the figures of a text in the style; the zero Style returns it as it
// is, and allocates nothing.
//
// A figure is one of our prose: a number, a size such as 7.3x7.4, or a range such
// as 593 to 649, with a blank and its unit behind it. It is turned as a whole, and
// all its numbers get the same decimals: those of its finest number, and as many
// more or fewer as make the last digit of the new unit no coarser than the last
// digit of the old, and not ten times finer than that needs. 0.1 mm is 0.004 in,
// 8 mm is 0.31 in, 74.9 g is 2.408 ozt. A temperature gets 32 added, a difference
// (±5 °C, within 10 °C, 12 °C to spare) does not. A bare size (STOP AT 7.5x7.5, 3.9
// round) is in mm and gets its unit when it is turned. A unit over another, such
// as g/cm³, stays: tables of densities are in it everywhere.
//
// These stay as they stand, since they are typed or quoted: what is in double
// quotes, what follows "dullred " up to the end of the sentence, a flag and its
// value, a figure stuck to its unit (12.5mm), the names of Keeping, clock times,
// words with letters and digits in one, numbers with two points, paths, addresses, and
// numbers of a standard, law or page. Dates are turned where they stand alone;
// 2006-01-02 shows how to type one and stays.
//
// Where blanks make columns behind a figure, they make up for its new width.
func (s Style) Text(text string) string {
	if s.Plain() || !strings.ContainsAny(text, "0123456789") {
		return text
	}
	r := restyle{style: s, text: text}
	return r.all()
}

// kept are names, by their first byte.
type kept [256][]string

// Keeping is the style that leaves these names as they were typed, also where a
// name is broken into lines at a blank. A name with no digit in it needs no keeping;
// one of digits and an x alone cannot be told from a figure, and is not kept.
func (s Style) Keeping(names ...string) Style {
	var all kept
	if s.kept != nil {
		all = *s.kept
	}
	found := s.kept != nil
	for _, name := range names {
		words := strings.Fields(name)
		if len(words) == 0 || !strings.ContainsAny(name, "0123456789") || strings.Trim(name, "0123456789.,:x/- \t\n") == "" {
			continue
		}
		if name = strings.Join(words, " "); slices.Contains(all[name[0]], name) {
			continue
		}
		all[name[0]] = append(all[name[0]][:len(all[name[0]]):len(all[name[0]])], name)
		found = true
	}
	if found && !s.Plain() {
		s.kept = &all
	}
	return s
}
