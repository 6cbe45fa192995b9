package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
)

// Source is what a sheet is made from.
type Source struct {
	Name    string                 // of the piece
	Book    *alloys.Book           // of the alloys; nil is the embedded one
	Entries []schedule.Entry       // of the piece, in any order, with the clock steps of its benches
	Hands   map[schedule.ID]string // a hand without a label is "unnamed 1", and so on
	Place   *time.Location         // of the dates; nil is UTC
}

// Build replays the entries of a piece once into its sheet.
func Build(s Source) Sheet {
	b := builder{Source: s, piece: schedule.NewPiece(s.Book, nil), called: map[schedule.ID]string{}, limits: map[limitKey]coldwork.Limit{}}
	if b.Place == nil {
		b.Place = time.UTC
	}
	b.sheet = Sheet{Name: plain(s.Name), Work: []Work{}, Heats: []Heat{}, Cracks: []Crack{}, Joints: []Joint{},
		Signs: []Sign{}, Weights: []Weight{}, Photos: []Photo{}, Finished: []Made{}, Notes: []Note{}, Advice: []Advice{}, Hands: []Hand{}, Unread: []string{}}
	for _, e := range standing(s.Entries) {
		b.step(e)
	}
	b.finish()
	return b.sheet
}

// standing are the entries that nothing took back, in order. What was shown after a
// pass goes with it.
func standing(entries []schedule.Entry) (out []schedule.Entry) {
	dead := schedule.Voided(entries)
	for _, e := range entries {
		shown, _ := e.Body.(schedule.Shown)
		if e.Kind() != schedule.KindVoid && !dead[e.ID] && !dead[shown.After] {
			out = append(out, e)
		}
	}
	slices.SortStableFunc(out, func(x, y schedule.Entry) int {
		return cmp.Or(x.At.Compare(y.At), cmp.Compare(x.ID, y.ID))
	})
	return out
}

// builder is a sheet on the way.
type builder struct {
	Source
	sheet  Sheet
	piece  schedule.Piece
	called map[schedule.ID]string // hands that have no label
	limits map[limitKey]coldwork.Limit
	clock  []schedule.Entry // its steps
	fires  []fire
	under  map[string]int   // by zone, the fire it is in or comes from
	cracks []crack          // beside those of the sheet
	advice []schedule.Shown // likewise
	hands  []schedule.ID    // likewise
}

// step takes one entry.
func (b *builder) step(e schedule.Entry) {
	switch e.Kind() {
	case schedule.KindClockStep:
		b.clock = append(b.clock, e)
	case schedule.KindShown, schedule.KindRaised, schedule.KindAcknowledged:
	default:
		b.present(e)
	}
	before := b.piece.State
	b.piece.Add(e)
	b.work(e, &before)
	b.heat(e, &before)
	b.crack(e, &before)
	b.say(e)
	b.judge(e)
}

// made is when and by whom.
func (b *builder) made(e schedule.Entry) Made { return Made{At: b.local(e.At), Hand: b.hand(e.Hand)} }

func (b *builder) local(t time.Time) time.Time { return t.In(b.Place).Truncate(time.Second) }

func (b *builder) hand(id schedule.ID) string {
	if text, ok := b.Hands[id]; ok {
		return plain(text)
	}
	if _, ok := b.called[id]; !ok {
		b.called[id] = fmt.Sprintf("unnamed %d", len(b.called)+1)
	}
	return b.called[id]
}

// present keeps that a hand was at the piece.
func (b *builder) present(e schedule.Entry) {
	i := slices.Index(b.hands, e.Hand)
	if i < 0 {
		i = len(b.hands)
		b.hands = append(b.hands, e.Hand)
		b.sheet.Hands = append(b.sheet.Hands, Hand{Hand: b.hand(e.Hand), First: b.local(e.At)})
	}
	h := &b.sheet.Hands[i]
	h.Last, h.Entries = b.local(e.At), h.Entries+1
	if p, ok := e.Body.(schedule.Pass); ok {
		h.Courses += p.Count
	}
}

