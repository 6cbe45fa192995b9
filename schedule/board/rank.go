package board

import (
	"slices"

	"dullred/schedule"
	"dullred/schedule/alert"
)

// Rank is how much a row presses. The order is a judgement: what splits or burns by
// itself, what splits with the next blow, what burns who touches it, what waits to be seen.
type Rank uint8

// The ranks, the most pressing first.
const (
	Danger Rank = iota // an alert of danger that nobody has seen
	Stop               // no more blows: past the limit, cracked, or to be quenched at once
	Hot                // some of it is hot
	Unseen             // another alert that nobody has seen
	Calm               // all else
)

// Rank is that of the worst about it.
func (r Row) Rank() Rank {
	switch {
	case r.Priority() == alert.Danger:
		return Danger
	case r.Piece != "" && (r.Verdict == schedule.VerdictAnnealNow || r.Verdict == schedule.VerdictFileCrack), r.Priority() == alert.Call:
		return Stop
	case !r.Hot.IsZero():
		return Hot
	case len(r.Alerts) > 0:
		return Unseen
	}
	return Calm
}

// signs are the words of verdicts that are read from afar, those of the bench screen
// where it has one of its own.
var signs = map[schedule.Verdict]string{
	schedule.VerdictNoAnneal: "WORK ON", schedule.VerdictCarryOn: "CARRY ON", schedule.VerdictAnnealSoon: "SOON", schedule.VerdictAnnealNow: "ANNEAL",
	schedule.VerdictProve: "PROVE IT", schedule.VerdictFileCrack: "CRACK", schedule.VerdictPickle: "PICKLE", schedule.VerdictFinished: "FINISHED",
}

// Sign is the word in capitals that is read from afar, of at most nine letters. That a
// piece is hot may stand beside it: see Row.Hot.
func (r Row) Sign() string {
	rank := r.Rank()
	switch {
	case rank == Danger:
		return "DANGER"
	case rank == Stop:
		return r.stopSign()
	case rank == Hot:
		return "HOT"
	case r.Piece == "":
		return r.Priority().String()
	}
	if word := signs[r.Verdict]; word != "" {
		return word
	}
	return "UNSURE"
}

// stopSign is why no more blows are to fall.
func (r Row) stopSign() string {
	called := func(c alert.Cause) bool {
		return slices.ContainsFunc(r.Alerts, func(a alert.Standing) bool { return a.Cause == c })
	}
	switch {
	case r.Verdict == schedule.VerdictFileCrack:
		return "CRACK"
	case called(alert.QuenchNow):
		return "QUENCH"
	}
	return "ANNEAL"
}
