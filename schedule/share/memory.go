package share

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"dullred/schedule"
)

// Memory is a shared record that is kept in memory, for tests and simulations.
type Memory struct {
	id       string
	mu       sync.Mutex
	line     []place
	rows     map[string]schedule.Row
	labels   map[string]*placed
	bearers  map[bearer]string // ids of labels
	forgot   map[string]bool
	sums     map[string]Sum
	grown    chan struct{} // closed when something is stored
	sentFrom map[string]bool
}

// place is what stands in the line: a row, a label, or nothing any more.
type place struct{ row, label string }

// placed is a label, who gave it and where in the line it stands, counted from 1.
type placed struct {
	Label
	owner string
	at    int
}

// bearer finds the label of a class that has a text.
type bearer struct{ class, folded string }

// NewMemory is an empty shared record under an id of its own.
func NewMemory(id string) *Memory {
	return &Memory{id: id, rows: map[string]schedule.Row{}, labels: map[string]*placed{}, bearers: map[bearer]string{},
		forgot: map[string]bool{}, sums: map[string]Sum{}, grown: make(chan struct{}), sentFrom: map[string]bool{}}
}

// As is the record as the bench with an id has it; with "", as one who only reads.
func (m *Memory) As(bench string) Store {
	m.mu.Lock()
	defer m.mu.Unlock()
	if bench != "" {
		m.sentFrom[bench] = true
	}
	return view{m, bench}
}

// Forget erases the label of an id, for good.
func (m *Memory) Forget(id string) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.forgot[id] = true
	if l, known := m.labels[id]; known {
		m.take(l)
		delete(m.labels, id)
	}
}

// take takes a label out of the line, and frees its text.
func (m *Memory) take(l *placed) {
	m.line[l.at-1] = place{}
	delete(m.bearers, bearer{l.Class, Fold(l.Text)})
}

// view is a Memory as one has it.
type view struct {
	m     *Memory
	bench string
}

func (v view) Send(ctx context.Context, b Batch) (Receipt, error) {
	if err := ctx.Err(); err != nil {
		return Receipt{}, err
	}
	if v.bench == "" {
		return Receipt{}, fmt.Errorf("%w: who only reads sends nothing", ErrRights)
	}
	if err := b.Check(v.bench); err != nil {
		return Receipt{}, err
	}
	v.m.mu.Lock()
	defer v.m.mu.Unlock()
	for _, l := range b.Labels {
		if l.Class != "bench" && v.m.sentFrom[l.ID] {
			return Receipt{}, fmt.Errorf("%w: %s is the id of a bench, not of a %s", ErrForged, l.ID, l.Class)
		}
	}
	before := len(v.m.line)
	var done Receipt
	for _, l := range b.Labels {
		v.m.label(v.bench, l, &done)
	}
	for _, r := range b.Rows {
		v.m.row(r, &done)
	}
	if len(v.m.line) > before {
		close(v.m.grown)
		v.m.grown = make(chan struct{})
	}
	return done, nil
}

func (m *Memory) row(r schedule.Row, done *Receipt) {
	here, known := m.rows[r.ID]
	switch {
	case !known:
		m.rows[r.ID] = r
		m.line = append(m.line, place{row: r.ID})
		m.sums[r.Piece] = m.sums[r.Piece].Add(r)
		done.Fresh++
	case here != r && !SameAlert(here, r) && !slices.Contains(done.Refused, r.ID):
		done.Refused = append(done.Refused, r.ID)
	}
}

func (m *Memory) label(bench string, l Label, done *Receipt) {
	here, known := m.labels[l.ID]
	switch {
	case m.forgot[l.ID]:
		done.Forgotten = append(done.Forgotten, l.ID)
		return
	case known && here.owner != bench && l.Class != "bench":
		if here.Label != l {
			done.Stayed = append(done.Stayed, here.Label)
		}
		return
	}
	given := l
	for n := 2; m.taken(given); n++ {
		given.Text = fmt.Sprintf("%s %d", l.Text, n)
	}
	if given != l {
		done.Renamed = append(done.Renamed, given)
	}
	if known && here.Label == given {
		return
	}
	if known {
		m.take(here)
	}
	m.line = append(m.line, place{label: l.ID})
	m.labels[l.ID] = &placed{given, bench, len(m.line)}
	m.bearers[bearer{given.Class, Fold(given.Text)}] = l.ID
}

// taken reports whether another id of the class bears the text of a label.
func (m *Memory) taken(l Label) bool {
	id, borne := m.bearers[bearer{l.Class, Fold(l.Text)}]
	return borne && id != l.ID
}

func (v view) After(ctx context.Context, cursor int64, limit int) (Page, error) {
	m := v.m
	m.mu.Lock()
	defer m.mu.Unlock()
	if cursor > int64(len(m.line)) {
		return Page{}, ErrRewound
	}
	return m.page(cursor, limit), ctx.Err()
}

func (m *Memory) page(cursor int64, limit int) Page {
	p := Page{Record: m.id, Next: cursor}
	for _, at := range m.line[cursor:] {
		full := len(p.Rows)+len(p.Labels) == limit
		switch {
		case full && at != (place{}):
			p.More = true
			return p
		case at.row != "":
			p.Rows = append(p.Rows, m.rows[at.row])
		case at.label != "":
			p.Labels = append(p.Labels, m.labels[at.label].Label)
		}
		p.Next++
	}
	return p
}

func (v view) Sums(ctx context.Context) (map[string]Sum, error) {
	v.m.mu.Lock()
	defer v.m.mu.Unlock()
	sums := map[string]Sum{}
	for piece, s := range v.m.sums {
		sums[piece] = s
	}
	return sums, ctx.Err()
}

func (v view) Wait(ctx context.Context, cursor int64) error {
	for {
		v.m.mu.Lock()
		there, grown := cursor < int64(len(v.m.line)), v.m.grown
		v.m.mu.Unlock()
		if there {
			return nil
		}
		select {
		case <-grown:
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

func (v view) Close() error { return nil }
