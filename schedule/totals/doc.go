// Package totals sums a record by month or year: pieces, courses, heats, gas and metal.
//
//	b := totals.New(totals.Terms{Place: place, Dead: dead, Steps: steps})
//	for row := range rows { // of the kinds that totals.Kinds gives, in any order of pieces
//		b.Add(row)
//	}
//	for _, sum := range b.Sums() { ... }
//
// Rows come in the order of their ids, which is how they lie in a record; of each that
// is about work or a heat 16 bytes are kept until the sums are asked for, because an
// entry that was typed late may stand anywhere.
//
// What is counted where:
//
//   - A heat counts in the month in which it began, for the hand that began it. One heat
//     of several zones is one; fires are told apart as the making record of a piece does
//     it. Its flame is from begun to out, or to the water, or to the hammer, less the
//     jumps of the bench's clock between. One without either end has no minutes.
//   - Gas is how long a torch burned, where torch lit and torch out were logged at a bench
//     that day; on other days it is the flame of the heats. A torch that was lit again
//     counts from then. What burned counts for the day on which it was lit.
//   - Metal in is the first weight of a piece, in the month it was weighed. Metal out is
//     the last weight of a finished piece, if it was weighed twice, in the month it was
//     finished; so are its scrap and what was lost, which is in less out less scrap.
//
// An entry that was taken back counts nowhere.
package totals
