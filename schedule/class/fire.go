package class

import "dullred/schedule"

// earlyShare is the share of the limit before which a heat is early (a judgement:
// metal annealed at half of it is annealed twice as often as it must be).
const earlyShare = 0.5

// fire is one heat of the span.
type fire struct {
	counts              *Counts
	early, joint        bool
	soft, springy, open bool
}

// grow gives every zone of the piece a place.
func (r *replay) grow() {
	for len(r.under) < len(r.piece.State.Zones) {
		r.under = append(r.under, none)
	}
}

// follow goes on with the fires of the zones that an entry is about, by the phase
// that each was in before and is in now. at is where the entry counts; nil for one
// outside the span, which begins no fire that counts.
func (r *replay) follow(at *Counts, before *schedule.State, e schedule.Entry) {
	begun := none
	for _, i := range zones(&r.piece.State, e) {
		was, is := phase(before, i), phase(&r.piece.State, i)
		fresh := e.Kind().Kindles(was, is)
		if r.under[i] != none && e.Kind() == schedule.KindJoint {
			r.fires[r.under[i]].joint = true
		}
		if r.under[i] != none && (fresh || is == schedule.Cold) {
			r.end(r.under[i], e)
			r.under[i] = none
		}
		if !fresh || at == nil {
			continue
		}
		if begun == none {
			begun = r.kindle(at, before, e)
		}
		r.under[i] = begun
	}
}

// phase is how far the heat of a zone has come; cold where there is no such zone.
func phase(s *schedule.State, i int) schedule.Phase {
	if i >= len(s.Zones) {
		return schedule.Cold
	}
	return s.Zones[i].Heat.Phase
}

func (r *replay) kindle(at *Counts, before *schedule.State, e schedule.Entry) int {
	at.Heats++
	r.fires = append(r.fires, fire{counts: at, early: !r.test && r.early(before, e)})
	return len(r.fires) - 1
}

// early reports whether a fire meets metal with some work in it, and less than half
// of its limit spent. Metal that an earlier heat did not soften is heated again at
// no fault of the hand.
func (r *replay) early(s *schedule.State, e schedule.Entry) bool {
	for _, i := range zones(s, e) {
		if s.Zones[i].Unproven > 0 || s.Zones[i].Heat.Phase != schedule.Cold {
			return false
		}
	}
	share, known := r.spent(s, e)
	return known && share > 0 && share < earlyShare
}

// end is one zone of a fire that is over with an entry: a bend check, or work or
// another fire without one.
func (r *replay) end(i int, e schedule.Entry) {
	switch e.Kind() {
	case schedule.KindSoft:
		r.fires[i].soft = true
	case schedule.KindSpringy:
		r.fires[i].springy = true
	}
}

// burning reports whether a fire of the span has not ended.
func (r *replay) burning() bool {
	for _, i := range r.under {
		if i != none {
			return true
		}
	}
	return false
}

// close counts how the fires ended. One that is springy somewhere was no anneal;
// one that is soft somewhere and nowhere springy was. Whoever solders has to heat,
// however little the metal was worked.
func (r *replay) close() {
	for _, i := range r.under {
		if i != none {
			r.fires[i].open = true
		}
	}
	for _, f := range r.fires {
		if f.early && !f.joint {
			f.counts.Early++
		}
		switch {
		case f.springy:
			f.counts.Springy++
		case f.soft:
			f.counts.Anneals++
		default:
			f.counts.Unproven++
			if f.open {
				f.counts.Open++
			}
		}
	}
}
