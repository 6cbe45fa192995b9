package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/class"
	"dullred/schedule/coldwork"
	"dullred/schedule/record"
)

// classShop is a shop of twelve hands that take turns, one piece an hour: pieces, and
// passes for each with the advice that was shown.
type classShop struct {
	pieces, passes int
	path           string
}

const classHands = 12

// hour is when the nth piece is begun. Twelve make a day, so that each hand has one.
func (s classShop) hour(n int) time.Time {
	return time.Date(2020, 1, 1, 8, 0, 0, 0, time.UTC).AddDate(0, 0, n/classHands).Add(time.Duration(n%classHands) * time.Hour)
}

func (s classShop) entries(n int) (entries []schedule.Entry) {
	at := s.hour(n)
	log := func(body schedule.Body) schedule.ID {
		at = at.Add(time.Second)
		entries = append(entries, schedule.Entry{ID: schedule.NewID(), At: at, Written: at, Bench: growthID(0, 0), Hand: growthID(1, n%classHands),
			Piece: growthID(2, n), Version: 1, Body: body})
		return entries[len(entries)-1].ID
	}
	size := unit.Size{Shape: unit.Rectangular, Thick: 8, Width: 8}
	log(schedule.Started{Alloy: "AG925", Reading: schedule.Reading{Size: size}, Calliper: 0.1})
	for range s.passes {
		size.Thick -= 0.08
		pass := log(schedule.Pass{Process: coldwork.Lengthen, Count: 1, Reading: schedule.Reading{Size: size}})
		log(schedule.Shown{After: pass, Verdict: schedule.VerdictCarryOn, Zone: schedule.Whole, Worked: 0.01, Spent: 0.1, Limit: 0.5, Table: "1"})
	}
	return entries
}

// made writes the shop into a record.
func (s classShop) made(tb testing.TB) classShop {
	tb.Helper()
	s.path = filepath.Join(tb.TempDir(), "record.db")
	r, err := record.Open(s.path)
	require.NoError(tb, err)
	var rows []record.Row
	var labels []record.Label
	for n := range s.pieces {
		labels = append(labels, record.Label{ID: string(growthID(2, n)), Class: record.PieceClass, Text: fmt.Sprint("spoon ", n)})
		for _, e := range s.entries(n) {
			rows = append(rows, encoded(tb, e))
		}
	}
	for n := range classHands {
		labels = append(labels, record.Label{ID: string(growthID(1, n)), Class: record.HandClass, Text: fmt.Sprint("s", n)})
	}
	require.NoError(tb, r.AppendNamed(labels, rows...))
	require.NoError(tb, r.Close())
	return s
}

func encoded(tb testing.TB, e schedule.Entry) record.Row {
	row, err := schedule.Encode(e)
	require.NoError(tb, err)
	return record.Row(row)
}

// filled reads what a span needs, the record being open.
func (s classShop) filled(tb testing.TB, span class.Span) class.Shop {
	r, err := record.Open(s.path)
	require.NoError(tb, err)
	defer r.Close()
	shop := class.Shop{Place: time.UTC, Span: span}
	require.NoError(tb, (&bench{rec: r}).fill(&shop))
	return shop
}

func TestClassReadsWhatItNeeds(t *testing.T) {
	s := classShop{pieces: 600, passes: 6}.made(t) // 13 entries each, 650 of each hand: more than firstLook
	all := class.Shop{Place: time.UTC}
	for n := range s.pieces {
		all.Pieces = append(all.Pieces, s.entries(n))
	}
	every := all.Lessons()
	require.Len(t, every, 50)

	latest := s.filled(t, class.Span{})
	require.Equal(t, every[49:], latest.Lessons(), "the zero span is the latest lesson")
	require.Less(t, len(latest.Pieces), s.pieces, "not all of the record is read for one lesson")
	for _, n := range []int{0, 3, 25, 48} {
		shop := s.filled(t, class.DayOf(every[n].Day))
		require.Equal(t, every[n:n+1], shop.Lessons(), "lesson %d", n)
		require.Len(t, shop.Pieces, 12, "and no other is read")
	}
	shop := s.filled(t, class.Span{Until: every[2].Day})
	require.Equal(t, every[:2], shop.Lessons())
	shop = s.filled(t, class.Span{From: every[40].Day})
	require.Equal(t, every[40:], shop.Lessons())
	require.Empty(t, s.filled(t, class.DayOf(every[49].Day.AddDate(0, 0, 1))).Lessons())
}

// A hand that logs more in one evening than is looked through at first loses no piece.
func TestClassOfALongEvening(t *testing.T) {
	s := classShop{pieces: 3, passes: 6}.made(t)
	r, err := record.Open(s.path)
	require.NoError(t, err)
	last := s.entries(0)[0]
	last.At = s.hour(0).Add(time.Hour)
	var rows []record.Row
	for range firstLook + 10 {
		last.ID, last.Body = schedule.NewID(), schedule.Note{Text: "n"}
		rows = append(rows, encoded(t, last))
	}
	early := s.entries(12)[:2] // of the same hand, on the same day, before all the notes
	for i := range early {
		early[i].At, early[i].Piece = s.hour(0).Add(time.Duration(i)*time.Second), growthID(2, 99)
		rows = append(rows, encoded(t, early[i]))
	}
	require.NoError(t, r.Append(rows...))
	require.NoError(t, r.Close())
	require.Equal(t, 2, s.filled(t, class.Span{}).Lessons()[0].Rows[0].Pieces)
}

