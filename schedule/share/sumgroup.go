package share

import (
	"slices"

	"dullred/schedule"
)

// plus is the sum of the rows of both.
func (s Sum) plus(o Sum) Sum { return Sum{s.Count + o.Count, s.Digest + o.Digest} }

// minus is by how much a sum differs from another. Adding the same rows to both does not
// change it, so that what is known to differ need not be looked at again.
func (s Sum) minus(o Sum) Sum { return Sum{s.Count - o.Count, s.Digest - o.Digest} }

// isAlert reports whether the id of a row follows from its cause.
func isAlert(r schedule.Row) bool {
	return slices.Contains([]schedule.Kind{schedule.KindRaised, schedule.KindAcknowledged}, schedule.Kind(r.Kind))
}
