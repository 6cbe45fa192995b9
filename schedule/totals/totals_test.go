package totals_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/sheet"
	"dullred/schedule/totals"
)

const (
	bowl  schedule.ID = "00000000-0000-7000-8000-000000000001"
	spoon schedule.ID = "00000000-0000-7000-8000-000000000002"
	here  schedule.ID = "00000000-0000-7000-8000-00000000000b"
	there schedule.ID = "00000000-0000-7000-8000-00000000000c"
	ab    schedule.ID = "00000000-0000-7000-8000-0000000000a1"
	cd    schedule.ID = "00000000-0000-7000-8000-0000000000a2"
)

// log is the entries of a shop, in the order in which they were typed.
type log []schedule.Entry

func (l *log) add(at string, piece, hand schedule.ID, body schedule.Body) schedule.ID {
	t, err := time.ParseInLocation("2006-01-02 15:04", at, time.UTC)
	if err != nil {
		panic(err)
	}
	id := schedule.ID(fmt.Sprintf("01900000-0000-7000-8000-%012d", len(*l)))
	*l = append(*l, schedule.Entry{ID: id, At: t, Written: t, Bench: here, Hand: hand, Piece: piece, Version: 1, Body: body})
	return id
}

func (l log) sums(t require.TestingT, terms totals.Terms) []totals.Sum {
	terms.Dead = schedule.Voided(l)
	for _, e := range l {
		if e.Kind() == schedule.KindClockStep {
			terms.Steps = append(terms.Steps, e)
		}
	}
	b := totals.New(terms)
	for _, e := range l {
		row, err := schedule.Encode(e)
		require.NoError(t, err)
		b.Add(row)
	}
	return b.Sums()
}

func started(zones ...string) schedule.Started {
	return schedule.Started{Alloy: "AG925", Reading: schedule.Reading{Size: unit.Size{Shape: unit.Rectangular, Thick: 8, Width: 8}}, Calliper: 0.1, Zones: zones}
}

func pass(n int) schedule.Pass { return schedule.Pass{Process: coldwork.Lengthen, Count: n} }

// evening is two months at one bench.
func evening() (l log) {
	l.add("2024-01-31 18:00", bowl, ab, started())
	l.add("2024-01-31 18:01", bowl, ab, schedule.Weighed{Mass: 77})
	l.add("2024-01-31 18:10", bowl, ab, pass(3))
	l.add("2024-01-31 23:50", here, ab, schedule.TorchLit{})
	l.add("2024-01-31 23:56", bowl, cd, schedule.Begun{})
	l.add("2024-02-01 00:02", bowl, ab, schedule.Out{})
	l.add("2024-02-01 00:03", bowl, ab, schedule.Quenched{})
	l.add("2024-02-01 00:05", here, ab, schedule.TorchOut{})
	l.add("2024-02-01 00:08", bowl, ab, schedule.Soft{})
	l.add("2024-02-02 18:00", spoon, cd, started())
	l.add("2024-02-02 18:05", spoon, cd, schedule.Begun{})
	l.add("2024-02-02 18:08", spoon, cd, schedule.Out{})
	slip := l.add("2024-02-02 18:20", spoon, cd, pass(40))
	l.add("2024-02-02 18:21", spoon, cd, schedule.Void{Target: slip})
	l.add("2024-02-03 18:00", bowl, ab, schedule.Weighed{Mass: 1.5, What: schedule.PartScrap})
	l.add("2024-02-03 18:01", bowl, ab, schedule.Weighed{Mass: 74.9})
	l.add("2024-02-03 18:02", bowl, ab, schedule.Finished{})
	return l
}

func day(y int, m time.Month, d int, place *time.Location) time.Time {
	return time.Date(y, m, d, 0, 0, 0, 0, place)
}

