package main

import (
	"errors"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"dullred/schedule"
	swap "dullred/schedule/exchange"
	"dullred/schedule/record"
)

func (a *app) mergeCommand() *cobra.Command {
	var dry bool
	cmd := &cobra.Command{
		Use:   "merge OTHER.db",
		Short: "add the entries of another record file to this one",
		Long: `Adds what this record lacks of another, by the ids of the entries, all at once. The
order in which records are merged does not matter, nor how often, nor what their clocks
said. The other file is not changed, and nothing is made beside it.

An entry that is here with other content is refused, and nothing is added. A piece that
is then started twice is shown. Names go as with dullred import.`,
		Example: "  dullred merge /media/stick/record.db --dry-run\n  dullred merge /media/stick/record.db",
		Args:    names("OTHER.db"),
		RunE:    func(_ *cobra.Command, args []string) error { return a.merge(args[0], dry) },
	}
	cmd.Flags().BoolVar(&dry, "dry-run", false, "only say what it would do")
	return cmd
}

func (a *app) merge(other string, dry bool) error {
	path, err := a.path()
	if err != nil {
		return err
	}
	if same(path, other) {
		return refuse("name another file", "%.200q is this record itself", other)
	}
	// Whether it can be read comes first: of what is refused no record is made.
	o, err := record.Read(other)
	if err == nil {
		err = o.Close()
	}
	if err != nil {
		return unread(other, err)
	}
	return a.join(joining{head: "merge", from: other, dry: dry, place: func(int) string { return "" }}, merging(other))
}

// unread says why another record cannot be read.
func unread(other string, err error) error {
	switch {
	case errors.Is(err, record.ErrNotRecord), errors.Is(err, record.ErrDamaged):
		return refuse("name a record, or bring an export in with dullred import", "%w", err)
	case errors.Is(err, record.ErrBusy):
		return refuse("close the other dullred, or merge a copy that dullred record backup made", "%w", err)
	case errors.Is(err, fs.ErrNotExist), explain(err).Code == exitFailed:
		return noFile(other, err)
	}
	return err
}

// merging is the path of another record that comes into this one. It is read where it
// lies, one entry at a time.
type merging string

func (m merging) plan(here swap.Side, j joining) (plan *swap.Plan, err error) {
	o, err := record.Read(string(m))
	if err != nil {
		return nil, unread(string(m), err)
	}
	defer func() { err = errors.Join(err, o.Close()) }()
	plan, _, err = m.survey(here, o, j)
	return plan, err
}

func (m merging) into(r *record.Record, j joining) (plan *swap.Plan, err error) {
	o, err := r.Beside(string(m))
	if err != nil {
		return nil, unread(string(m), err)
	}
	defer func() { err = errors.Join(err, o.Close()) }()
	here, err := sideOf(r)
	if err != nil {
		return nil, err
	}
	plan, spans, err := m.survey(here, o, j)
	if err != nil || j.dry || plan.New+len(plan.Labels) == 0 {
		return plan, err
	}
	var derived []string
	for _, kind := range swap.AlertKinds() {
		derived = append(derived, string(kind))
	}
	err = j.said(r.Take(o, recordLabels(plan.Labels), spans, derived...))
	if errors.Is(err, record.ErrBusy) && o.Sound() != nil {
		err = unread(string(m), err)
	}
	return plan, err
}

// survey plans the merge, and where in the other record the entries are that are not here.
func (m merging) survey(here swap.Side, o *record.Reading, j joining) (*swap.Plan, record.Spans, error) {
	theirs, err := sideOf(o)
	if err != nil {
		return nil, nil, unread(string(m), err)
	}
	var spans record.Spans
	last := -1
	plan, err := swap.Survey(here, theirs, func(index int, row schedule.Row) {
		spans.Add(row.ID, index == last+1)
		last = index
	})
	if moved := o.Sound(); moved != nil { // whatever was found may come of that
		return nil, nil, unread(string(m), moved)
	}
	return plan, spans, j.worded(err)
}

// same reports whether two paths lead to one file.
func same(a, b string) bool {
	one, err := os.Stat(a)
	if err != nil {
		return false
	}
	other, err := os.Stat(b)
	return err == nil && os.SameFile(one, other)
}
