package main

import (
	"errors"
	"io/fs"
	"iter"
	"os"

	"dullred/schedule"
	swap "dullred/schedule/exchange"
	"dullred/schedule/record"
)

// joining is how something is to come into the record.
type joining struct {
	head  string // the command
	from  string // the file, as it was named
	dry   bool
	place func(index int) string // of a row in the file; "" where rows have none
}

// joined is what is to come in.
type joined interface {
	// plan says what a record would lack of it.
	plan(here swap.Side, j joining) (*swap.Plan, error)
	// into adds that to a record, in one transaction, unless the joining is dry.
	into(r *record.Record, j joining) (*swap.Plan, error)
}

// join adds what the record lacks, and says what that was.
func (a *app) join(j joining, in joined) error {
	path, err := a.path()
	if err != nil {
		return err
	}
	if _, err := os.Stat(path); j.dry && errors.Is(err, fs.ErrNotExist) {
		plan, err := in.plan(swap.Side{Rows: swap.RowsOf(nil)}, j)
		if err != nil {
			return err
		}
		return a.answerJoined(j, plan)
	}
	r, err := openRecord(path)
	if err != nil {
		return err
	}
	plan, err := in.into(r, j)
	if err := errors.Join(err, r.Close()); err != nil {
		return err
	}
	return a.answerJoined(j, plan)
}

// worded is what a union refuses, in words.
func (j joining) worded(err error) error {
	if c, ok := errors.AsType[*swap.ConflictError](err); ok {
		return refuse("one of the two was changed by hand: compare them with dullred log --json on both records, and go back to a backup of the one that is wrong",
			"%.200q: %s%w", j.from, j.place(c.Index), err)
	}
	if err != nil && explain(err).Code == exitFailed {
		return refuse("dullred record check names what is damaged", "%.200q: %w", j.from, err)
	}
	return err
}

// said words what the record says when it stores.
func (j joining) said(err error) error {
	if errors.Is(err, record.ErrNameTaken) {
		return refuse("another dullred gave that name just now: try again", "%w", err)
	}
	return err
}

// anyRecord has entries and labels: a record of one's own or another.
type anyRecord interface {
	labelled
	Stored() iter.Seq2[record.Row, error]
}

// sideOf is a record as a union takes it: its labels, and its rows as they are asked for.
func sideOf(r anyRecord) (swap.Side, error) {
	labels, err := labelsOf(r)
	return swap.Side{Labels: labels, Rows: storedRows(r)}, err
}

func storedRows(r anyRecord) iter.Seq2[schedule.Row, error] {
	return func(yield func(schedule.Row, error) bool) {
		for row, err := range r.Stored() {
			if !yield(schedule.Row(row), err) {
				return
			}
		}
	}
}

func recordRows(rows []schedule.Row) []record.Row {
	out := make([]record.Row, len(rows))
	for i, r := range rows {
		out[i] = record.Row(r)
	}
	return out
}

func recordLabels(labels []swap.Label) (all []record.Label) {
	for _, l := range labels {
		all = append(all, record.Label{ID: l.ID, Class: record.Class(l.Class), Text: l.Text})
	}
	return all
}
