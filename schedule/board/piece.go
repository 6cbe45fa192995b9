package board

import (
	"cmp"
	"slices"
	"sync"
	"time"

	"dullred/schedule"
	"dullred/schedule/alert"
)

// piece is one piece. It is folded beside what goes on, since to fold is most of the work
// of a board that begins, and its reader waits for the next piece meanwhile.
type piece struct {
	id      string
	folding sync.WaitGroup // to be waited for before anything below is used
	folded  schedule.Piece
	ids     map[string]bool  // of the entries that are in it
	alerts  []schedule.Entry // those that raise, acknowledge and take back
	bench   schedule.ID      // where it was last
	there   time.Time        // when it was there
	last    time.Time
	advice  schedule.Advice
}

// newPiece begins to fold a piece of all its entries and the clock steps of the benches.
func newPiece(id string, rows []schedule.Row, steps []schedule.Entry) *piece {
	p := &piece{id: id, ids: map[string]bool{}}
	entries := slices.Clone(steps)
	for _, r := range rows {
		if e, fresh := p.note(r); fresh {
			entries = append(entries, e)
		}
	}
	p.folding.Go(func() {
		p.folded = schedule.NewPiece(nil, entries)
		p.advise()
	})
	return p
}

// add folds one entry more; one that is there already changes nothing.
func (p *piece) add(r schedule.Row) {
	p.folding.Wait()
	if e, fresh := p.note(r); fresh {
		p.step(e)
	}
}

// step folds an entry, which may be the step of a clock, and reckons the advice anew.
func (p *piece) step(e schedule.Entry) {
	p.folding.Wait()
	p.folded.Add(e)
	p.advise()
}

// advise reckons what follows from the entries. The words that depend on the moment are
// not shown here, so the moment of the last entry does for it.
func (p *piece) advise() { p.advice = p.folded.State.Advise(p.last, nil) }

// note keeps of an entry what the fold does not, and reports whether it is a new one.
func (p *piece) note(r schedule.Row) (schedule.Entry, bool) {
	if p.ids[r.ID] {
		return schedule.Entry{}, false
	}
	p.ids[r.ID] = true
	e := schedule.DecodeAll([]schedule.Row{r})[0]
	if alarms(e.Kind()) {
		p.alerts = append(p.alerts, e)
	}
	if !e.At.Before(p.last) {
		p.last = e.At
	}
	switch from := cmp.Or(e.Bench, schedule.ID(r.Bench)); {
	case told(e.Kind()):
		p.bench = cmp.Or(p.bench, from)
	case !e.At.Before(p.there):
		p.there, p.bench = e.At, from
	}
	return e, true
}

// told reports whether a kind can be of a bench that the piece was never at, to which its
// alerts are told as well.
func told(k schedule.Kind) bool {
	switch k {
	case schedule.KindRaised, schedule.KindAcknowledged, schedule.KindShown:
		return true
	}
	return false
}

// alarms reports whether a kind says what became of an alert.
func alarms(k schedule.Kind) bool {
	return k == schedule.KindRaised || k == schedule.KindAcknowledged || k == schedule.KindVoid
}

// hot is since when some of the metal is hot; zero when none is.
func (p *piece) hot() (since time.Time) {
	for _, z := range p.folded.State.Zones {
		at := z.Heat.Begun
		if at.IsZero() {
			at = z.Heat.At
		}
		if z.Heat.Phase.Hot() && (since.IsZero() || at.Before(since)) {
			since = at
		}
	}
	return since
}

// dark reports whether some of the metal is hot and out of the flame.
func (p *piece) dark() bool {
	return slices.ContainsFunc(p.folded.State.Zones, func(z schedule.Zone) bool { return z.Heat.Phase == schedule.OutOfFlame })
}

// latched are the alerts that were raised, still stand and were not acknowledged.
func (p *piece) latched(now time.Time) []alert.Standing {
	if len(p.alerts) == 0 {
		return nil
	}
	state := &p.folded.State
	due := alert.Find([]alert.Piece{{State: state, Advice: p.advice}}, alert.Bench{Limits: alert.Usual()}, now)
	return unseen(alert.Stand(append(due, p.calls()...), p.alerts, time.Time{}))
}

// calls are the calls for an anneal of the bench that hold although the board would not
// have made them yet, because the bench has learned more: the zone is cold, was not made
// soft since, and nothing was taken back that could have been their cause.
func (p *piece) calls() (all []alert.Alert) {
	for _, e := range p.alerts {
		b, ok := e.Body.(schedule.Raised)
		if !ok || p.tookBack(e.Written) {
			continue
		}
		for _, z := range p.folded.State.Zones {
			if z.Heat.Phase == schedule.Cold && z.Pickle.In.IsZero() && z.Crack != schedule.CrackOpen && p.lies(z, b) {
				all = append(all, alert.Alert{Cause: alert.Cause(cmp.Or(b.What, b.Verdict.String())), Key: b.Cause, Piece: e.Piece, Zones: []string{z.Name}, Due: e.At})
			}
		}
	}
	return all
}

// lies reports whether a call is for a zone as it lies there, and no later verdict has
// taken its place.
func (p *piece) lies(z schedule.Zone, b schedule.Raised) bool {
	key := func(v schedule.Verdict) string { return schedule.WorkCause(schedule.ID(p.id), z.Name, z.Since, v) }
	switch b.Cause {
	case key(schedule.VerdictAnnealNow):
		return true
	case key(schedule.VerdictAnnealSoon):
		return p.verdict(z.Name) != schedule.VerdictAnnealNow && !p.raised(key(schedule.VerdictAnnealNow))
	}
	return false
}

func (p *piece) verdict(zone string) schedule.Verdict {
	for _, z := range p.advice.Zones {
		if z.Zone == zone {
			return z.Verdict
		}
	}
	return schedule.VerdictUnknown
}

func (p *piece) raised(cause string) bool {
	return slices.ContainsFunc(p.alerts, func(e schedule.Entry) bool {
		b, ok := e.Body.(schedule.Raised)
		return ok && b.Cause == cause
	})
}

// tookBack reports whether something was taken back after a moment.
func (p *piece) tookBack(since time.Time) bool {
	return slices.ContainsFunc(p.alerts, func(e schedule.Entry) bool {
		return e.Kind() == schedule.KindVoid && e.Written.After(since)
	})
}

func unseen(all []alert.Standing) []alert.Standing {
	return slices.DeleteFunc(all, func(s alert.Standing) bool { return s.Acked })
}