// atClass runs a command with a record of its own.
func atClass(t testing.TB, path string, args ...string) (out, errOut string, code int) {
	t.Helper()
	var o, e bytes.Buffer
	code = run(append(args, "--record", path), &o, &e, func(string) string { return "" })
	return o.String(), e.String(), code
}

// taught keeps a lesson of the drill under a hand, as dullred drill does.
func taught(t testing.TB, path, hand string, at time.Time, d schedule.Drilled) {
	t.Helper()
	a := &app{record: path, hand: hand, now: time.Now, getenv: func(string) string { return "" }}
	b, err := a.openLessons()
	require.NoError(t, err)
	require.NoError(t, b.append(nil, schedule.Entry{ID: schedule.NewID(), At: at.UTC(), Written: at.UTC(), Bench: b.here.bench, Hand: b.here.hand,
		Piece: schedule.NewID(), Version: 1, Body: d}))
	require.NoError(t, b.close())
}

func TestClassWithTheDrill(t *testing.T) {
	path := filepath.Join(t.TempDir(), "record.db")
	day := time.Date(2024, time.March, 5, 18, 30, 0, 0, time.Local)
	for _, args := range [][]string{
		{"piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8", "--hand", "Kw", "--at", "2024-03-05 18:00"},
		{"pass", "spoon", "7x7", "--hand", "Kw", "--at", "2024-03-05 18:10"},
	} {
		_, errOut, code := atClass(t, path, args...)
		require.Equal(t, exitOK, code, errOut)
	}
	out, _, code := atClass(t, path, "class")
	require.Equal(t, exitOK, code)
	require.Regexp(t, `(?m)^Kw +1 +1 +0 +0 +0 +0 +- +- +- +-$`, out)
	files, err := filepath.Glob(filepath.Join(filepath.Dir(path), "*lessons*"))
	require.NoError(t, err)
	require.Empty(t, files, "reading makes no file of lessons")

	taught(t, path, "kw", day, schedule.Drilled{Level: 1, Asked: 4, Error: 1.5, Heats: 3, Wasted: 2})
	taught(t, path, "KW", day.Add(time.Minute), schedule.Drilled{Level: 1, Asked: 4, Error: -0.5, Splits: 1})
	taught(t, path, "mb", day, schedule.Drilled{Level: 2, Asked: 2, Error: -1, Heats: 1})
	taught(t, path, "mb", day.AddDate(0, 0, -1), schedule.Drilled{Level: 2, Asked: 9, Error: 9, Heats: 9})
	out, _, code = atClass(t, path, "class")
	require.Equal(t, exitOK, code)
	require.Regexp(t, `(?m)^Kw +1 +1 +0 +0 +0 +0 +2 +0\.5 late +2 +1$`, out, "one hand by its label, in any case")
	require.Regexp(t, `(?m)^mb +0 +0 +0 +0 +0 +0 +1 +1\.0 early +0 +0$`, out, "a hand of the drill alone")
	require.Regexp(t, `(?m)^all hands +1 +1 +0 +0 +0 +0 +3 +0\.2 late +2 +1$`, out, "10 answers, 2 courses too many in all")

	out, errOut, code := atClass(t, path, "forget", "kW")
	require.Equal(t, exitOK, code, errOut)
	require.Contains(t, out, "lessons   the name is gone; what stays without it: lessons 2")
	out, _, _ = atClass(t, path, "class", "--json")
	var j classJSON
	require.NoError(t, json.Unmarshal([]byte(out), &j))
	var called []string
	for _, h := range j.Lessons[0].Hands {
		called = append(called, h.Hand)
	}
	require.Equal(t, []string{"mb", "unnamed 1", "unnamed 2"}, called, "nothing ties the two files together any more")
	require.Equal(t, 3, j.Lessons[0].Total.Drill.Lessons, "and no figure is lost")

	_, _, code = atClass(t, path, "forget", "mb")
	require.Equal(t, exitOK, code, "a hand that is in the lessons alone")
	require.True(t, slices.IsSorted(called))
}

// The newest entry of all may be a lesson of the drill.
func TestClassOfADrillAlone(t *testing.T) {
	path := filepath.Join(t.TempDir(), "record.db")
	taught(t, path, "kw", time.Date(2024, time.March, 5, 18, 0, 0, 0, time.Local), schedule.Drilled{Asked: 4, Error: 0})
	out, errOut, code := atClass(t, path, "class")
	require.Equal(t, exitOK, code, errOut)
	require.Contains(t, out, "Lesson of Tuesday 5 March 2024, 1 hand\n")
	require.Contains(t, out, "The class: drill even.")
}

// BenchmarkClass makes the page of a lesson in a shop of 2,000 pieces with 40 passes
// each: of the latest day, and of the first, since when everything was logged.
func BenchmarkClass(b *testing.B) {
	s := classShop{pieces: 2000, passes: 40}.made(b)
	for name, span := range map[string]class.Span{"latest": {}, "middle": class.DayOf(s.hour(1000)), "first": class.DayOf(s.hour(0))} {
		b.Run(name, func(b *testing.B) {
			read := 0
			for b.Loop() {
				shop := s.filled(b, span)
				require.Len(b, shop.Lessons(), 1)
				read = len(shop.Pieces)
			}
			b.ReportMetric(float64(read), "pieces")
		})
	}
	info, err := os.Stat(s.path)
	require.NoError(b, err)
	b.Logf("record of %d MB", info.Size()>>20)
}
