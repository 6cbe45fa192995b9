package main

import (
	"cmp"
	"errors"
	"slices"
	"strings"
	"time"

	"dullred/alloys"
	"dullred/cmd/internal/place"
	"dullred/schedule"
	"dullred/schedule/record"
)

// bench is an open record with the ids of who works where.
type bench struct {
	rec    *record.Record
	book   *alloys.Book // the metals its pieces are of
	here   identity
	steps  []schedule.Entry         // of the clocks of all benches
	worked map[schedule.ID][]*piece // pieces by hand, as far as they were asked for

	hear func(...string) // what people typed, as it is read; nil for nobody

	risk    float64 // of splitting that the smith takes, at the limit of a stock
	stocked *stocks // nil until one is asked for
}

// piece is one piece of the record: its entries and what they come to.
type piece struct {
	id      schedule.ID
	name    string
	entries []schedule.Entry
	state   schedule.State
	on      *schedule.Following // its plan; nil without one
}

func (a *app) path() (string, error) {
	if a.record != "" {
		return a.record, nil
	}
	conf, err := a.config()
	if err != nil || conf.record != "" {
		return conf.record, err
	}
	path, err := place.Usual()
	if err != nil {
		return "", &fault{Err: err, Code: exitRecord, Do: "name a file with --record"}
	}
	return path, nil
}

// open opens the record; the caller closes it.
func (a *app) open() (*bench, error) {
	conf, err := a.config()
	if err != nil {
		return nil, err
	}
	path, err := a.path()
	if err != nil {
		return nil, err
	}
	if err := a.readOwn(); err != nil {
		return nil, err
	}
	go alloys.All() // the tables are read while the record opens
	b, err := a.openAt(path, conf)
	if err != nil {
		return nil, err
	}
	if err := a.setClock(b); err != nil {
		return nil, errors.Join(err, b.close())
	}
	return b, nil
}

// openAt opens a file of entries for the bench and the hand that work here.
func (a *app) openAt(path string, conf config) (*bench, error) {
	hand := cmp.Or(a.hand, a.getenv("DULLRED_HAND"), conf.hand)
	if err := schedule.CheckName(hand); err != nil {
		return nil, refuse("give initials or a number", "the hand cannot be named so: %w", err)
	}
	rec, err := openRecord(path)
	if err != nil {
		return nil, err
	}
	b := &bench{rec: rec, book: alloys.Default().With(a.own), worked: map[schedule.ID][]*piece{}, risk: riskOf(conf.risk)}
	if b.here, err = b.identify(hand); err == nil {
		err = a.learnNames(b)
	}
	if err != nil {
		return nil, errors.Join(err, rec.Close())
	}
	return b, nil
}

// learnNames keeps the figures in the names of a record as they were typed, and those
// in the texts of its entries once these are read.
func (a *app) learnNames(b *bench) error {
	if a.style().Plain() {
		return nil
	}
	labels, err := b.labels()
	for _, text := range labels {
		a.keep(text)
	}
	b.hear = a.keep
	return err
}

// heard tells of a piece that was read.
func (b *bench) heard(name string, entries []schedule.Entry) {
	if b.hear != nil {
		b.hear(append(typed(entries), name)...)
	}
}

// onBench does something with the record open, and closes it.
func (a *app) onBench(do func(*bench) error) error {
	b, err := a.open()
	if err != nil {
		return err
	}
	return errors.Join(do(b), b.close())
}

// setClock reads the clock steps of the record, and goes by this bench's line of
// time from here on where it is ahead of the wall clock.
func (a *app) setClock(b *bench) error {
	if err := b.readSteps(); err != nil {
		return err
	}
	wall := a.now
	if off := schedule.Ahead(b.steps, b.here.bench, wall()); off > 0 {
		a.now = func() time.Time { return wall().Add(off) }
	}
	return nil
}

// readSteps reads the clock steps of every bench.
func (b *bench) readSteps() error {
	benches, err := b.rec.Labels(record.BenchClass)
	if err != nil {
		return err
	}
	b.steps = nil
	for _, l := range benches {
		rows, err := b.rec.OfKind(l.ID, string(schedule.KindClockStep))
		if err != nil {
			return err
		}
		b.steps = append(b.steps, entriesOf(rows)...)
	}
	return nil
}

// fold is the state of a piece by its entries and the clocks they were dated by.
func (b *bench) fold(entries []schedule.Entry) schedule.State {
	return schedule.FoldIn(b.book, slices.Concat(b.steps, entries))
}

