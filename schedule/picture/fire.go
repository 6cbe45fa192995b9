package picture

import (
	"slices"
	"time"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/heat"
)

// Heat is one fire, however many zones it has.
type Heat struct {
	At      time.Time // of its first entry
	Hand    schedule.ID
	Zones   []Heated
	Again   bool            // on metal that was hot, or that a heat before had not proved soft
	Joint   bool            // something was soldered in it
	Hottest unit.Celsius    // that was measured; 0 for never
	Trace   *schedule.Trace // of a thermocouple; nil without one
	Surface heat.Surface    // of the skin at its heat
	Ceiling heat.Ceiling    // that it had to stay below
	Capped  bool            // there is a ceiling
	Low     unit.Celsius    // of the window of its anneal
	High    unit.Celsius    // of it; 0 where none is published
}

// Heated is one zone in a heat.
type Heated struct {
	Name    string
	Courses int         // of the zone until then
	Done    unit.Strain // in it as it went into the fire
	Share   float64     // of its limit, likewise; 0 where none is known
	Proof   Proof
}

// Proof is what a bend check said of a heat.
type Proof uint8

// The proofs. A heat is open until work or another heat shows that nobody will prove
// it.
const (
	Open Proof = iota
	Soft
	Springy
	Never
)

// Proof is that of a heat as a whole: one that was springy in one zone was no anneal.
func (h Heat) Proof() (worst Proof) {
	for _, p := range []Proof{Springy, Soft, Never} {
		if slices.ContainsFunc(h.Zones, func(z Heated) bool { return z.Proof == p }) {
			return p
		}
	}
	return Open
}

// Share is the largest share of its limit that a zone had spent as it went into the
// fire; false where none is known.
func (h Heat) Share() (most float64, known bool) {
	for _, z := range h.Zones {
		most = max(most, z.Share)
	}
	return most, most > 0
}

// heat follows the fires of the zones that an entry is about, by the phase that each
// was in before and is in now.
func (b *builder) heat(e schedule.Entry, before *schedule.State) {
	fresh := -1
	for _, name := range b.piece.State.About(e) {
		was, _ := before.Zone(name)
		is, _ := b.piece.State.Zone(name)
		begins := e.Kind().Kindles(was.Heat.Phase, is.Heat.Phase)
		if i, burning := b.under[name]; burning && (begins || is.Heat.Phase == schedule.Cold) {
			b.prove(i, name, e)
			delete(b.under, name)
		}
		if begins {
			if fresh < 0 {
				fresh = b.kindle(e)
			}
			b.join(fresh, was, is, before)
			b.under[name] = fresh
		}
		if i, burning := b.under[name]; burning {
			b.note(i, is, e)
		}
	}
}

func (b *builder) kindle(e schedule.Entry) int {
	b.story.Heats = append(b.story.Heats, Heat{At: e.At, Hand: e.Hand})
	return len(b.story.Heats) - 1
}

// join puts a zone into a fire.
func (b *builder) join(i int, was, is schedule.Zone, before *schedule.State) {
	h, in := &b.story.Heats[i], Heated{Name: is.Name, Courses: b.told(is.Name).Courses}
	if was.Tally.Section().Known() {
		in.Done = before.Worked(was, nil).Strain
	}
	if limit := b.limit(is); limit > 0 {
		in.Share = float64(in.Done / limit)
	}
	h.Zones = append(h.Zones, in)
	h.Again = h.Again || was.Unproven > 0 || was.Heat.Phase != schedule.Cold
	h.Surface = skinOf(b.piece.State.Alloy, is.Heat.Surface)
	if c, ok := b.piece.State.Ceiling(is.Condition); ok && (!h.Capped || c.Temp < h.Ceiling.Temp) {
		h.Ceiling, h.Capped = c, true
	}
	if low, high, _, ok := b.piece.State.Window(is); ok {
		h.Low, h.High = low, high
	}
}

// skinOf is the skin that glows once metal is at its heat: what is not coated is
// oxidised by then, but silver and gold, which keep theirs a while.
func skinOf(a alloys.Alloy, s heat.Surface) heat.Surface {
	switch {
	case s != heat.SurfaceUnknown:
		return s
	case a.Family == "silver" || a.Family == "gold":
		return heat.Clean
	}
	return heat.Oxidised
}

// note keeps what an entry says of a fire.
func (b *builder) note(i int, is schedule.Zone, e schedule.Entry) {
	h := &b.story.Heats[i]
	h.Hottest = max(h.Hottest, is.Heat.Temp)
	switch body := e.Body.(type) {
	case schedule.Trace:
		h.Trace = &body
	case schedule.Jointed:
		h.Joint = true
	}
}

// prove ends one zone of a fire with an entry: a bend check, or work or another fire
// without one.
func (b *builder) prove(i int, zone string, e schedule.Entry) {
	proof := Never
	switch e.Kind() {
	case schedule.KindSoft:
		proof = Soft
	case schedule.KindSpringy:
		proof = Springy
	}
	for k := range b.story.Heats[i].Zones {
		if z := &b.story.Heats[i].Zones[k]; z.Name == zone {
			z.Proof = proof
		}
	}
}

// settle keeps nothing that is not a figure.
func (b *builder) settle() {
	for i := range b.story.Heats {
		for k := range b.story.Heats[i].Zones {
			z := &b.story.Heats[i].Zones[k]
			z.Done, z.Share = finite(z.Done), finite(z.Share)
		}
	}
	for i := range b.story.Zones {
		z := &b.story.Zones[i]
		z.Longer = finite(z.Longer)
	}
}

// finite is a figure, or 0 for what is none.
func finite[F ~float64](f F) F {
	if f-f != 0 {
		return 0
	}
	return f
}
