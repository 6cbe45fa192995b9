package main

import (
	"dullred/schedule"
	"dullred/schedule/record"
)

// hint is one line for who uses the program for the first time: the command that comes
// next. It is said of the only piece of a record, and no longer once that was done.
func (a *app) hint(b *bench, p *piece, verdict schedule.Verdict) error {
	if a.json {
		return nil
	}
	text := firstHint(p, verdict)
	if text == "" {
		return nil
	}
	alone, err := b.onlyPiece()
	if err == nil && alone {
		a.printf("%s", wrap("hint    ", "        ", text))
	}
	return err
}

// fewEntries is how many a first evening has at most; a longer record is not counted.
const fewEntries = 100

func (b *bench) onlyPiece() (bool, error) {
	entries, err := b.rec.IDs("", fewEntries)
	if err != nil || len(entries) == fewEntries {
		return false, err
	}
	pieces, err := b.rec.Labels(record.PieceClass)
	return len(pieces) == 1, err
}

func firstHint(p *piece, verdict schedule.Verdict) string {
	done := map[schedule.Kind]bool{}
	for _, e := range p.entries {
		done[e.Kind()] = true
	}
	switch {
	case done[schedule.KindReached] || done[schedule.KindOut]:
		return ""
	case done[schedule.KindBegun]:
		return "when its colour is there: dullred heat reach " + asWord(p.name) + "; then heat out, quench and, once it bends dead, proved soft"
	case verdict == schedule.VerdictAnnealNow:
		return "when it goes into the flame: dullred heat begin " + asWord(p.name)
	case !done[schedule.KindPass]:
		return "after each course: dullred pass " + asWord(p.name) + " and what the calliper says, or without; at the bench screen (dullred) it is the space bar"
	}
	return ""
}

// emptyHint is what a record without a piece says.
const emptyHint = "no pieces yet: dullred piece new NAME --alloy sterling --size 8x8\n" +
	"hint    dullred help is a short guide, dullred bench --demo a class to look at\n"
