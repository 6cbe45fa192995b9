package main

import (
	"encoding/json"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"dullred/schedule"
	"dullred/schedule/record"
)

// among is which entries are meant, as log and totals are told.
type among struct{ alloy, hand, from, to string }

func (f *among) flags(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.StringVar(&f.alloy, "alloy", "", "of pieces of this metal only, by name, number or fineness")
	flags.StringVar(&f.hand, "hand", "", "by this hand only, by initials or number")
	flags.StringVar(&f.from, "from", "", "from this `DATE` on: 2026-03-01, or a month 2026-03, or a year 2026")
	flags.StringVar(&f.to, "to", "", "up to this `DATE`, with the whole of it")
}

// sought is what entries are looked for by, as log is told.
type sought struct {
	among
	kind, text string
	limit      int
	limited    bool // --limit was given
	count      bool
}

func (f *sought) flags(cmd *cobra.Command) {
	f.among.flags(cmd)
	flags := cmd.Flags()
	flags.StringVar(&f.kind, "kind", "", "of this kind only, by its name or how that begins: \"heat begun\", heat")
	flags.StringVar(&f.text, "text", "", "with this text in a note, mark, stock, solder, tool or other words, or in the name of the piece;\n"+
		"case and accents make no difference, and no character means another")
	flags.IntVar(&f.limit, "limit", 0, "no more than the newest `N` of them")
	flags.BoolVar(&f.count, "count", false, "only how many there are")
}

// any reports whether a search is asked for, and not the whole log.
func (f sought) any() bool {
	return f.limited || f.count || f.among != among{} || f.kind != "" || f.text != ""
}

// search turns what was typed into what the record is asked. Where nothing can be
// found, as no piece is of the metal, the list of pieces is empty and not nil.
func (b *bench) search(f sought, args []string, place *time.Location) (q record.Search, err error) {
	switch {
	case f.limited && f.limit < 1:
		return q, refuse("give 1 or more", "--limit %d shows nothing", f.limit)
	case f.limited && f.count:
		return q, refuse("give one of them", "--count counts all that is found, and --limit shows some of it")
	}
	if q.Span, err = f.span(place); err != nil {
		return q, err
	}
	if q.Kinds, err = kindsNamed(f.kind); err != nil {
		return q, err
	}
	if q.Hand, err = b.handMeant(f.hand); err != nil {
		return q, err
	}
	if q.Pieces, err = b.piecesMeant(f.alloy, args); err != nil {
		return q, err
	}
	q.Said, err = b.said(f.text)
	q.Newest = f.limited
	return q, err
}

// span is the days from one to another, by local time.
func (f among) span(place *time.Location) (s record.Span, err error) {
	var from, to period
	if f.from != "" {
		if from, err = periodNamed(f.from, place); err != nil {
			return s, err
		}
		s.From = from.begins.UnixMicro()
	}
	if f.to != "" {
		if to, err = periodNamed(f.to, place); err != nil {
			return s, err
		}
		s.Until = to.ends.UnixMicro()
	}
	if f.from != "" && f.to != "" && s.From >= s.Until {
		return s, refuse("change them round", "--from %.20s is after --to %.20s", f.from, f.to)
	}
	return s, nil
}

// period is a day, a month or a year.
type period struct{ begins, ends time.Time }

func periodNamed(date string, place *time.Location) (period, error) {
	for _, p := range []struct {
		layout              string
		years, months, days int
	}{{dateLayout, 0, 0, 1}, {"2006-01", 0, 1, 0}, {"2006", 1, 0, 0}} {
		t, err := time.ParseInLocation(p.layout, date, place)
		if err == nil && schedule.Plausible(t) {
			return period{t, t.AddDate(p.years, p.months, p.days)}, nil
		}
	}
	return period{}, refuse("write 2026-03-05, or a month as 2026-03, or a year as 2026", "%.60q is not a day, month or year of a calendar", date)
}

// everyKind are the kinds that entries of this version may have, in the order in which
// a person reads them, and those to come.
var everyKind = append([]schedule.Kind{
	schedule.KindStarted, schedule.KindPass, schedule.KindMeasured, schedule.KindBegun, schedule.KindReached, schedule.KindOut,
	schedule.KindQuenched, schedule.KindCool, schedule.KindPickled, schedule.KindRinsed, schedule.KindSoft, schedule.KindSpringy,
	schedule.KindSign, schedule.KindFluxed, schedule.KindJoint, schedule.KindFiled, schedule.KindDressed, schedule.KindCrackSeen,
	schedule.KindCrackFiled, schedule.KindCrackIgnored, schedule.KindWeighed, schedule.KindPhoto, schedule.KindFinished,
	schedule.KindPlan, schedule.KindTrace, schedule.KindNote, schedule.KindVoid, schedule.KindShown, schedule.KindRaised,
	schedule.KindAcknowledged, schedule.KindLoosened, schedule.KindDrilled, schedule.KindTorchLit, schedule.KindTorchOut,
	schedule.KindLight, schedule.KindClockStep, schedule.KindNoise, schedule.KindBath,
}, schedule.Reserved()...)

