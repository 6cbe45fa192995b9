package postgres

import (
	"fmt"
	"slices"

	"github.com/google/uuid"

	"dullred/schedule"
	"dullred/schedule/share"
)

// errStrange is of an answer that no shared record gives, by a server that is broken or
// lies. Nothing of the answer is taken.
var errStrange = fmt.Errorf("%w: the server answers what no shared record does", share.ErrNotShared)

// areIDs reports whether texts are ids in the form in which PostgreSQL gives them.
func areIDs(texts ...string) bool {
	return !slices.ContainsFunc(texts, func(s string) bool { return len(s) != 36 || uuid.Validate(s) != nil })
}

// held reports whether a table of ours holds such a row, or label of a class. Whether it
// is an entry is for who takes it.
func held(class string, r schedule.Row) bool {
	return areIDs(r.ID, r.Bench, r.Hand, r.Piece) && slices.Contains([]string{"", "piece", "hand", "bench"}, class)
}

// vet refuses an answer that does not speak of each label.
func (a *answer) vet(labels []share.Label) error {
	if a.fresh < 0 || len(a.fates) != len(labels) || len(a.theres) != len(labels) || !areIDs(a.refused...) {
		return errStrange
	}
	return nil
}
