package schedule

import (
	"slices"
	"time"
)

// tick is the smallest step of a Moment. What follows from a pass is dated one
// or two behind it, since within one instant the order is that of the ids.
const tick = time.Microsecond

// Keep is the entry that keeps advice as it was shown after a pass, dated right
// behind it, and with the same id however often it is made.
func (a Advice) Keep(after Entry, written time.Time) Entry {
	return Entry{ID: DerivedID(string(after.ID), KindShown), At: after.At.Add(tick), Written: Moment(written), Bench: after.Bench, Hand: after.Hand,
		Piece: after.Piece, Version: bodyVersion, Body: Shown{After: after.ID, Verdict: a.Verdict, Zone: a.Zone,
			Worked: float64(a.Worked()), Spent: a.Spent, Limit: float64(a.Limit.Strain), Table: a.tables.Version()}}
}

// Alert is the entry that raises an alert for a zone whose work calls for an
// anneal, once for each interval between anneals and each verdict; ok is false
// when nothing calls or entries already hold it.
func (a Advice) Alert(s *State, after Entry, written time.Time, entries []Entry) (e Entry, ok bool) {
	if a.Verdict != VerdictAnnealSoon && a.Verdict != VerdictAnnealNow {
		return Entry{}, false
	}
	zone, _ := s.Zone(a.Zone)
	cause := WorkCause(s.Piece, a.Zone, zone.Since, a.Verdict)
	id := DerivedID(cause, KindRaised)
	if slices.ContainsFunc(entries, func(e Entry) bool { return e.ID == id }) {
		return Entry{}, false
	}
	return Entry{ID: id, At: after.At.Add(2 * tick), Written: Moment(written), Bench: after.Bench, Hand: after.Hand,
		Piece: s.Piece, Zones: []string{a.Zone}, Version: bodyVersion, Body: Raised{Cause: cause, Verdict: a.Verdict}}, true
}

// WorkCause names the cause of an alert that work calls for: once for each
// interval between anneals, zone and verdict.
func WorkCause(piece ID, zone string, since ID, v Verdict) string {
	return string(piece) + "/" + zone + "/" + string(since) + "/" + v.String()
}

// Follow is an entry with what is written together with it: behind a pass, the
// advice that is shown and the alert that it raises. The state, the entries and
// the advice have the entry in them already.
func (a Advice) Follow(s *State, e Entry, written time.Time, entries []Entry) []Entry {
	news := []Entry{e}
	if _, pass := e.Body.(Pass); !pass {
		return news
	}
	news = append(news, a.Keep(e, written))
	if alert, due := a.Alert(s, e, written, entries); due {
		news = append(news, alert)
	}
	return news
}

// Unacknowledged are the alerts among entries that nobody acknowledged, oldest first.
func Unacknowledged(entries []Entry) (open []Entry) {
	ended := map[ID]bool{}
	entries = effective(sorted(entries))
	for _, e := range entries {
		if a, ok := e.Body.(Acknowledged); ok {
			ended[a.Alert] = true
		}
	}
	for _, e := range entries {
		if _, ok := e.Body.(Raised); ok && !ended[e.ID] {
			open = append(open, e)
		}
	}
	return open
}

// Acknowledge is the entry that acknowledges an alert, the same however often it is made.
func Acknowledge(alert Entry, bench, hand ID, now time.Time) Entry {
	return Entry{ID: DerivedID(string(alert.ID), KindAcknowledged), At: Moment(now), Written: Moment(now),
		Bench: bench, Hand: hand, Piece: alert.Piece, Zones: alert.Zones, Version: bodyVersion,
		Body: Acknowledged{Alert: alert.ID}}
}