// kindsNamed is the kind of a name, or all that begin so; nil for no name.
func kindsNamed(name string) (kinds []string, err error) {
	if name == "" {
		return nil, nil
	}
	var all []string
	want := strings.ToLower(strings.Join(strings.Fields(name), " "))
	for _, kind := range everyKind {
		if string(kind) == want {
			return []string{want}, nil
		}
		if want != "" && strings.HasPrefix(string(kind), want) {
			kinds = append(kinds, string(kind))
		}
		all = append(all, string(kind))
	}
	if len(kinds) == 0 {
		return nil, refuse("the kinds are "+strings.Join(all[:len(all)-len(schedule.Reserved())], ", "), "%.60q is not a kind of entry", name)
	}
	return kinds, nil
}

// handMeant is the id of a hand by its label; "" where none is given.
func (b *bench) handMeant(name string) (string, error) {
	if name == "" {
		return "", nil
	}
	id, found, err := b.rec.LabelID(record.HandClass, name)
	if err != nil || found {
		return id, err
	}
	labels, err := b.rec.Labels(record.HandClass)
	if err != nil {
		return "", err
	}
	do := "no hand has logged anything yet"
	if near := nearestLabels(name, labels); len(near) > 0 {
		do = "the record has " + strings.Join(near, ", ")
	}
	return "", missing(do, "there is no hand named %.60q", name)
}

// nearestLabels are the few texts most like the one that was typed, the likest first.
func nearestLabels(name string, labels []record.Label) (texts []string) {
	const most, longest = 5, 40
	cut := func(s string) string { r := []rune(record.Fold(s)); return string(r[:min(longest, len(r))]) }
	far := map[string]int{}
	for _, l := range labels {
		texts = append(texts, l.Text)
		far[l.Text] = letters(cut(name), cut(l.Text))
	}
	slices.SortStableFunc(texts, func(x, y string) int { return far[x] - far[y] })
	return texts[:min(most, len(texts))]
}

// piecesMeant are the ids of the piece of a name, or of those of a metal, or of what is
// both; nil where neither is given.
func (b *bench) piecesMeant(alloy string, args []string) (ids []string, err error) {
	if len(args) == 1 {
		label, found, err := b.rec.LabelNamed(record.PieceClass, args[0])
		if err == nil && !found {
			err = b.noPiece(args[0])
		}
		if err != nil {
			return nil, err
		}
		ids = []string{label.ID}
	}
	if alloy == "" {
		return ids, nil
	}
	metal, err := b.book.Find(alloy)
	if err != nil {
		return nil, err
	}
	of, err := b.piecesOfAlloy(string(metal.ID))
	if err != nil || ids == nil {
		return of, err
	}
	return slices.DeleteFunc(ids, func(id string) bool { return !slices.Contains(of, id) }), nil
}

// piecesOfAlloy are the pieces that were started of a metal, and the start not taken back.
func (b *bench) piecesOfAlloy(id string) ([]string, error) {
	dead, err := b.dead()
	if err != nil {
		return nil, err
	}
	ids := []string{}
	for row, err := range b.rec.Bodies(string(schedule.KindStarted)) {
		if err != nil {
			return nil, err
		}
		var begun struct{ Alloy string }
		if json.Unmarshal([]byte(row.Body), &begun) == nil && begun.Alloy == id && !dead[schedule.ID(row.ID)] {
			ids = append(ids, row.Piece)
		}
	}
	return ids, nil
}

// dead are the entries of the whole record that were taken back.
func (b *bench) dead() (map[schedule.ID]bool, error) {
	var voids []schedule.Entry
	for row, err := range b.rec.Bodies(string(schedule.KindVoid)) {
		if err != nil {
			return nil, err
		}
		var v schedule.Void
		if json.Unmarshal([]byte(row.Body), &v) == nil {
			voids = append(voids, schedule.Entry{ID: schedule.ID(row.ID), Body: v})
		}
	}
	return schedule.Voided(voids), nil
}
