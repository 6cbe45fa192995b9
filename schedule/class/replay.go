package class

import (
	"slices"

	"dullred/alloys"
	"dullred/schedule"
	"dullred/schedule/coldwork"
)

// replay goes through the entries of one piece, one by one.
type replay struct {
	ledger
	piece  schedule.Piece
	test   bool
	fires  []fire
	under  []int // by zone, the fire it is in or comes from; none without
	seen   map[*Counts]bool
	limits map[limitKey]coldwork.Limit
}

const none = -1

// piece counts one piece, given its standing entries in order. What came before
// the span is folded at once; what comes after is only read to learn how the heats
// of the span ended.
func (l ledger) piece(book *alloys.Book, entries []schedule.Entry) {
	inSpan := func(e schedule.Entry) bool { return l.span.holds(e.At) }
	first := slices.IndexFunc(entries, inSpan)
	if first < 0 {
		return
	}
	r := replay{ledger: l, piece: schedule.NewPiece(book, entries[:first]), test: isTest(entries),
		seen: map[*Counts]bool{}, limits: map[limitKey]coldwork.Limit{}}
	r.grow()
	for _, e := range entries[first:] {
		if !inSpan(e) && !r.burning() {
			break
		}
		r.step(e)
	}
	r.close()
}

// isTest reports whether a piece is worked until it splits, by its start.
func isTest(entries []schedule.Entry) bool {
	for _, e := range entries {
		if b, ok := e.Body.(schedule.Started); ok {
			return b.Test
		}
	}
	return false
}

func (r *replay) step(e schedule.Entry) {
	counted := r.span.holds(e.At) && logs(e)
	if !counted && !tells(e) {
		return
	}
	before := r.piece.State
	var at *Counts
	if counted {
		at = r.counts(e)
		r.count(at, &before, e)
	}
	r.piece.Add(e)
	r.grow()
	r.follow(at, &before, e)
}

// tells reports whether an entry may change what a piece folds to.
func tells(e schedule.Entry) bool {
	switch e.Kind() {
	case schedule.KindShown, schedule.KindRaised, schedule.KindAcknowledged, schedule.KindNote:
		return false
	}
	return true
}

// count adds one entry, given the state before it.
func (r *replay) count(at *Counts, before *schedule.State, e schedule.Entry) {
	if works(e) && !r.seen[at] {
		r.seen[at] = true
		if r.test {
			at.Tests++
		} else {
			at.Pieces++
		}
	}
	switch b := e.Body.(type) {
	case schedule.Pass:
		at.Courses += b.Count
		r.judge(at, before, e, b.Count)
	case schedule.CrackSeen:
		if !r.test && newCrack(before, e) {
			at.Splits++
		}
	}
}

// works reports whether somebody did something to the metal, which a reading, a
// sign, a plan or a note is not.
func works(e schedule.Entry) bool {
	switch e.Kind() {
	case schedule.KindPass, schedule.KindFiled, schedule.KindDressed, schedule.KindFluxed, schedule.KindJoint,
		schedule.KindBegun, schedule.KindReached, schedule.KindOut, schedule.KindQuenched, schedule.KindCool,
		schedule.KindPickled, schedule.KindRinsed, schedule.KindSoft, schedule.KindSpringy,
		schedule.KindCrackSeen, schedule.KindCrackFiled:
		return true
	}
	return false
}

// judge counts the courses of an entry that were struck at or over the limit.
func (r *replay) judge(at *Counts, before *schedule.State, e schedule.Entry, courses int) {
	if r.test {
		return
	}
	share, known := r.spent(before, e)
	switch {
	case !known:
		at.Unjudged += courses
	case share >= 1:
		at.Over += courses
	}
}

// spent is the largest share of its limit that a zone of an entry has spent. Metal
// that softens by itself never spends any; known is false where no zone has a
// section and a limit.
func (r *replay) spent(s *schedule.State, e schedule.Entry) (share float64, known bool) {
	if !s.Started || len(s.Silenced) > 0 {
		return 0, false
	}
	for _, i := range zones(s, e) {
		limit, z := r.limit(s, i), s.Zones[i]
		switch {
		case !z.Tally.Section().Known():
		case s.Alloy.SelfSoftening:
			known = true
		case limit.Known():
			known, share = true, max(share, float64(s.Worked(z, nil).Strain/limit.Strain))
		}
	}
	return share, known
}

// limitKey is what the limit of a zone follows from within one piece: intervals that
// end in an anneal or a crack teach it.
type limitKey struct {
	condition alloys.Condition
	intervals int
}

// limit is that of a zone as the advice has it. One advice for each key tells it: the
// forecast that every advice makes takes far longer than all else here.
func (r *replay) limit(s *schedule.State, i int) coldwork.Limit {
	key := limitKey{s.Zones[i].Condition, len(s.Intervals)}
	if _, known := r.limits[key]; !known {
		r.limits[key] = s.Advise(s.Last, nil).Zones[i].Limit
	}
	return r.limits[key]
}

// newCrack reports whether a crack is not one that is open already.
func newCrack(s *schedule.State, e schedule.Entry) bool {
	touched := zones(s, e)
	return len(touched) == 0 || slices.ContainsFunc(touched, func(i int) bool { return s.Zones[i].Crack != schedule.CrackOpen })
}

// zones are the places of those that an entry is about: all of them where it names
// none, or names the whole of a piece that has no zone of that name.
func zones(s *schedule.State, e schedule.Entry) (at []int) {
	_, own := s.Zone(schedule.Whole)
	all := len(e.Zones) == 0 || len(e.Zones) == 1 && e.Zones[0] == schedule.Whole && !own
	for i, z := range s.Zones {
		if all || slices.Contains(e.Zones, z.Name) {
			at = append(at, i)
		}
	}
	return at
}
