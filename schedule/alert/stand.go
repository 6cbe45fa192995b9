package alert

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"dullred/schedule"
)

// Standing is an alert that is to be shown.
type Standing struct {
	Alert
	Raised schedule.Entry
	Acked  bool          // seen: silent, and shown as long as it holds
	Over   bool          // it no longer holds, but nobody has seen it
	Late   time.Duration // how long after it became due it could first be seen; 0 for at once
}

// Sentence is the alert as one plain sentence.
func (s Standing) Sentence() string {
	text := s.Alert.Sentence(s.Late)
	if s.Over {
		text = text[:len(text)-1] + " (over now)."
	}
	return text
}

// LateFrom is how long after it became due an alert that is shown says so.
const LateFrom = 10 * time.Second

// Unraised are the entries of alerts that nobody has raised yet: they are written
// before they are shown. Prompts are no alerts.
func Unraised(due []Alert, entries []schedule.Entry, by Writer) (raise []schedule.Entry) {
	for _, a := range due {
		id := a.id()
		known := func(e schedule.Entry) bool { return e.ID == id }
		if a.Priority() == Prompt || slices.ContainsFunc(entries, known) || slices.ContainsFunc(raise, known) {
			continue
		}
		raise = append(raise, a.Entry(by.Hand, by.Bench, by.Now))
	}
	return raise
}

// Writer is who raises alerts, and when.
type Writer struct {
	Bench, Hand schedule.ID
	Now         time.Time
}

// Stand gives what is to be shown of the alerts that were raised, the most urgent
// first and within that the oldest. From is when somebody could first look: the
// start of the program, or its return from sleep.
func Stand(due []Alert, entries []schedule.Entry, from time.Time) (all []Standing) {
	acked := Acknowledged(entries)
	dead := schedule.Voided(entries)
	for _, e := range entries {
		body, ok := e.Body.(schedule.Raised)
		if !ok || dead[e.ID] {
			continue
		}
		s := Standing{Alert: raisedAlert(e, body), Raised: e, Acked: !acked[e.ID].IsZero(), Over: true}
		if i := slices.IndexFunc(due, func(a Alert) bool { return a.id() == e.ID }); i >= 0 {
			s.Over, s.Name, s.Zones = false, due[i].Name, due[i].Zones
		}
		if s.Over && (s.Acked || s.Cause.answered() || s.Cause == "") {
			continue
		}
		s.Late = lateness(e, from)
		all = append(all, s)
	}
	slices.SortStableFunc(all, urgency)
	return all
}

// Acknowledged is when each alert was acknowledged, by the id of what raised it.
func Acknowledged(entries []schedule.Entry) map[schedule.ID]time.Time {
	at, dead := map[schedule.ID]time.Time{}, schedule.Voided(entries)
	for _, e := range entries {
		if a, ok := e.Body.(schedule.Acknowledged); ok && !dead[e.ID] {
			at[a.Alert] = e.At
		}
	}
	return at
}

// raisedAlert is an alert as its entry tells of it.
func raisedAlert(e schedule.Entry, body schedule.Raised) Alert {
	cause := Cause(body.What)
	if cause == "" {
		cause = Cause(body.Verdict.String()) // raised by a course alone
	}
	if _, known := priorities[cause]; !known {
		cause = ""
	}
	return Alert{Cause: cause, Key: body.Cause, Piece: e.Piece, Zones: e.Zones, Due: e.At}
}

// lateness is how long an alert was due before somebody could see it: because it
// was raised late, or because nobody could look until from.
func lateness(e schedule.Entry, from time.Time) time.Duration {
	late := e.Written.Sub(e.At)
	if e.Written.Before(from) {
		late = max(late, from.Sub(e.At))
	}
	if late < LateFrom {
		return 0
	}
	return late
}

func urgency(x, y Standing) int {
	return cmp.Or(cmp.Compare(boolean(x.Acked), boolean(y.Acked)), cmp.Compare(y.Priority(), x.Priority()), x.Due.Compare(y.Due))
}

func boolean(b bool) int {
	if b {
		return 1
	}
	return 0
}

// flood is how many alerts in a short while are one too many to be read one by
// one (ten in ten minutes: EEMUA 191, as quoted).
const flood = 10

// Summary is one line for a flood: more than ten alerts that could not be seen
// when they became due. It is empty for no flood.
func Summary(all []Standing) string {
	var late []Standing
	for _, s := range all {
		if s.Late > 0 && !s.Acked && !s.Over {
			late = append(late, s)
		}
	}
	if len(late) <= flood {
		return ""
	}
	return fmt.Sprintf("%d alerts came due while nobody looked; first %s", len(late), late[0].Text())
}
