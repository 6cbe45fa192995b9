// Package class counts what the hands of a class did at their pieces, lesson by
// lesson, so that a teacher sees who comes to the anneal too early or too late.
//
//	shop := class.Shop{Book: book, Pieces: pieces, Drilled: drilled, Place: time.Local}
//	for _, lesson := range shop.Lessons() {
//		for _, row := range lesson.Rows {
//			// row.Hand, row.Courses, row.Over, ...
//		}
//		fmt.Println(lesson.Total().Leaning())
//	}
//
// Nothing is kept: the entries of each piece are replayed, and a lesson is what
// they come to on one day of a place. An entry counts for the hand it was logged
// under and on the day it happened. What was taken back does not count.
//
// A course is over the limit if some zone that it was struck on stood at or over
// its limit before, by the tables of today and what the piece itself had taught by
// then, and without what other pieces have taught. A heat that nobody proved does not lower the count (the rule of
// package schedule), so that hammering on after one is over the limit still. The
// courses of one entry stand or fall together, since nobody read the section
// between them.
//
// A heat is one fire, from the entry that begins it to its bend check, however
// many zones it has; it counts for the hand and on the day of its beginning,
// whoever bends it and when. It was proved soft, or springy, or it never was
// proved. One after which nothing was logged may still be, and counts as not
// proved until then.
//
// Test pieces are worked until they split, to learn where their stock does. They
// have courses and heats like any other piece, but what splits there, is over the
// limit or is heated early is on purpose and does not count.
package class
