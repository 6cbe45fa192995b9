// Package sheet is the making record of a piece: what it is of, every course and
// the size after it, every heat and how it ended, cracks, joints, signs, notes,
// what was advised and who was at it when.
//
//	s := sheet.Build(sheet.Source{Name: "spoon", Book: book, Entries: entries, Hands: labels, Place: time.Local})
//	fmt.Print(s.Text())
//
// Build replays the entries once. Text, CSV, JSON and HTML only format what it
// found, so that all four say the same. What was taken back does not stand in a
// sheet, and what nobody measured is absent, never 0.
//
// The share of the limit that is spent is by the tables of today and by what the
// piece itself had taught by then, as package class reckons it; what was shown at
// the bench at the time stands under the advice, as it was kept.
//
// Names and notes are data. Build takes out of them whatever does not print
// (control characters, and format characters such as those that turn the direction
// of a text), and each format makes the rest harmless in its own way.
package sheet
