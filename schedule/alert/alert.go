package alert

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"dullred/alloys/unit"
	"dullred/schedule"
)

// Priority says how soon the smith must act. The zero Priority is a prompt.
type Priority uint8

// The priorities.
const (
	Prompt Priority = iota // asked for: no alert
	Notice                 // within ten minutes
	Call                   // within a minute or two
	Danger                 // now
)

var priorityWords = [...]string{"READY", "NOTE", "ACT", "DANGER"}

// String is the word that leads the sentence of an alert.
func (p Priority) String() string { return priorityWords[min(int(p), len(priorityWords)-1)] }

// Marks are the signs of a priority beside its word.
func (p Priority) Marks() string { return strings.Repeat("!", int(p)) }

// Cause is what an alert is about.
type Cause string

// The causes.
const (
	AnnealSoon  Cause = "anneal soon"
	AnnealNow   Cause = "anneal now"
	SoakOver    Cause = "soak over"
	Overrun     Cause = "heat overrun"
	TorchLeft   Cause = "torch left lit"
	HotLeft     Cause = "hot piece left"
	QuenchReady Cause = "quench ready"
	QuenchNow   Cause = "quench now"
	PickleReady Cause = "pickle ready"
	PickleOver  Cause = "pickle overdue"
	WatchOver   Cause = "fire watch over"
	Ears        Cause = "ears"
	CrackOpen   Cause = "crack open"
)

// priorities of the causes.
var priorities = map[Cause]Priority{
	SoakOver: Prompt, PickleReady: Prompt, QuenchReady: Prompt,
	AnnealSoon: Notice, PickleOver: Notice, WatchOver: Notice, Ears: Notice, CrackOpen: Notice,
	AnnealNow: Call, QuenchNow: Call,
	Overrun: Danger, TorchLeft: Danger, HotLeft: Danger,
}

// Priority is that of the cause.
func (c Cause) Priority() Priority { return priorities[c] }

// answered reports whether an act of the smith ends an alert of the cause without
// a word: the heat that was called for, or the quench.
func (c Cause) answered() bool {
	return c == AnnealSoon || c == AnnealNow || c == QuenchNow || c == CrackOpen
}

// Alert is something to be told.
type Alert struct {
	Cause Cause
	Key   string      // two alerts with one key are one
	Piece schedule.ID // or the bench
	Name  string      // of the piece; empty for the bench
	Zones []string    // of the piece; empty is all of it
	Due   time.Time   // since when it holds
}

// Priority is that of its cause.
func (a Alert) Priority() Priority { return a.Cause.Priority() }

// Text is the alert without its priority: "ANNEAL NOW - spoon 2, bowl".
func (a Alert) Text() string {
	text := strings.ToUpper(string(a.Cause))
	if a.Cause == Ears {
		text += " - enough noise for today"
	}
	if a.Name != "" {
		text += " - " + a.Name
	}
	if len(a.Zones) > 0 && !slices.Equal(a.Zones, []string{schedule.Whole}) {
		text += ", " + strings.Join(a.Zones, ", ")
	}
	return text
}

// Sentence is the alert as one plain sentence, the priority first, with how late
// it is told.
func (a Alert) Sentence(late time.Duration) string {
	text := fmt.Sprintf("%v: %s", a.Priority(), a.Text())
	if late > 0 {
		text += ", late by " + unit.FormatDuration(late.Truncate(time.Second))
	}
	return text + "."
}

// Entry raises the alert: with the same id however often it is found.
func (a Alert) Entry(hand schedule.ID, bench schedule.ID, written time.Time) schedule.Entry {
	verdict := schedule.VerdictUnknown
	switch a.Cause {
	case AnnealSoon:
		verdict = schedule.VerdictAnnealSoon
	case AnnealNow:
		verdict = schedule.VerdictAnnealNow
	}
	return schedule.Entry{ID: a.id(), At: schedule.Moment(a.Due), Written: schedule.Moment(written), Bench: bench,
		Hand: hand, Piece: a.Piece, Zones: a.Zones, Version: 1,
		Body: schedule.Raised{Cause: a.Key, Verdict: verdict, What: string(a.Cause)}}
}

func (a Alert) id() schedule.ID { return schedule.DerivedID(a.Key, schedule.KindRaised) }