// say keeps joints, signs, weights, photos, notes, advice and the end.
func (b *builder) say(e schedule.Entry) {
	s := &b.sheet
	switch body := e.Body.(type) {
	case schedule.Jointed:
		s.Joints = append(s.Joints, b.joint(e, body))
	case schedule.Signalled:
		s.Signs = append(s.Signs, Sign{b.made(e), b.zoneNames(e), plain(string(body.Sign))})
	case schedule.Weighed:
		s.Weights = append(s.Weights, Weight{b.made(e), cmp.Or(string(body.What), "piece"), *rounded(float64(body.Mass), 3)})
	case schedule.Photo:
		s.Photos = append(s.Photos, Photo{b.made(e), b.zoneNames(e), plain(body.Ref)})
	case schedule.Finished:
		s.Finished = append(s.Finished, b.made(e))
	case schedule.Note:
		s.Notes = append(s.Notes, Note{b.made(e), plain(body.Text)})
	case schedule.Shown:
		b.advice = append(b.advice, body)
		a := Advice{Made: b.made(e), Zone: plain(body.Zone), Verdict: body.Verdict.String()}
		if body.Limit > 0 {
			a.Spent = rounded(100*body.Spent, 1)
		}
		s.Advice = append(s.Advice, a)
	}
}

// finish is what the last state says of the piece as a whole.
func (b *builder) finish() {
	s, state := &b.sheet, &b.piece.State
	s.Alloy, s.AlloyName, s.Charge, s.Mark = plain(state.AlloyID), plain(state.Alloy.Name), plain(state.Stock), plain(state.Mark)
	s.Calliper, s.Length, s.Limit = given(float64(state.Calliper)), given(float64(state.Length)), plain(state.Limit)
	s.Test, s.Unread = state.Test, append(s.Unread, plainAll(state.Silenced)...)
	if state.Started {
		at := b.local(state.At)
		s.Started = &at
	}
	b.endFires()
	b.endCracks()
	s.Stain = Stain{Flux: state.Ledger.Protected, Bare: state.Ledger.Unprotected, Probed: state.Ledger.Measured,
		Minutes: *rounded(state.Ledger.Hot.Minutes(), 1)}
	s.Hallmark = state.Hallmark()
	s.Totals.weigh(state.Weights)
	s.Totals.Heats, s.Totals.Cracks = len(s.Heats), len(s.Cracks)
	for _, w := range s.Work {
		s.Totals.Courses += w.Courses
	}
	for _, h := range s.Heats {
		if h.Proved == Soft {
			s.Totals.Proved++
		}
	}
}

// weigh is what became of the metal, as far as it was weighed.
func (t *Totals) weigh(w schedule.Weights) {
	if w.In == 0 {
		return
	}
	t.In = rounded(float64(w.In), 3)
	if lost, share, ok := w.Lost(); ok {
		t.Out, t.Scrap = rounded(float64(w.Out), 3), rounded(float64(w.Scrap), 3)
		t.Lost, t.Share = rounded(float64(lost), 3), rounded(100*share, 1)
	}
}

// zoneNames are the zones that an entry is about, as they are shown.
func (b *builder) zoneNames(e schedule.Entry) []string { return plainAll(b.piece.State.About(e)) }

// lasted is the time between two entries at the bench of the first, without the
// jumps of its clock; nil where either is missing.
func (b *builder) lasted(from, to *schedule.Entry) *float64 {
	if from == nil || to == nil {
		return nil
	}
	d := to.At.Sub(from.At)
	for _, e := range b.clock {
		if step := e.Body.(schedule.ClockStep); e.Bench == from.Bench && e.At.After(from.At) && !e.At.After(to.At) {
			d -= step.Line
		}
	}
	return rounded(max(0, d).Seconds(), 0)
}

// celsius is a temperature as it was measured; nil for 0, which was not.
func celsius(t unit.Celsius) *float64 { return given(float64(t)) }
