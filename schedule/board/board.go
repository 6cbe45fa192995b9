package board

import (
	"cmp"
	"slices"
	"time"

	"dullred/schedule"
)

// What is on the board, both judgements: a class meets within a day, and 200 pieces are
// more than anybody reads on a wall.
const (
	recent = 24 * time.Hour
	most   = 200
)

// Label is the name of a piece or a bench: share.Label has the same make.
type Label struct {
	ID    string
	Class string // piece, hand or bench; the names of hands are not kept
	Text  string
}

// Board is all pieces of a shared record that somebody works at. It is for one goroutine
// at a time.
type Board struct {
	names   map[string]string // of pieces and benches
	touched map[string]int64  // when each piece was last, microseconds since 1970 UTC
	pieces  map[string]*piece // that are folded
	benches map[string]*bench
}

// New is an empty board.
func New() *Board {
	return &Board{names: map[string]string{}, touched: map[string]int64{}, pieces: map[string]*piece{}, benches: map[string]*bench{}}
}

// Take takes what was stored. Of a piece that is not on the board only its time is kept.
func (b *Board) Take(labels []Label, rows []schedule.Row) {
	b.name(labels)
	for _, r := range rows {
		b.bench(r.Bench)
		if at, known := b.benches[r.Piece]; known {
			if at.whole {
				b.hear(at, []schedule.Row{r})
			}
			continue
		}
		b.touched[r.Piece] = max(b.touched[r.Piece], r.At)
		if p := b.pieces[r.Piece]; p != nil {
			p.add(r)
		}
	}
}

// Whole takes the whole history of a piece or a bench that Wants named.
func (b *Board) Whole(id string, labels []Label, rows []schedule.Row) {
	b.name(labels)
	for _, r := range rows {
		b.bench(r.Bench)
	}
	if at, known := b.benches[id]; known {
		at.whole = true
		b.hear(at, rows)
		return
	}
	for _, r := range rows {
		b.touched[id] = max(b.touched[id], r.At)
	}
	b.pieces[id] = newPiece(id, rows, b.steps())
}

func (b *Board) name(labels []Label) {
	for _, l := range labels {
		if l.Class == "piece" || l.Class == "bench" {
			b.names[l.ID] = l.Text
		}
	}
}

// bench makes the bench of an id known. What was taken for a piece of that id was about
// the bench.
func (b *Board) bench(id string) {
	if b.benches[id] != nil {
		return
	}
	b.benches[id] = &bench{id: schedule.ID(id), ids: map[string]bool{}}
	delete(b.pieces, id)
	delete(b.touched, id)
}

// hear takes entries about a bench. Its clock steps belong into the fold of every piece.
func (b *Board) hear(at *bench, rows []schedule.Row) {
	for _, step := range at.add(rows) {
		for _, p := range b.pieces {
			p.step(step)
		}
	}
}

// steps are the clock steps of all benches that are known.
func (b *Board) steps() (all []schedule.Entry) {
	for _, at := range b.benches {
		all = append(all, schedule.ClockSteps(at.entries)...)
	}
	return all
}

// Wants are the ids of the benches and pieces whose whole history is still to be given,
// the benches first. What is given may make it want more.
func (b *Board) Wants(now time.Time) (ids []string) {
	for id, at := range b.benches {
		if !at.whole {
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	for _, id := range b.current(now) {
		if b.pieces[id] == nil {
			ids = append(ids, id)
		}
	}
	return ids
}

// current are the ids of the pieces that belong on the board by their time, the newest
// first. A time that is still to come, by a clock that goes wrong, counts as now.
func (b *Board) current(now time.Time) (ids []string) {
	until, newest := now.UnixMicro(), int64(0)
	for _, at := range b.touched {
		newest = max(newest, min(at, until))
	}
	from := newest - recent.Microseconds()
	for id, at := range b.touched {
		if at >= from {
			ids = append(ids, id)
		}
	}
	slices.SortFunc(ids, func(x, y string) int { return cmp.Or(cmp.Compare(b.touched[y], b.touched[x]), cmp.Compare(x, y)) })
	return ids[:min(len(ids), most)]
}

// Rows are what stands at a moment: what presses first, then by what cannot wait, then by
// the share of the limit. What no longer belongs on the board is let go of.
func (b *Board) Rows(now time.Time) (rows []Row) {
	on := map[string]bool{}
	for _, id := range b.current(now) {
		on[id] = true
	}
	for id, p := range b.pieces {
		p.folding.Wait()
		r := b.row(p, now)
		switch {
		case !on[id] && !r.Presses():
			delete(b.pieces, id)
		case !p.folded.State.Done() || r.Presses():
			rows = append(rows, r)
		}
	}
	for _, at := range b.benches {
		if alerts := at.latched(now); len(alerts) > 0 {
			rows = append(rows, Row{ID: at.id, Bench: b.named(at.id, "bench"), Spent: -1, Alerts: alerts, Last: at.last})
		}
	}
	slices.SortFunc(rows, nearest)
	return rows
}

// named is the name of an id, or what can be said of one without a name.
func (b *Board) named(id schedule.ID, what string) string {
	if name := b.names[string(id)]; name != "" {
		return name
	}
	return what + " without a name, ..." + string(id[max(0, len(id)-4):])
}
