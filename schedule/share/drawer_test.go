package share_test

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"

	"dullred/schedule"
	"dullred/schedule/share"
)

// drawer is a record in memory, as a carrier sees it and as its bench writes it.
type drawer struct {
	mu     sync.Mutex
	rows   map[string]schedule.Row
	labels []share.Label
	news   bool // since Changed was last asked
	notify func()
	cut    error // given once, after an Append that stored all the same
	most   int   // rows that were ever appended at once
}

func newDrawer() *drawer { return &drawer{rows: map[string]schedule.Row{}} }

var _ share.Local = (*drawer)(nil)

func (d *drawer) Watch(notify func()) (func() error, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.notify = notify
	return func() error { return nil }, nil
}

func (d *drawer) Changed() (bool, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	changed := d.news
	d.news = false
	return changed, nil
}

func (d *drawer) Count() (int, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	return len(d.rows), nil
}

func (d *drawer) IDs(after string, most int) (ids []string, err error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	for id := range d.rows {
		if id > after {
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	return ids[:min(most, len(ids))], nil
}

func (d *drawer) Since(at int64, most int) (ids []string, err error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	for id, r := range d.rows {
		if r.At >= at {
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	return ids[:min(most, len(ids))], nil
}

func (d *drawer) Rows(ids ...string) (rows []schedule.Row, err error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	for _, id := range ids {
		if r, known := d.rows[id]; known {
			rows = append(rows, r)
		}
	}
	return rows, nil
}

func (d *drawer) Piece(id string) ([]schedule.Row, error) {
	return slices.DeleteFunc(d.all(), func(r schedule.Row) bool { return r.Piece != id }), nil
}

func (d *drawer) Labels() ([]share.Label, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	return slices.Clone(d.labels), nil
}

func (d *drawer) Append(labels []share.Label, alerts, rows []schedule.Row) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.most = max(d.most, len(alerts)+len(rows))
	for _, r := range rows {
		if here, known := d.rows[r.ID]; known && here != r {
			return errors.New("a row under a known id")
		}
	}
	for _, r := range slices.Concat(alerts, rows) {
		if _, known := d.rows[r.ID]; !known {
			d.rows[r.ID] = r
		}
	}
	for _, l := range labels {
		d.label(l)
	}
	err := d.cut
	d.cut = nil
	return err
}

// cutNext has the next Append write, and fail all the same.
func (d *drawer) cutNext(err error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.cut = err
}

func (d *drawer) label(l share.Label) {
	d.labels = slices.DeleteFunc(d.labels, func(old share.Label) bool { return old.ID == l.ID })
	for _, old := range d.labels {
		if old.Class == l.Class && strings.EqualFold(old.Text, l.Text) {
			panic(fmt.Sprintf("two labels %q", l.Text))
		}
	}
	d.labels = append(d.labels, l)
}

// log is what the bench writes.
func (d *drawer) log(labels []share.Label, rows ...schedule.Row) {
	d.mu.Lock()
	for _, l := range labels {
		d.label(l)
	}
	for _, r := range rows {
		if _, known := d.rows[r.ID]; !known {
			d.rows[r.ID] = r
		}
	}
	d.news = true
	notify := d.notify
	d.mu.Unlock()
	if notify != nil {
		notify()
	}
}

// all are the rows in the order of their ids.
func (d *drawer) all() (rows []schedule.Row) {
	d.mu.Lock()
	defer d.mu.Unlock()
	for _, r := range d.rows {
		rows = append(rows, r)
	}
	slices.SortFunc(rows, byID)
	return rows
}

func byID(a, b schedule.Row) int { return cmp.Compare(a.ID, b.ID) }

// copied is the drawer as it stands, for a backup.
func (d *drawer) copied() *drawer {
	c := newDrawer()
	for _, r := range d.all() {
		c.rows[r.ID] = r
	}
	c.labels, _ = d.Labels()
	return c
}
