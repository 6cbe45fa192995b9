package picture

import (
	"cmp"
	"slices"
	"strings"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
)

// Source is what a story is replayed from.
type Source struct {
	Name    string           // of the piece
	Book    *alloys.Book     // of the alloys; nil is the embedded one
	Entries []schedule.Entry // of the piece, in any order, with the clock steps of its benches
}

// Story is the making of a piece, as far as pictures show it.
type Story struct {
	Name     string
	Alloy    alloys.Alloy
	Length   unit.Millimetre // at the start; 0 when not known
	Calliper unit.Millimetre
	Test     bool // it is worked until it splits
	Zones    []Zone
	Heats    []Heat
	Silenced []string // why it cannot be followed
}

// Zone is a part of a piece with what was done to it.
type Zone struct {
	Name       string
	Start, End coldwork.Section // as read; unknown where never
	Longer     float64          // how many times its length at the start, by constant volume; 0 when not known
	Filed      bool             // metal was taken off it
	Courses    int
	Steps      []Step
	Stretches  []Stretch
}

// Step is where a zone stood after a start, a course, a reading or an anneal.
type Step struct {
	Courses int               // in all until then
	Done    coldwork.Estimate // since it was last soft; always a number
	Limit   unit.Strain       // then; 0 for none
	Read    bool              // a reading shows it; else it is the estimate of the hand
	Fresh   bool              // the first of metal as it began, or that was proved soft
	Cast    bool
}

// End is how a stretch of work ended.
type End uint8

// The ends. A stretch is under way until an anneal or a crack ends it.
const (
	UnderWay End = iota
	Annealed
	Cracked
)

// Stretch is the work in a zone from soft metal on.
type Stretch struct {
	Done  coldwork.Estimate
	Limit unit.Strain // 0 for none
	Form  alloys.Form // which published series speaks for it
	Cast  bool
	Known bool // some section of it was read
	End   End
}

// Of replays entries once into their story. It makes no difference in which order
// they come; what was taken back is left out.
func Of(s Source) Story {
	b := builder{piece: schedule.NewPiece(s.Book, nil), limits: map[limitKey]unit.Strain{}, under: map[string]int{}}
	for _, e := range standing(s.Entries) {
		b.step(e)
	}
	state := &b.piece.State
	b.story.Name, b.story.Alloy, b.story.Length, b.story.Calliper = plain(s.Name), state.Alloy, state.Length, state.Calliper
	b.story.Test, b.story.Silenced = state.Test, state.Silenced
	b.close()
	return b.story
}

// standing are the entries that nothing took back, in order.
func standing(entries []schedule.Entry) (out []schedule.Entry) {
	dead := schedule.Voided(entries)
	for _, e := range entries {
		if e.Kind() != schedule.KindVoid && !dead[e.ID] {
			out = append(out, e)
		}
	}
	slices.SortStableFunc(out, func(x, y schedule.Entry) int {
		return cmp.Or(x.At.Compare(y.At), strings.Compare(string(x.ID), string(y.ID)))
	})
	return out
}

// builder is a story on its way.
type builder struct {
	story  Story
	piece  schedule.Piece
	limits map[limitKey]unit.Strain
	under  map[string]int // by zone, the heat it is in or comes from
}

// step takes one entry.
func (b *builder) step(e schedule.Entry) {
	switch e.Kind() {
	case schedule.KindShown, schedule.KindRaised, schedule.KindAcknowledged, schedule.KindNote:
		return
	}
	before := b.piece.State
	b.piece.Add(e)
	b.divide()
	for _, name := range b.piece.State.About(e) {
		b.zone(name, e, &before)
	}
	b.heat(e, &before)
}

// divide gives every zone of the piece its story. The parts of a piece that a plan
// divides begin with that of the whole.
func (b *builder) divide() {
	zones := b.piece.State.Zones
	if len(b.story.Zones) == len(zones) {
		return
	}
	whole := Zone{Stretches: []Stretch{{}}}
	if len(b.story.Zones) == 1 {
		whole = b.story.Zones[0]
	}
	b.story.Zones = nil
	for _, z := range zones {
		part := whole
		part.Name, part.Steps, part.Stretches = z.Name, slices.Clone(whole.Steps), slices.Clone(whole.Stretches)
		b.story.Zones = append(b.story.Zones, part)
	}
	b.rename(zones)
}

// rename lets the heats of the whole be those of its parts.
func (b *builder) rename(zones []schedule.Zone) {
	if i, burning := b.under[schedule.Whole]; burning {
		for _, z := range zones {
			b.under[z.Name] = i
		}
	}
	for i := range b.story.Heats {
		h := &b.story.Heats[i]
		if len(h.Zones) != 1 || h.Zones[0].Name != schedule.Whole {
			continue
		}
		whole := h.Zones[0]
		h.Zones = nil
		for _, z := range zones {
			whole.Name = z.Name
			h.Zones = append(h.Zones, whole)
		}
	}
}

// told finds the story of a zone.
func (b *builder) told(name string) *Zone {
	i := slices.IndexFunc(b.story.Zones, func(z Zone) bool { return z.Name == name })
	return &b.story.Zones[i]
}

// close leaves out what a zone began and nobody worked.
func (b *builder) close() {
	for i := range b.story.Zones {
		z := &b.story.Zones[i]
		z.Stretches = slices.DeleteFunc(z.Stretches, func(s Stretch) bool { return s.Done.Strain == 0 && s.End == UnderWay })
	}
	b.settle()
}

// limitKey is what the limit of a zone follows from within one piece: intervals that
// end in an anneal or a crack teach it.
type limitKey struct {
	condition alloys.Condition
	intervals int
}

// limit is that of a zone as the advice has it, by the tables of today and what the
// piece itself taught; one advice for each key tells it. A piece that cannot be
// followed has none, nor has metal that softens by itself.
func (b *builder) limit(z schedule.Zone) unit.Strain {
	s := &b.piece.State
	if !s.Started || len(s.Silenced) > 0 || s.Alloy.SelfSoftening {
		return 0
	}
	key := limitKey{z.Condition, len(s.Intervals)}
	if _, known := b.limits[key]; !known {
		b.limits[key] = b.advised(z.Name)
	}
	return b.limits[key]
}

func (b *builder) advised(zone string) unit.Strain {
	s := &b.piece.State
	for _, a := range s.Advise(s.Last, nil).Zones {
		if a.Zone == zone {
			return a.Limit.Strain
		}
	}
	return 0
}

// Only is the story of one zone; of a name that no zone has it is all of it.
func (s Story) Only(zone string) Story {
	i := slices.IndexFunc(s.Zones, func(z Zone) bool { return z.Name == zone })
	if i < 0 {
		return s
	}
	s.Zones = s.Zones[i : i+1]
	s.Heats = slices.DeleteFunc(slices.Clone(s.Heats), func(h Heat) bool {
		return !slices.ContainsFunc(h.Zones, func(z Heated) bool { return z.Name == zone })
	})
	return s
}
