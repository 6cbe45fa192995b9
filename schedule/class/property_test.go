package class_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/class"
	"dullred/schedule/coldwork"
)

// shops are some pieces of a class: everything that is counted and some that is
// not, by three hands over four days, with voids of anything.
var shops = rapid.Custom(func(t *rapid.T) class.Shop {
	shop := class.Shop{Place: quay}
	for p := range rapid.IntRange(1, 5).Draw(t, "pieces") {
		shop.Pieces = append(shop.Pieces, history(p+1).Draw(t, fmt.Sprint("piece ", p+1)))
	}
	for n := range rapid.IntRange(0, 6).Draw(t, "lessons") {
		count := rapid.IntRange(0, 9)
		e := lesson(n, anyHand.Draw(t, "hand"), schedule.Drilled{Asked: count.Draw(t, "asked"), Error: rapid.Float64Range(-5, 5).Draw(t, "error"),
			Heats: count.Draw(t, "heats"), Wasted: count.Draw(t, "wasted"), Splits: count.Draw(t, "splits")})
		e.At = anyTime.Draw(t, "at")
		shop.Drilled = append(shop.Drilled, e)
	}
	return shop
})

var anyHand = rapid.SampledFrom([]schedule.ID{kw, mb, idOf(3, 3)})

var anyTime = rapid.Map(rapid.IntRange(0, 4*24*60), func(minute int) time.Time {
	return evening.Add(time.Duration(minute) * time.Minute).UTC()
})

var anyZones = rapid.SampledFrom([][]string{nil, nil, {"tip"}, {"butt"}, {"tip", "butt"}})

func history(number int) *rapid.Generator[[]schedule.Entry] {
	return rapid.Custom(func(t *rapid.T) []schedule.Entry {
		start := rod("tip", "butt")
		start.Test, start.Cast = rapid.Bool().Draw(t, "test"), rapid.Bool().Draw(t, "cast")
		s := piece(number, start)
		for range rapid.IntRange(0, 20).Draw(t, "entries") {
			s.on(anyHand.Draw(t, "hand"), anyZones.Draw(t, "zones"), anyBody(s).Draw(t, "body"))
			s.entries[len(s.entries)-1].At = anyTime.Draw(t, "at")
		}
		return s.entries
	})
}

func anyBody(s *story) *rapid.Generator[schedule.Body] {
	return rapid.Custom(func(t *rapid.T) schedule.Body {
		unread := schedule.Pass{Process: coldwork.Lengthen, Count: rapid.IntRange(1, 3).Draw(t, "count")}
		read := to(unit.Millimetre(rapid.Float64Range(3, 8).Draw(t, "side")))
		target := rapid.SampledFrom(s.entries).Draw(t, "target").ID
		return rapid.SampledFrom([]schedule.Body{unread, unread, read, read, schedule.Begun{}, schedule.Reached{}, schedule.Out{},
			schedule.Quenched{}, schedule.Quenched{}, schedule.Soft{}, schedule.Soft{}, schedule.Springy{}, schedule.CrackSeen{}, schedule.CrackFiled{},
			schedule.FoundCool{}, schedule.Pickled{}, schedule.Measured{Reading: read.Reading}, schedule.Shown{}, schedule.Note{Text: "n"},
			schedule.Jointed{Joint: "seam", Solder: "hard", Solidus: 700, Flow: 730}, schedule.Void{Target: target}}).Draw(t, "body")
	})
}

func TestTotalIsTheSumOfTheRows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, l := range shops.Draw(t, "shop").Lessons() {
			var courses, heats, over, splits, lessons int
			for _, r := range l.Rows {
				courses, heats, over, splits, lessons = courses+r.Courses, heats+r.Heats, over+r.Over, splits+r.Splits, lessons+r.Drill.Lessons
			}
			all := l.Total()
			require.Equal(t, []int{courses, heats, over, splits, lessons}, []int{all.Courses, all.Heats, all.Over, all.Splits, all.Drill.Lessons})
		}
	})
}

func TestOrderDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shop := shops.Draw(t, "shop")
		mixed := shop
		mixed.Pieces = rapid.Permutation(shop.Pieces).Draw(t, "pieces")
		mixed.Drilled = rapid.Permutation(shop.Drilled).Draw(t, "drilled")
		for i, entries := range mixed.Pieces {
			mixed.Pieces[i] = rapid.Permutation(entries).Draw(t, "entries")
		}
		require.Equal(t, shop.Lessons(), mixed.Lessons())
	})
}

func TestWhatWasTakenBackDoesNotCount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shop := shops.Draw(t, "shop")
		with, without := shop, shop
		with.Pieces, without.Pieces = slices.Clone(shop.Pieces), slices.Clone(shop.Pieces)
		last := &story{number: 1, entries: shop.Pieces[0]}
		n := len(last.entries)
		last.on(anyHand.Draw(t, "hand"), anyZones.Draw(t, "zones"), anyBody(&story{entries: shop.Pieces[0]}).Filter(func(b schedule.Body) bool {
			return b.Kind() != schedule.KindVoid
		}).Draw(t, "body"))
		last.entries[n].At = anyTime.Draw(t, "at")
		with.Pieces[0] = last.on(mb, nil, schedule.Void{Target: last.entries[n].ID}).entries
		require.Equal(t, without.Lessons(), with.Lessons())
	})
}

// What must hold of every row, whoever did what.
func TestRowsAreInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shop := shops.Draw(t, "shop")
		for _, l := range shop.Lessons() {
			for i, r := range l.Rows {
				require.Equal(t, r.Heats, r.Anneals+r.Springy+r.Unproven, "every fire ended in one way")
				require.LessOrEqual(t, r.Open, r.Unproven)
				require.LessOrEqual(t, r.Early, r.Heats)
				require.LessOrEqual(t, r.Over+r.Unjudged, r.Courses)
				require.True(t, i == 0 || l.Rows[i-1].Hand < r.Hand, "each hand once, in order")
			}
		}
	})
}

// A lesson counted alone is the same as among all others.
func TestSpanChangesNoLesson(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shop := shops.Draw(t, "shop")
		for _, l := range shop.Lessons() {
			shop.Span = class.DayOf(l.Day)
			require.Equal(t, []class.Lesson{l}, shop.Lessons())
		}
	})
}

// The count of courses over the limit is what the advice before each would have said.
func TestOverIsWhatTheAdviceSays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		entries := slices.DeleteFunc(history(1).Draw(t, "piece"), func(e schedule.Entry) bool { return e.Kind() == schedule.KindVoid })
		slices.SortStableFunc(entries[1:], func(a, b schedule.Entry) int { return a.At.Compare(b.At) })
		want := 0
		for i, e := range entries {
			if b, pass := e.Body.(schedule.Pass); pass && !entries[0].Body.(schedule.Started).Test {
				want += b.Count * worst(entries[:i], e)
			}
		}
		over := 0
		for _, l := range (class.Shop{Pieces: [][]schedule.Entry{entries}}).Lessons() {
			over += l.Total().Over
		}
		require.Equal(t, want, over)
	})
}

// worst is 1 if the advice has a zone of an entry at or over its limit, else 0.
func worst(before []schedule.Entry, e schedule.Entry) int {
	s := schedule.Fold(before)
	for _, z := range s.Advise(e.At, nil).Zones {
		if z.Spent >= 1 && (len(e.Zones) == 0 || slices.Contains(e.Zones, z.Zone)) {
			return 1
		}
	}
	return 0
}
