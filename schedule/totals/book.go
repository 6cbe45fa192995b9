package totals

import (
	"cmp"
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"time"

	"dullred/alloys/unit"
	"dullred/schedule"
)

// Kinds are the kinds of entries that a Book sums. It passes over others.
func Kinds() []schedule.Kind {
	return []schedule.Kind{schedule.KindStarted, schedule.KindPlan, schedule.KindPass, schedule.KindBegun, schedule.KindReached, schedule.KindOut,
		schedule.KindQuenched, schedule.KindCool, schedule.KindSoft, schedule.KindSpringy, schedule.KindWeighed, schedule.KindFinished,
		schedule.KindTorchLit, schedule.KindTorchOut}
}

// Book takes rows and sums them.
type Book struct {
	terms  Terms
	kinds  map[string]schedule.Kind
	stands []stand // the circumstances of entries, each once
	known  map[stand]uint32
	pieces map[string]*piece
	torch  map[schedule.ID][]event // by bench
}

// stand is all that many entries have in common.
type stand struct {
	kind        schedule.Kind
	bench, hand schedule.ID
	zones       string
}

// event is an entry in few bytes.
type event struct {
	at    int64  // µs
	stand uint32 // index
	more  uint32 // courses, or the index of a body of the piece
}

// piece is the events of one, in the order of their ids.
type piece struct {
	events []event
	bodies []body
}

// body is what an entry says that is needed here.
type body struct {
	Zones []string      `json:"zones"`
	Grams unit.Gram     `json:"grams"`
	What  schedule.Part `json:"what"`
}

// New is an empty book.
func New(t Terms) *Book {
	t.Place = cmp.Or(t.Place, time.UTC)
	b := &Book{terms: t, kinds: map[string]schedule.Kind{}, known: map[stand]uint32{}, pieces: map[string]*piece{}, torch: map[schedule.ID][]event{}}
	for _, kind := range Kinds() {
		b.kinds[string(kind)] = kind
	}
	return b
}

// Add takes one row. Rows come in the order of their ids. One that was taken back, that
// is of another kind or piece, or whose body is damaged, counts nowhere.
func (b *Book) Add(r schedule.Row) {
	kind, counts := b.kinds[r.Kind]
	if !counts || b.terms.Dead[schedule.ID(r.ID)] || b.terms.Pieces != nil && !b.terms.Pieces[schedule.ID(r.Piece)] {
		return
	}
	e := event{at: r.At, stand: b.standOf(stand{kind, schedule.ID(r.Bench), schedule.ID(r.Hand), r.Zones}), more: uint32(max(0, r.Count))}
	if kind == schedule.KindTorchLit || kind == schedule.KindTorchOut {
		b.torch[schedule.ID(r.Bench)] = append(b.torch[schedule.ID(r.Bench)], e)
		return
	}
	p := b.pieces[r.Piece]
	if p == nil {
		p = &piece{}
		b.pieces[r.Piece] = p
	}
	switch kind {
	case schedule.KindStarted, schedule.KindWeighed, schedule.KindPlan:
		said, err := bodyOf(kind, r.Body)
		if err != nil {
			return
		}
		e.more = uint32(len(p.bodies))
		p.bodies = append(p.bodies, said)
	}
	p.events = append(p.events, e)
}

func (b *Book) standOf(s stand) uint32 {
	i, known := b.known[s]
	if !known {
		i = uint32(len(b.stands))
		b.stands, b.known[s] = append(b.stands, s), i
	}
	return i
}

func bodyOf(kind schedule.Kind, text string) (b body, err error) {
	if kind != schedule.KindPlan {
		return b, json.Unmarshal([]byte(text), &b)
	}
	var planned schedule.Planned
	if err := json.Unmarshal([]byte(text), &planned); err != nil {
		return b, err
	}
	for _, z := range planned.Plan.Zones {
		b.Zones = append(b.Zones, z.Name)
	}
	return b, nil
}

// Sums are the periods in which something was logged, the first one first.
func (b *Book) Sums() []Sum {
	s := &sheet{Terms: b.terms, at: map[time.Time]*Counts{}}
	days := gas{}
	for _, id := range slices.Sorted(maps.Keys(b.pieces)) {
		p := b.pieces[id]
		slices.SortStableFunc(p.events, func(x, y event) int { return cmp.Compare(x.at, y.at) })
		b.sumPiece(s, p, days)
	}
	if b.terms.Pieces == nil {
		b.burn(s, days)
	}
	days.sum(s)
	return s.sums()
}

// sumPiece adds what was done with one piece. What was logged before it was started, or
// where it never was, counts nowhere: its piece is silenced for that.
func (b *Book) sumPiece(s *sheet, p *piece, days gas) {
	var f fires
	var m metal
	for _, e := range p.events {
		at, stand := time.UnixMicro(e.at).UTC(), b.stands[e.stand]
		if stand.kind == schedule.KindStarted && f.zones == nil {
			f.start(p.bodies[e.more].Zones)
			if c, ok := s.counts(at, stand.hand); ok {
				c.Started++
			}
			continue
		}
		if f.zones == nil {
			continue
		}
		switch stand.kind {
		case schedule.KindStarted:
		case schedule.KindPlan:
			f.divide(p.bodies[e.more].Zones)
		case schedule.KindWeighed:
			m.weigh(weight{at, stand.hand, p.bodies[e.more]})
		case schedule.KindFinished:
			m.finish(at, stand.hand)
		case schedule.KindPass:
			if c, ok := s.counts(at, stand.hand); ok {
				c.Passes += int(e.more)
			}
			fallthrough
		default:
			f.step(at, stand)
		}
	}
	m.sum(s)
	for _, fire := range f.all {
		fire.sum(s, days)
	}
}

// zonesOf are the names of zones that a row has.
func zonesOf(text string) []string {
	if text == "" {
		return nil
	}
	return strings.Split(text, "\x1f")
}
