package main

import (
	"errors"
	"io/fs"
	"os"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"dullred/schedule"
	"dullred/schedule/class"
	"dullred/schedule/record"
)

// dateLayout is how a day is written.
const dateLayout = "2006-01-02"

// classFlags is what class was given.
type classFlags struct{ on, from, to string }

func (a *app) classCommand() *cobra.Command {
	var f classFlags
	cmd := &cobra.Command{
		Use:   "class",
		Short: "one page for each lesson: who anneals too early or too late",
		Long: `One page of at most 80 columns and 60 lines for each lesson, which is a day with
entries, by local time: for each hand its pieces and courses, how many courses were
struck at or over the limit, heats proved soft and never proved, splits, and what came
of the drill. The line under the totals is about the class and names nobody. More hands
than fit go on to a second page with the same head.

An entry counts for the hand it was logged under, a heat for the one who began it.
Over the limit is reckoned from the entries by the tables of today. A hand without a
label, after dullred forget, is "unnamed 1".`,
		Example: `  dullred class                         (the latest day with entries)
  dullred class --on 2024-03-05
  dullred class --from 2024-03-01 --to 2024-03-31`,
		Args: names(),
		RunE: func(*cobra.Command, []string) error {
			return a.onBench(func(b *bench) error { return a.class(b, f) })
		},
	}
	cmd.Flags().StringVar(&f.on, "on", "", "the lesson of this `DATE`, as 2006-01-02 (default: the latest)")
	cmd.Flags().StringVar(&f.from, "from", "", "every lesson from this `DATE` on")
	cmd.Flags().StringVar(&f.to, "to", "", "every lesson up to this `DATE`, with it")
	return cmd
}

// span is the days that were asked for; the zero Span is the latest lesson.
func (f classFlags) span(place *time.Location) (span class.Span, err error) {
	if f.on != "" && f.from+f.to != "" {
		return span, refuse("give --on, or --from and --to", "--on is one day, --from and --to are many")
	}
	if f.on != "" {
		return dayNamed(f.on, place)
	}
	if f.from != "" {
		day, err := dayNamed(f.from, place)
		if err != nil {
			return span, err
		}
		span.From = day.From
	}
	if f.to != "" {
		day, err := dayNamed(f.to, place)
		if err != nil {
			return span, err
		}
		span.Until = day.Until
	}
	if f.from != "" && f.to != "" && !span.From.Before(span.Until) {
		return span, refuse("change them round", "--from %.20s is after --to %.20s", f.from, f.to)
	}
	return span, nil
}

func dayNamed(date string, place *time.Location) (class.Span, error) {
	t, err := time.ParseInLocation(dateLayout, date, place)
	if err != nil || !schedule.Plausible(t) {
		return class.Span{}, refuse("write a day as 2024-03-05", "%.60q is not a day of a calendar", date)
	}
	return class.DayOf(t), nil
}

// words say which days were asked for.
func (f classFlags) words() string {
	switch {
	case f.on != "":
		return "on " + f.on
	case f.from != "" && f.to != "":
		return "from " + f.from + " to " + f.to
	case f.from != "":
		return "since " + f.from
	}
	return "up to " + f.to
}

func (a *app) class(b *bench, f classFlags) error {
	span, err := f.span(a.now().Location())
	if err != nil {
		return err
	}
	who, err := b.people()
	if err != nil {
		return err
	}
	shop := class.Shop{Book: b.book, Place: a.now().Location(), Span: span}
	if shop.Drilled, err = a.classDrilled(b, who); err != nil {
		return err
	}
	if err := b.fill(&shop); err != nil {
		return err
	}
	lessons := shop.Lessons()
	if len(lessons) == 0 {
		return b.noLesson(shop, f)
	}
	called := who.callAll(lessons)
	return a.answer(classOf(lessons, called), classText(lessons, called))
}

// noLesson says that nothing was logged, and when something was.
func (b *bench) noLesson(shop class.Shop, f classFlags) error {
	shop.Span, shop.Pieces = class.Span{}, nil
	if err := b.fill(&shop); err != nil {
		return err
	}
	lessons := shop.Lessons()
	if len(lessons) == 0 {
		return &fault{Code: exitNotFound, Err: errors.New("no hand has logged anything yet"), Kept: "nothing was changed",
			Do: "begin a piece with dullred piece new, and log its courses with dullred pass"}
	}
	return &fault{Code: exitNotFound, Err: errors.New("no hand has logged anything " + f.words()), Kept: "nothing was changed",
		Do: "the latest lesson is that of dullred class --on " + lessons[0].Day.Format(dateLayout)}
}

// firstLook is how many of each hand's latest entries are looked at for the day of the
// latest lesson (a judgement; where they make none, all that is later is read).
const firstLook = 16