// openRecord opens a record; whatever hinders it has a remedy.
func openRecord(path string) (*record.Record, error) {
	rec, err := record.Open(path)
	if err != nil && explain(err).Code == exitFailed {
		return nil, &fault{Err: errors.New(shorten(err.Error())), Code: exitRecord, Do: "name another file with --record"}
	}
	return rec, err
}

func (b *bench) close() error { return b.rec.Close() }

// find loads a piece by name, in any case.
func (b *bench) find(name string) (*piece, error) {
	label, found, err := b.rec.LabelNamed(record.PieceClass, name)
	if err != nil {
		return nil, err
	}
	if !found {
		return nil, b.noPiece(name)
	}
	return b.load(schedule.ID(label.ID), label.Text)
}

func (b *bench) load(id schedule.ID, name string) (*piece, error) {
	rows, err := b.rec.Piece(string(id))
	if err != nil {
		return nil, err
	}
	p := &piece{id: id, name: name, entries: entriesOf(rows)}
	b.heard(name, p.entries)
	p.state = b.fold(p.entries)
	return p, nil
}

// loadState is a piece of which what it came to is kept, and no entry: others learn of it.
func (b *bench) loadState(id schedule.ID) (*piece, error) {
	p, err := b.load(id, "")
	if err != nil {
		return nil, err
	}
	p.entries = nil
	return p, nil
}

func entriesOf(rows []record.Row) []schedule.Entry {
	own := make([]schedule.Row, len(rows))
	for i, r := range rows {
		own[i] = schedule.Row(r)
	}
	return schedule.DecodeAll(own)
}

func (b *bench) noPiece(name string) error {
	labels, err := b.rec.Labels(record.PieceClass)
	if err != nil {
		return err
	}
	do := "start it with dullred piece new"
	var known []string
	for _, l := range labels {
		known = append(known, l.Text)
	}
	if slices.Sort(known); len(known) > 0 {
		do = "the record has " + strings.Join(known[:min(8, len(known))], ", ") + " (dullred piece list)"
	}
	return missing(do, "there is no piece named %.60q", name)
}

// append writes entries, with the labels they need, on disk before it returns. An
// alert that somebody else raised or acknowledged meanwhile is passed over. A hand of
// another bench that came in under the name of this one since the record was opened is
// named anew.
func (b *bench) append(labels []record.Label, entries ...schedule.Entry) error {
	var rows, derived []record.Row
	for _, e := range entries {
		row, err := schedule.Encode(e)
		if err != nil {
			return err
		}
		if e.Kind() == schedule.KindRaised || e.Kind() == schedule.KindAcknowledged {
			derived = append(derived, record.Row(row))
			continue
		}
		rows = append(rows, record.Row(row))
	}
	err := b.rec.AppendWith(slices.Concat(b.here.fresh, labels), derived, rows...)
	if errors.Is(err, record.ErrNameTaken) && len(b.here.fresh) > 0 && b.makeRoom() == nil {
		err = b.rec.AppendWith(slices.Concat(b.here.fresh, labels), derived, rows...)
	}
	if err != nil {
		return err
	}
	b.here.fresh = nil
	return nil
}

// handWindow is how many of a hand's latest entries are looked through for
// pieces that say how it works.
const handWindow = 120

// others are observations of the hands that work a piece, on other pieces, and of the
// stock that it is of.
func (b *bench) others(p *piece) (*schedule.Observed, error) {
	out, taken := &schedule.Observed{Risk: b.risk}, map[schedule.ID]bool{}
	var done []schedule.ID
	for _, z := range p.state.Zones {
		if slices.Contains(done, z.Hand) {
			continue
		}
		done = append(done, z.Hand)
		pieces, err := b.piecesOf(z.Hand)
		if err != nil {
			return nil, err
		}
		for _, other := range pieces {
			if other.id != p.id && !taken[other.id] {
				taken[other.id] = true
				out.Take(&other.state)
			}
		}
	}
	return out, b.takeStock(out, p, taken)
}

// piecesOf are the pieces that a hand worked lately, loaded once.
func (b *bench) piecesOf(hand schedule.ID) ([]*piece, error) {
	if pieces, known := b.worked[hand]; known {
		return pieces, nil
	}
	ids, err := b.rec.PiecesOfHand(string(hand), handWindow)
	if err != nil {
		return nil, err
	}
	var pieces []*piece
	for _, id := range ids {
		p, err := b.loadState(schedule.ID(id))
		if err != nil {
			return nil, err
		}
		pieces = append(pieces, p)
	}
	b.worked[hand] = pieces
	return pieces, nil
}
