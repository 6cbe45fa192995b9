// Package sharetest holds every shared record to the same promises: the one in memory, a
// bench's own record, PostgreSQL.
//
//	func TestStore(t *testing.T) {
//		sharetest.Run(t, func(t testing.TB) sharetest.Open { ... })
//	}
package sharetest

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/share"
)

// Open opens one shared record as the bench with an id, or with "" to read only.
type Open func(t testing.TB, bench string) share.Store

// Fresh makes an empty shared record.
type Fresh func(t testing.TB) Open

// Run runs all tests, each with a shared record of its own.
func Run(t *testing.T, fresh Fresh) {
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			require.NotEmpty(t, test.reason)
			ctx, cancel := context.WithTimeout(t.Context(), longest)
			defer cancel()
			test.run(&trial{TB: t, ctx: ctx, open: fresh(t)})
		})
	}
}

// longest is when a test that waits for what never comes is given up.
const longest = time.Minute

var tests = []struct {
	name   string
	reason string
	run    func(*trial)
}{
	{"empty", "the beginning is not an error", empty},
	{"comes back", "what is read is to the letter what was sent, in its order", comesBack},
	{"sent again", "a receipt may be lost on its way, and then all is sent again", sentAgain},
	{"partly known", "a batch may hold what an earlier one held", partlyKnown},
	{"twice in a batch", "the same once more in one message is no conflict", twiceInABatch},
	{"every column", "an entry that differs in one column is another entry", everyColumn},
	{"refused", "an id stands for one entry; the rest of the batch is not to blame", refused},
	{"alerts", "the id of an alert follows from its cause, so two benches may raise it", alerts},
	{"another bench", "a bench speaks for itself alone", anotherBench},
	{"all or nothing", "half a batch would be a piece without its beginning", allOrNothing},
	{"kinds to come", "an older program must not lose what a newer one wrote", kindsToCome},
	{"any row", "whatever a record holds, a shared one holds", anyRow},
	{"not to be kept", "what cannot be kept as it is, is refused and not mended", notToBeKept},
	{"only read", "a reader changes nothing", onlyRead},

	{"names", "a piece is known by its name on all benches", names},
	{"a taken name", "two pieces of one name would be taken for each other", takenName},
	{"names in any case", "Spoon and spoon are one name to whoever calls it out", namesInAnyCase},
	{"a new name", "who named it may name it anew, and all hear of it", newName},
	{"a name of another", "the first who names a piece has named it", nameOfAnother},
	{"a bench's name", "no bench can pass for another", benchName},
	{"names of any text", "a name is whatever somebody typed", namesOfAnyText},

	{"sums", "two records are compared by what they hold", sums},
	{"sums of any batches", "however it was sent, in whatever order", sumsOfAnyBatches},
	{"a piece", "where sums differ, the piece is looked at", onePiece},
	{"some pieces", "a board reads all that are worked at", somePieces},

	{"pages", "a cursor leads from page to page, whatever their size", pages},
	{"beyond the end", "a server that was put back to an earlier state is noticed", beyondTheEnd},
	{"written meanwhile", "a reader misses nothing, whoever writes at the same time", writtenMeanwhile},
	{"waiting", "news is heard", waiting},
	{"given up", "a caller that has no more time is not held", givenUp},
}

// trial is one test of one shared record.
type trial struct {
	testing.TB
	ctx  context.Context
	open Open
}

// as opens the record as a bench.
func (t *trial) as(bench string) share.Store { return t.open(t, bench) }

// send stores a batch that is not refused.
func (t *trial) send(s share.Store, b share.Batch) share.Receipt {
	t.Helper()
	receipt, err := s.Send(t.ctx, b)
	require.NoError(t, err)
	return receipt
}

// all reads everything after a cursor, a few at a time.
func (t *trial) all(s share.Store, cursor int64, limit int) share.Page {
	t.Helper()
	all := share.Page{Next: cursor, More: true}
	for all.More {
		p, err := s.After(t.ctx, all.Next, limit)
		require.NoError(t, err)
		require.LessOrEqual(t, len(p.Rows)+len(p.Labels), limit)
		require.GreaterOrEqual(t, p.Next, all.Next, "the cursor goes forward")
		require.NotEmpty(t, p.Record)
		all = share.Page{Record: p.Record, Next: p.Next, More: p.More,
			Rows: append(all.Rows, p.Rows...), Labels: append(all.Labels, p.Labels...)}
	}
	return all
}

// rows reads all rows.
func (t *trial) rows(s share.Store) []schedule.Row {
	t.Helper()
	return t.all(s, 0, 1000).Rows
}

// labels reads all labels.
func (t *trial) labels(s share.Store) []share.Label {
	t.Helper()
	return t.all(s, 0, 1000).Labels
}