// fill reads the pieces of a shop: every one that an entry of its span is about, or of
// the day of the latest lesson where the span is zero. No other piece is read but a few
// of the latest, to find that day.
func (b *bench) fill(shop *class.Shop) error {
	var err error
	if (shop.Span == class.Span{}) {
		if shop.Span, err = b.latestSpan(*shop); err != nil || (shop.Span == class.Span{}) {
			return err
		}
	}
	ids, err := b.rec.Between(spanOf(shop.Span))
	if err != nil {
		return err
	}
	shop.Pieces, err = b.entriesOfPieces(ids)
	for i, entries := range shop.Pieces {
		shop.Pieces[i] = slices.Concat(b.steps, entries) // as a piece is folded elsewhere
	}
	return err
}

// spanOf is a span as the record knows it.
func spanOf(s class.Span) (span record.Span) {
	if !s.From.IsZero() {
		span.From = s.From.UnixMicro()
	}
	if !s.Until.IsZero() {
		span.Until = s.Until.UnixMicro()
	}
	return span
}

func (b *bench) entriesOfPieces(ids []string) (pieces [][]schedule.Entry, err error) {
	for _, id := range ids {
		rows, err := b.rec.Piece(id)
		if err != nil {
			return nil, err
		}
		pieces = append(pieces, entriesOf(rows))
	}
	return pieces, nil
}

// latestSpan is the day of the latest lesson: that of the pieces which the latest
// entries of each hand are about, unless there is a later one in what was logged since.
func (b *bench) latestSpan(shop class.Shop) (span class.Span, err error) {
	known := map[string]bool{}
	ids, err := b.rec.Lately(firstLook)
	for err == nil {
		ids = slices.DeleteFunc(ids, func(id string) bool { return known[id] })
		if len(ids) == 0 {
			return span, nil
		}
		for _, id := range ids {
			known[id] = true
		}
		var more [][]schedule.Entry
		if more, err = b.entriesOfPieces(ids); err != nil {
			break
		}
		shop.Pieces = append(shop.Pieces, more...)
		span = latestDay(shop)
		ids, err = b.rec.Between(spanOf(class.Span{From: span.Until}))
	}
	return span, err
}

// latestDay is the day of the newest entry that makes a lesson, at the pieces or at
// the drill; the zero Span where there is none.
func latestDay(shop class.Shop) class.Span {
	var newest time.Time
	for _, entries := range append(shop.Pieces, shop.Drilled) {
		if at, ok := class.Newest(entries); ok && at.After(newest) {
			newest = at
		}
	}
	if newest.IsZero() {
		return class.Span{}
	}
	return class.DayOf(newest.In(shop.Place))
}

// classDrilled are the lessons at the simulated bar, under the ids that the hands have
// in the record. The file of lessons has ids of its own, so that hands are the same
// by their labels; one that never worked a piece keeps its id and joins the people.
func (a *app) classDrilled(b *bench, who people) ([]schedule.Entry, error) {
	path, err := a.lessonsPath()
	if err != nil {
		return nil, err
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return nil, nil // reading makes no file
	}
	book, err := a.openLessons()
	if err != nil {
		return nil, err
	}
	all, err := book.lessons()
	if err != nil {
		return nil, errors.Join(err, book.close())
	}
	same, err := book.sameHands(b, who)
	for i, e := range all {
		if id, found := same[e.Hand]; found {
			all[i].Hand = id
		}
	}
	return all, errors.Join(err, book.close())
}

// sameHands are the ids in a record of the hands of this one, by label.
func (b *bench) sameHands(other *bench, who people) (map[schedule.ID]schedule.ID, error) {
	labels, err := b.rec.Labels(record.HandClass)
	if err != nil {
		return nil, err
	}
	same := map[schedule.ID]schedule.ID{}
	for _, l := range labels {
		id, found, err := other.rec.LabelID(record.HandClass, l.Text)
		if err != nil {
			return nil, err
		}
		if found {
			same[schedule.ID(l.ID)] = schedule.ID(id)
		} else {
			who[schedule.ID(l.ID)] = l.Text
		}
	}
	return same, nil
}

// people is what the hands are called, by id.
type people map[schedule.ID]string

func (b *bench) people() (people, error) {
	labels, err := b.rec.Labels(record.HandClass)
	who := people{}
	for _, l := range labels {
		who[schedule.ID(l.ID)] = l.Text
	}
	return who, err
}

// callAll are printable names of every hand of some lessons; those without a label
// are numbered in the order of their ids.
func (p people) callAll(lessons []class.Lesson) people {
	called := people{}
	var nameless []schedule.ID
	for _, l := range lessons {
		for _, r := range l.Rows {
			called[r.Hand] = clean(p[r.Hand])
			if called[r.Hand] == "" && !slices.Contains(nameless, r.Hand) {
				nameless = append(nameless, r.Hand)
			}
		}
	}
	slices.Sort(nameless)
	for i, id := range nameless {
		called[id] = unnamed(i + 1)
	}
	return called
}
