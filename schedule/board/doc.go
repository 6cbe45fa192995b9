// Package board is what a whole class has on its benches, nearest to splitting first.
//
// A Board takes rows and labels as a shared record gives them, in any order and any
// number of times; one entry more folds one piece more. It says whose history it lacks,
// and what stands now:
//
//	b := board.New()
//	b.Take(labels, rows)              // of the end of the line, then of all that is new
//	for _, id := range b.Wants(now) { // pieces and benches to be read from their beginning
//		b.Whole(id, labels, rows)
//	}
//	rows := b.Rows(now)
//
// # Which pieces
//
// On the board are the pieces with an entry in the last 24 hours before the newest entry,
// and of more than 200 such the 200 that were touched last; only they are folded. A piece
// that came onto the board hot, or with an alert that nobody has seen, stays until it is
// cool and the alert is seen. Finished pieces are left out.
//
// # What it cannot know
//
// The metals are the embedded ones: one of a smith's own is told as unknown. What the
// pieces of a hand teach about others stays at its bench, so the forecast here is less
// sharp and errs early. An alert is never found here: the bench raises it, and it stands
// here until it is seen, answered or taken back.
package board
