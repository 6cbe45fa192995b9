// Package share is what sharing a record between benches means: what a shared record
// keeps, by which sums two records are compared, and what may go wrong on the way. It
// opens no connection; a Store does, and NewMemory makes one that needs none.
//
// A shared record holds what the records of the benches hold: entries, which are only
// ever added, and labels. It knows each bench by its id, and takes from a bench only
// what that bench wrote itself. All that it took has a place in one line, and a cursor
// is a place in that line: who reads on from where it stopped misses nothing.
package share

import (
	"context"

	"dullred/schedule"
)

// Label is the name of a piece, a hand or a bench.
type Label struct {
	ID    string // UUID in lower case
	Class string // piece, hand or bench
	Text  string
}

// Batch is what is stored at once. Rows and labels are those of the bench that sends
// them: every row bears its id, and so does a label of class bench.
type Batch struct {
	Labels []Label
	Rows   []schedule.Row
}

// Receipt is what became of a batch. Rows that were there already, to the letter, count
// as stored.
type Receipt struct {
	Fresh     int      // rows that were not there
	Refused   []string // ids that stand there with other content, alerts excepted; the rest is stored
	Renamed   []Label  // labels with the text they got there, because their own was taken
	Stayed    []Label  // labels with the text they have there, which another bench gave them
	Forgotten []string // ids of labels that were erased there, and are not taken again
}

// Page is a run of what a store holds, in the order in which it was stored. A label that
// got another text stands where it got it, and no longer where it was before. Of a batch
// the labels come first, so that no row stands without the name of what it is about.
type Page struct {
	Record string // id of the shared record; another one is another record, to be read from 0
	Labels []Label
	Rows   []schedule.Row
	Next   int64 // cursor of the page after this one
	More   bool  // there is one already
}

// Store is a shared record as one bench, or somebody who only reads, has it. All of its
// methods may be called again after an error: what was stored before stays, and is not
// stored twice. Errors are of the kinds in errors.go where the cause is known, and the
// error of ctx where that has ended. A Store may be used from several goroutines.
type Store interface {
	// Send stores a batch, all of it or on an error nothing; when it returns, the batch
	// outlives the server. A batch with a row or label that CheckRow or CheckLabel
	// refuses, or that is of another bench (ErrForged), is not stored.
	Send(ctx context.Context, b Batch) (Receipt, error)
	// After gives up to limit rows and labels together, that were stored after a cursor;
	// 0 is the beginning. What is being stored while After runs is not skipped by a later
	// call with the cursor that this one gave. A cursor beyond the end is ErrRewound.
	After(ctx context.Context, cursor int64, limit int) (Page, error)
	// Sums are the sums of all pieces, by their ids. Entries about a bench count under
	// the id that stands where that of a piece does.
	Sums(ctx context.Context) (map[string]Sum, error)
	// Total is the sum of all rows. It costs little, since it is asked for after every
	// break, to find a store that is not what it was.
	Total(ctx context.Context) (Sum, error)
	// Pieces gives the rows of some pieces, in the order of the ids of the rows, and the
	// labels of the pieces. One that is not there gives none.
	Pieces(ctx context.Context, ids ...string) (Batch, error)
	// Wait returns when something was stored after a cursor, or with an error. It holds
	// up no other method.
	Wait(ctx context.Context, cursor int64) error
	// Close lets go of the connection; no other method is to be called after it.
	Close() error
}