func TestSums(t *testing.T) {
	zone := time.FixedZone("an hour east", 3600)
	january := totals.Counts{Started: 1, Passes: 3, Heats: 1, Soft: 1, Flame: 6 * time.Minute, Gas: 15 * time.Minute, GasFrom: totals.FromTorch, In: 77}
	february := totals.Counts{Started: 1, Finished: 1, Heats: 1, Flame: 3 * time.Minute, Gas: 3 * time.Minute, GasFrom: totals.FromHeats, Out: 74.9, Scrap: 1.5, Lost: 0.6}
	both := january.Add(february)
	east := january
	east.Heats, east.Soft, east.Flame, east.Gas, east.GasFrom = 0, 0, 0, 0, totals.NoGas
	later := february
	later.Heats, later.Soft, later.Flame, later.Gas, later.GasFrom = 2, 1, 9*time.Minute, 18*time.Minute, totals.FromBoth
	cases := []struct {
		name   string
		terms  totals.Terms
		want   []totals.Sum
		reason string
	}{
		{"by month", totals.Terms{}, []totals.Sum{{day(2024, 1, 1, time.UTC), january}, {day(2024, 2, 1, time.UTC), february}},
			"a heat counts where it began, metal out where the piece was finished, and the void pass nowhere"},
		{"by year", totals.Terms{By: totals.Year}, []totals.Sum{{day(2024, 1, 1, time.UTC), both}}, "the same, together"},
		{"elsewhere", totals.Terms{Place: zone}, []totals.Sum{{day(2024, 1, 1, zone), east}, {day(2024, 2, 1, zone), later}}, "ten to twelve is in February there"},
		{"a span", totals.Terms{From: day(2024, 2, 1, time.UTC)}, []totals.Sum{{day(2024, 2, 1, time.UTC), february}}, "lost is of the whole piece, whenever it was begun"},
		{"an end", totals.Terms{Until: day(2024, 2, 1, time.UTC)}, []totals.Sum{{day(2024, 1, 1, time.UTC), january}}, "the heat that began before is whole"},
		{"a hand", totals.Terms{Hand: cd}, []totals.Sum{
			{day(2024, 1, 1, time.UTC), totals.Counts{Heats: 1, Soft: 1, Flame: 6 * time.Minute, Gas: 6 * time.Minute, GasFrom: totals.FromHeats}},
			{day(2024, 2, 1, time.UTC), totals.Counts{Started: 1, Heats: 1, Flame: 3 * time.Minute, Gas: 3 * time.Minute, GasFrom: totals.FromHeats}}},
			"a heat is of the hand that began it; the torch was another's"},
		{"a metal", totals.Terms{Pieces: map[schedule.ID]bool{spoon: true}}, []totals.Sum{
			{day(2024, 2, 1, time.UTC), totals.Counts{Started: 1, Heats: 1, Flame: 3 * time.Minute, Gas: 3 * time.Minute, GasFrom: totals.FromHeats}}},
			"a torch is of no piece"},
		{"nothing", totals.Terms{From: day(2030, 1, 1, time.UTC)}, nil, "no period is empty"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.Equal(t, c.want, evening().sums(t, c.terms), c.reason)
		})
	}
}

