package exchange

import (
	"bufio"
	"cmp"
	"io"
	"slices"

	"dullred/schedule"
)

// Write writes an export, in the order of the ids whatever the order of what it is
// given. It checks all of it first: on a label or a row that Read would refuse it gives
// the error and has written nothing. It takes over neither slice.
func Write(w io.Writer, e Export) error {
	labels := inOrder(e.Labels, func(a, b Label) int { return cmp.Compare(a.ID, b.ID) })
	rows := inOrder(e.Rows, func(a, b schedule.Row) int { return cmp.Compare(a.ID, b.ID) })
	if err := checkAll(labels, rows); err != nil {
		return err
	}
	out := writer{w: bufio.NewWriter(w)}
	out.line(line{Format: format, Version: Version})
	for i := range labels {
		out.line(line{Label: &labels[i]})
	}
	for _, r := range rows {
		c := columns(r)
		out.line(line{Entry: &c})
	}
	out.line(line{Count: &Count{Labels: len(labels), Entries: len(rows)}})
	if out.err != nil {
		return out.err
	}
	return out.w.Flush()
}

// inOrder is what it is given in an order, and that itself where it is in order already, as
// what a record gives is: years of entries are not held twice.
func inOrder[T any](all []T, order func(a, b T) int) []T {
	if slices.IsSortedFunc(all, order) {
		return all
	}
	return slices.SortedFunc(slices.Values(all), order)
}

func checkAll(labels []Label, rows []schedule.Row) error {
	for i, l := range labels {
		if err := CheckLabel(l); err != nil {
			return err
		}
		if i > 0 && labels[i-1].ID == l.ID {
			return errOrder
		}
	}
	for i, r := range rows {
		if err := CheckRow(r); err != nil {
			return err
		}
		if i > 0 && rows[i-1].ID == r.ID {
			return errOrder
		}
	}
	return nil
}

// writer writes sealed lines until one fails.
type writer struct {
	w     *bufio.Writer
	chain chain
	err   error
}

func (w *writer) line(l line) {
	if w.err != nil {
		return
	}
	content, err := l.content()
	if err != nil {
		w.err = err
		return
	}
	_, w.err = w.w.Write(append(w.chain.seal(content), '\n'))
}
