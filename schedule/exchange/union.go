package exchange

import (
	"fmt"
	"iter"
	"slices"

	"dullred/schedule"
)

// Side is one of two records to be joined: its labels in any order, and its rows in the
// order of their ids.
type Side struct {
	Labels []Label
	Rows   iter.Seq2[schedule.Row, error]
}

// RowsOf are rows that are in memory, in the order that they have.
func RowsOf(rows []schedule.Row) iter.Seq2[schedule.Row, error] {
	return func(yield func(schedule.Row, error) bool) {
		for _, r := range rows {
			if !yield(r, nil) {
				return
			}
		}
	}
}

// Plan is what a record lacks of another, and what is worth saying about it.
type Plan struct {
	Labels []Label        // to be stored, with the names they get here
	Rows   []schedule.Row // to be stored, in the order of the ids; of Union alone
	Alerts []schedule.Row // to be stored unless the id is known by then; of Union alone

	New       int       // rows that are not here
	Known     int       // rows that are here already
	Raised    int       // of these, alerts that another bench raised too, with other content
	Renamed   []Renamed // names that another id bears here
	Stayed    []Renamed // ids that have another name here, and keep it
	Forgotten int       // hands that were forgotten here and stay so
	Twice     []Twice   // what the union has happen more than once to a piece
}

// Renamed is a label that comes in with one name and is here under another.
type Renamed struct {
	Label        // as it comes in
	Here  string // its name here
}

// Twice is a piece with more than one start or more than one end that is not void. Which
// of them is right is not decided here: all but one are to be voided, and without one
// start the piece gets no advice.
type Twice struct {
	Piece string
	Kind  schedule.Kind // KindStarted or KindFinished
	IDs   []string      // of the entries, in their order
}

// ConflictError is an id that stands for two different entries.
type ConflictError struct {
	ID    string
	Index int // of the row among those that came in
	More  int // rows after it of which the same is true
}

// Error names the id.
func (e *ConflictError) Error() string {
	more := ""
	if e.More > 0 {
		more = fmt.Sprintf(", and so are %d more", e.More)
	}
	return fmt.Sprintf("the entry %.60s is known here with other content%s", e.ID, more)
}

// Union is Survey, and gathers the rows that the record lacks.
func Union(here, incoming Side) (*Plan, error) {
	var rows, alerts []schedule.Row
	plan, err := Survey(here, incoming, func(_ int, row schedule.Row) {
		if isAlert(row) {
			alerts = append(alerts, row)
			return
		}
		rows = append(rows, row)
	})
	if err != nil {
		return nil, err
	}
	plan.Rows, plan.Alerts = rows, alerts
	return plan, nil
}

// Survey plans the joining of a record with what comes in, and holds one row of each at a
// time: each row that the record lacks is given to lacks, with its index among those that
// come in. Rows and labels that come in are checked; the first bad one is an error, as is
// an id that stands for two different entries (*ConflictError). Nothing depends on the
// order of the labels.
func Survey(here, incoming Side, lacks func(index int, row schedule.Row)) (*Plan, error) {
	j := joint{plan: &Plan{}, seen: newSeen(), lacks: lacks}
	if err := j.rows(here.Rows, incoming.Rows); err != nil {
		return nil, err
	}
	if j.conflict != nil {
		return nil, j.conflict
	}
	j.plan.Twice = j.seen.twice()
	return j.plan, j.plan.name(here.Labels, incoming.Labels, j.seen.hands)
}

// joint is a union under way.
type joint struct {
	plan     *Plan
	seen     *seen
	lacks    func(int, schedule.Row)
	index    int // of the row that comes in
	conflict *ConflictError
}

// rows walks both sides in the order of the ids, as one closes a zip.
func (j *joint) rows(here, incoming iter.Seq2[schedule.Row, error]) error {
	next, stop := iter.Pull2(here)
	defer stop()
	mine, err, more := next()
	last := ""
	for row, failed := range incoming {
		if failed != nil {
			return failed
		}
		if err := CheckRow(row); err != nil {
			return err
		}
		if row.ID <= last {
			return errOrder
		}
		last = row.ID
		for more && err == nil && mine.ID < row.ID {
			j.seen.here(mine)
			mine, err, more = next()
		}
		if err != nil {
			return err
		}
		j.row(row, mine, more && mine.ID == row.ID)
		j.index++
	}
	for ; more && err == nil; mine, err, more = next() {
		j.seen.here(mine)
	}
	return err
}

// row takes one row that comes in. The row that is here under its id is seen in its turn.
func (j *joint) row(row, mine schedule.Row, known bool) {
	switch {
	case !known:
		j.plan.New++
		j.lacks(j.index, row)
		j.seen.row(row)
	case row == mine:
		j.plan.Known++
	case isAlert(row) && row.Kind == mine.Kind && row.Piece == mine.Piece:
		j.plan.Known++
		j.plan.Raised++
	case j.conflict == nil:
		j.conflict = &ConflictError{ID: row.ID, Index: j.index}
	default:
		j.conflict.More++
	}
}

// AlertKinds are the kinds of which the id of an entry follows from its cause.
func AlertKinds() []schedule.Kind {
	return []schedule.Kind{schedule.KindRaised, schedule.KindAcknowledged}
}

// isAlert reports whether the id of a row follows from its cause.
func isAlert(r schedule.Row) bool {
	return slices.Contains(AlertKinds(), schedule.Kind(r.Kind))
}