func TestOddLogs(t *testing.T) {
	cases := []struct {
		name   string
		write  func(*log)
		want   totals.Counts
		reason string
	}{
		{"two zones in one fire", func(l *log) {
			l.add("2024-01-01 10:00", bowl, ab, started("tip", "butt"))
			l.add("2024-01-01 10:10", bowl, ab, schedule.Begun{})
			l.add("2024-01-01 10:14", bowl, ab, schedule.Out{})
		}, totals.Counts{Started: 1, Heats: 1, Flame: 4 * time.Minute, Gas: 4 * time.Minute, GasFrom: totals.FromHeats}, "it burned once"},
		{"a clock set forward", func(l *log) {
			l.add("2024-01-01 10:00", bowl, ab, started())
			l.add("2024-01-01 10:10", bowl, ab, schedule.Begun{})
			l.add("2024-01-01 11:12", here, ab, schedule.ClockStep{Wall: time.Hour, Line: time.Hour})
			l.add("2024-01-01 11:14", bowl, ab, schedule.Out{})
		}, totals.Counts{Started: 1, Heats: 1, Flame: 4 * time.Minute, Gas: 4 * time.Minute, GasFrom: totals.FromHeats}, "no time passed for the hour"},
		{"never taken out", func(l *log) {
			l.add("2024-01-01 10:00", bowl, ab, started())
			l.add("2024-01-01 10:10", bowl, ab, schedule.Begun{})
		}, totals.Counts{Started: 1, Heats: 1, Untimed: 1}, "how long is not known"},
		{"typed late", func(l *log) {
			l.add("2024-01-01 10:00", bowl, ab, started())
			l.add("2024-01-01 10:14", bowl, ab, schedule.Out{})
			l.add("2024-01-01 10:10", bowl, ab, schedule.Begun{})
		}, totals.Counts{Started: 1, Heats: 1, Flame: 4 * time.Minute, Gas: 4 * time.Minute, GasFrom: totals.FromHeats}, "what counts is when it happened"},
		{"lit again", func(l *log) {
			l.add("2024-01-01 10:00", here, ab, schedule.TorchLit{})
			l.add("2024-01-02 10:00", here, ab, schedule.TorchLit{})
			l.add("2024-01-02 10:05", here, ab, schedule.TorchOut{})
			l.add("2024-01-02 11:05", here, ab, schedule.TorchOut{})
		}, totals.Counts{Gas: 5 * time.Minute, GasFrom: totals.FromTorch}, "nobody burns a torch for a day: its end was not logged"},
		{"weighed once", func(l *log) {
			l.add("2024-01-01 10:00", bowl, ab, started())
			l.add("2024-01-01 10:01", bowl, ab, schedule.Weighed{Mass: 50})
			l.add("2024-01-01 10:02", bowl, ab, schedule.Finished{})
		}, totals.Counts{Started: 1, Finished: 1, In: 50, Unweighed: 1}, "what was lost is not known"},
		{"not finished", func(l *log) {
			l.add("2024-01-01 10:00", bowl, ab, started())
			l.add("2024-01-01 10:01", bowl, ab, schedule.Weighed{Mass: 50})
			l.add("2024-01-01 10:02", bowl, ab, schedule.Weighed{Mass: 49})
		}, totals.Counts{Started: 1, In: 50}, "nothing has come out yet"},
		{"tenths", func(l *log) {
			for i, piece := range []schedule.ID{bowl, spoon, ab} {
				l.add("2024-01-01 10:00", piece, ab, started())
				l.add("2024-01-01 10:01", piece, ab, schedule.Weighed{Mass: 0.1 + unit.Gram(i)/10})
			}
		}, totals.Counts{Started: 3, In: 0.6}, "0.1 + 0.2 + 0.3 is no 0.6000000000000001"},
		{"never started", func(l *log) { l.add("2024-01-01 10:00", bowl, ab, pass(3)) }, totals.Counts{}, "its piece is silenced"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			var l log
			c.write(&l)
			var all totals.Counts
			for _, s := range l.sums(t, totals.Terms{}) {
				all = all.Add(s.Counts)
			}
			require.Equal(t, c.want, all, c.reason)
		})
	}
}

func TestDamagedBodiesCountNowhere(t *testing.T) {
	b := totals.New(totals.Terms{})
	b.Add(schedule.Row{ID: "a", Piece: "p", Kind: "piece started", Body: `{"zones":7}`})
	b.Add(schedule.Row{ID: "b", Piece: "p", Kind: "weighed", Body: `{`})
	b.Add(schedule.Row{ID: "c", Piece: "p", Kind: "a kind to come"})
	require.Empty(t, b.Sums())
}

// history is any entries of one piece, some of them typed late or taken back.
func history(t *rapid.T) (l log) {
	zones := rapid.SampledFrom([][]string{nil, {"tip", "butt"}}).Draw(t, "zones")
	l.add("2024-01-01 10:00", bowl, ab, started(zones...))
	bodies := []schedule.Body{pass(1), pass(3), schedule.Begun{}, schedule.Begun{}, schedule.Reached{}, schedule.Out{}, schedule.Quenched{}, schedule.FoundCool{},
		schedule.Soft{}, schedule.Springy{}, schedule.Weighed{Mass: 50}, schedule.Weighed{Mass: 1.25, What: schedule.PartScrap}, schedule.Finished{},
		schedule.Note{Text: "x"}, schedule.Pickled{}, schedule.ClockStep{Wall: time.Minute, Line: time.Minute}}
	at := time.Date(2024, 1, 1, 10, 0, 0, 0, time.UTC)
	for range rapid.IntRange(0, 30).Draw(t, "entries") {
		at = at.Add(time.Duration(rapid.IntRange(0, 4*86400).Draw(t, "after")) * time.Second)
		id := l.add("2024-01-01 10:00", bowl, rapid.SampledFrom([]schedule.ID{ab, cd}).Draw(t, "hand"), rapid.SampledFrom(bodies).Draw(t, "body"))
		e := &l[len(l)-1]
		e.At = at.Add(-time.Duration(rapid.SampledFrom([]int{0, 0, 0, 1800}).Draw(t, "late")) * time.Second)
		e.At = time.Unix(max(e.At.Unix(), l[0].At.Unix()), 0).UTC()
		e.Bench = rapid.SampledFrom([]schedule.ID{here, there}).Draw(t, "bench")
		switch e.Body.(type) {
		case schedule.ClockStep:
			e.Piece = e.Bench
		case schedule.Weighed, schedule.Finished, schedule.Note:
		default:
			if zones != nil {
				e.Zones = rapid.SampledFrom([][]string{nil, {"tip"}, {"butt"}, {"tip", "butt"}, {schedule.Whole}}).Draw(t, "of")
			}
			if rapid.IntRange(0, 9).Draw(t, "slip") == 0 {
				l.add("2024-01-01 10:00", bowl, ab, schedule.Void{Target: id})
				l[len(l)-1].At = e.At
			}
		}
	}
	return l
}

