package sharetest

import (
	"context"
	"errors"
	"fmt"
	"sync"

	"dullred/schedule"
	"dullred/schedule/record"
	"dullred/schedule/share"
)

// Embedded is a bench's own record put to the same tests. Rows and labels, what is known
// and what is a conflict, and whether a name is taken are the record's. It has no line
// and knows no owners of labels, so that these are kept in memory here.
type Embedded struct {
	r       *record.Record
	id      string
	mu      sync.Mutex
	line    []string // ids of rows and labels, "" where a label has moved on
	at      map[string]int
	owner   map[string]string // of a label, by its id
	called  map[string]share.Label
	benches map[string]bool
	grown   chan struct{}
}

// NewEmbedded puts an open record that is empty to the tests.
func NewEmbedded(r *record.Record) *Embedded {
	return &Embedded{r: r, id: NewID(), at: map[string]int{}, owner: map[string]string{}, called: map[string]share.Label{}, benches: map[string]bool{}, grown: make(chan struct{})}
}

// As is the record as the bench with an id has it; with "", as one who only reads.
func (e *Embedded) As(bench string) share.Store {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.benches[bench] = true
	return embedded{e, bench}
}

type embedded struct {
	*Embedded
	bench string
}

func (e embedded) Close() error { return nil }

func (e embedded) Send(ctx context.Context, b share.Batch) (share.Receipt, error) {
	e.mu.Lock()
	defer e.mu.Unlock()
	if err := e.vet(ctx, b); err != nil {
		return share.Receipt{}, err
	}
	known, err := e.known(b.Rows)
	if err != nil {
		return share.Receipt{}, err
	}
	var done share.Receipt
	if err := e.name(b.Labels, &done); err != nil {
		return share.Receipt{}, err
	}
	var rows, alerts []record.Row
	var fresh []string
	for _, r := range b.Rows {
		switch here, there := known[r.ID]; {
		case there && here != r && !share.SameAlert(here, r):
			if err := e.r.Append(record.Row(r)); !errors.Is(err, record.ErrConflict) {
				return done, fmt.Errorf("the record took another row under the id %s: %w", r.ID, err)
			}
			done.Refused = append(done.Refused, r.ID)
			continue
		case there && here != r:
			alerts = append(alerts, record.Row(r)) // the record passes it over
			continue
		case !there:
			known[r.ID] = r
			fresh = append(fresh, r.ID)
		}
		rows = append(rows, record.Row(r))
	}
	if err := e.r.AppendWith(nil, alerts, rows...); err != nil {
		return share.Receipt{}, err
	}
	for _, id := range fresh {
		e.place(id)
	}
	done.Fresh, done.Refused = len(fresh), once(done.Refused)
	return done, nil
}

func (e embedded) vet(ctx context.Context, b share.Batch) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if e.bench == "" {
		return share.ErrRights
	}
	for _, l := range b.Labels {
		if l.Class != "bench" && e.benches[l.ID] {
			return share.ErrForged
		}
	}
	return b.Check(e.bench)
}

// known are the rows that are stored under the ids of some.
func (e embedded) known(rows []schedule.Row) (map[string]schedule.Row, error) {
	var ids []string
	for _, r := range rows {
		ids = append(ids, r.ID)
	}
	stored, err := e.r.Rows(ids...)
	known := map[string]schedule.Row{}
	for _, r := range stored {
		known[r.ID] = schedule.Row(r)
	}
	return known, err
}

// once is each of some texts where it came first.
func once(texts []string) (out []string) {
	seen := map[string]bool{}
	for _, s := range texts {
		if !seen[s] {
			out = append(out, s)
		}
		seen[s] = true
	}
	return out
}

// place puts a row or a label at the end of the line.
func (e *Embedded) place(id string) {
	if at, placed := e.at[id]; placed {
		e.line[at] = ""
	}
	e.at[id] = len(e.line)
	e.line = append(e.line, id)
	close(e.grown)
	e.grown = make(chan struct{})
}

func (e embedded) name(labels []share.Label, done *share.Receipt) error {
	for _, l := range labels {
		here, known, err := e.labelOf(l.ID)
		if err != nil {
			return err
		}
		if known && e.owner[l.ID] != e.bench && l.Class != "bench" {
			if here != l {
				done.Stayed = append(done.Stayed, here)
			}
			continue
		}
		given, err := e.call(l)
		if err != nil {
			return err
		}
		if given != l {
			done.Renamed = append(done.Renamed, given)
		}
		if given != here {
			e.place(l.ID)
		}
		e.owner[l.ID], e.called[l.ID] = e.bench, given
	}
	return nil
}

// call stores a label with the first number that the record takes.
func (e embedded) call(l share.Label) (share.Label, error) {
	text := l.Text
	for n := 2; ; n++ {
		err := e.r.AppendNamed([]record.Label{{ID: l.ID, Class: record.Class(l.Class), Text: l.Text}})
		if !errors.Is(err, record.ErrNameTaken) {
			return l, err
		}
		l.Text = fmt.Sprintf("%s %d", text, n)
	}
}

// labelOf is the label of an id, as the record has it under the text that it took.
func (e *Embedded) labelOf(id string) (share.Label, bool, error) {
	l, known := e.called[id]
	if !known {
		return share.Label{}, false, nil
	}
	there, found, err := e.r.LabelNamed(record.Class(l.Class), l.Text)
	if err == nil && (!found || there.ID != id) {
		err = fmt.Errorf("the record has lost the label %q", l.Text)
	}
	return share.Label{ID: there.ID, Class: string(there.Class), Text: there.Text}, true, err
}