// The making record of the piece has the same heats, the same flame and the same metal.
func TestSumsAreThoseOfTheMakingRecord(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		l := history(rt)
		var got totals.Counts
		for _, s := range l.sums(rt, totals.Terms{}) {
			got = got.Add(s.Counts)
		}
		made := sheet.Build(sheet.Source{Name: "bowl", Entries: l})
		require.Equal(rt, made.Totals.Courses, got.Passes)
		require.Equal(rt, made.Totals.Heats, got.Heats)
		require.Equal(rt, made.Totals.Proved, got.Soft)
		var flame float64
		untimed := 0
		for _, h := range made.Heats {
			if h.Flame == nil {
				untimed++
				continue
			}
			flame += *h.Flame
		}
		require.Equal(rt, untimed, got.Untimed)
		require.InDelta(rt, flame, got.Flame.Seconds(), 1e-6, "all moments are whole seconds")
		require.Equal(rt, min(1, len(made.Finished)), got.Finished)
		requireMetal(rt, made.Totals, got)
	})
}

func requireMetal(t require.TestingT, made sheet.Totals, got totals.Counts) {
	grams := func(f *float64) float64 {
		if f == nil {
			return 0
		}
		return *f
	}
	require.InDelta(t, grams(made.In), float64(got.In), 1e-9)
	if got.Finished == 0 {
		made = sheet.Totals{}
	}
	require.InDelta(t, grams(made.Out), float64(got.Out), 1e-9)
	require.InDelta(t, grams(made.Scrap), float64(got.Scrap), 1e-9)
	require.InDelta(t, grams(made.Lost), float64(got.Lost), 1e-9)
}

// The periods together are the whole, and hands together are everybody.
func TestPartsAddUp(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		l := history(rt)
		count := func(terms totals.Terms) (all totals.Counts) {
			for _, s := range l.sums(rt, terms) {
				all = all.Add(s.Counts)
			}
			return all
		}
		cut := time.Date(2024, 1, 1, 10, 0, 0, 0, time.UTC).Add(time.Duration(rapid.IntRange(0, 60*86400).Draw(rt, "cut")) * time.Second)
		whole := count(totals.Terms{})
		require.Equal(rt, whole, count(totals.Terms{By: totals.Year}))
		require.Equal(rt, whole, count(totals.Terms{Until: cut}).Add(count(totals.Terms{From: cut})))
		require.Equal(rt, whole, count(totals.Terms{Hand: ab}).Add(count(totals.Terms{Hand: cd})))
		require.Equal(rt, whole, count(totals.Terms{Pieces: map[schedule.ID]bool{bowl: true}}))
	})
}

// BenchmarkSums is of a million entries that are summed.
func BenchmarkSums(b *testing.B) {
	var rows []schedule.Row
	kinds := []schedule.Kind{schedule.KindPass, schedule.KindPass, schedule.KindPass, schedule.KindBegun, schedule.KindOut, schedule.KindQuenched, schedule.KindSoft}
	random := rand.New(rand.NewPCG(1, 2))
	for piece := range 10_000 {
		id := fmt.Sprint("piece ", piece)
		at := int64(piece) * 86_400_000_000
		rows = append(rows, schedule.Row{ID: id, At: at, Piece: id, Kind: "piece started", Body: "{}"})
		for i := range 99 {
			at += int64(random.IntN(600_000_000))
			rows = append(rows, schedule.Row{ID: id, At: at, Piece: id, Kind: string(kinds[i%len(kinds)]), Count: 1})
		}
	}
	b.ReportAllocs()
	for b.Loop() {
		book := totals.New(totals.Terms{})
		for _, r := range slices.All(rows) {
			book.Add(r)
		}
		require.NotEmpty(b, book.Sums())
	}
}
