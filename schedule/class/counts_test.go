package class_test

import (
	"testing"
	"time"
	_ "time/tzdata" // for a system that has no table of time zones

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/class"
	"dullred/schedule/coldwork"
)

func TestCounts(t *testing.T) {
	worked := func() *story { return piece(1, rod()).by(kw, to(7), to(6)) } // 83 % of the limit
	spent := func() *story { return worked().by(kw, to(5.6)) }              // 103 %
	unread := schedule.Pass{Process: coldwork.Lengthen, Count: 3}
	test := rod()
	test.Test = true
	soft, springy, crack := schedule.Soft{}, schedule.Springy{}, schedule.CrackSeen{}
	cases := []struct {
		name, reason string
		story        *story
		want         class.Counts // of the hand kw
	}{
		{"started", "who began a piece was there, and has worked none", piece(1, rod()), class.Counts{}},
		{"two courses", "under the limit", worked(), class.Counts{Pieces: 1, Courses: 2}},
		{"three in one entry", "they are three courses", piece(1, rod()).by(kw, unread), class.Counts{Pieces: 1, Courses: 3}},
		{"the course that spends the limit", "the work stood under it before", spent(), class.Counts{Pieces: 1, Courses: 3}},
		{"one more", "the work stood over it", spent().by(kw, to(5.5)), class.Counts{Pieces: 1, Courses: 4, Over: 1}},
		{"three more, unread", "each was struck over it", spent().by(kw, unread), class.Counts{Pieces: 1, Courses: 6, Over: 3}},
		{"a reading shows it", "what is known before the course counts", worked().by(kw, schedule.Measured{Reading: square(5.6)}, to(5.5)),
			class.Counts{Pieces: 1, Courses: 3, Over: 1}},
		{"an anneal between", "soft metal is under its limit", spent().heated(kw).by(kw, soft, to(5.5)),
			class.Counts{Pieces: 1, Courses: 4, Heats: 1, Anneals: 1}},
		{"a heat that nobody proved", "it lowers no count", spent().heated(kw).by(kw, to(5.5)),
			class.Counts{Pieces: 1, Courses: 4, Over: 1, Heats: 1, Unproven: 1}},
		{"springy", "it was proved, to be no anneal", spent().heated(kw).by(kw, springy),
			class.Counts{Pieces: 1, Courses: 3, Heats: 1, Springy: 1}},
		{"springy, then soft", "two fires", spent().heated(kw).by(kw, springy).heated(kw).by(kw, soft),
			class.Counts{Pieces: 1, Courses: 3, Heats: 2, Springy: 1, Anneals: 1}},
		{"springy early", "only the first fire came early", piece(1, rod()).by(kw, to(7)).heated(kw).by(kw, springy).heated(kw).by(kw, soft),
			class.Counts{Pieces: 1, Courses: 1, Heats: 2, Springy: 1, Anneals: 1, Early: 1}},
		{"in the water", "it may still be bent", spent().heated(kw), class.Counts{Pieces: 1, Courses: 3, Heats: 1, Unproven: 1, Open: 1}},
		{"in the flame", "so may this", spent().by(kw, schedule.Begun{}), class.Counts{Pieces: 1, Courses: 3, Heats: 1, Unproven: 1, Open: 1}},
		{"heated again out of the water", "the first fire was never proved", spent().heated(kw).heated(kw).by(kw, soft),
			class.Counts{Pieces: 1, Courses: 3, Heats: 2, Anneals: 1, Unproven: 1}},
		{"the flame moved off and back", "one fire", spent().by(kw, schedule.Begun{}, schedule.Begun{}, schedule.Out{}, schedule.Quenched{}, soft),
			class.Counts{Pieces: 1, Courses: 3, Heats: 1, Anneals: 1}},
		{"only the water is logged", "a heat all the same", spent().by(kw, schedule.Quenched{}, soft),
			class.Counts{Pieces: 1, Courses: 3, Heats: 1, Anneals: 1}},
		{"soft without a heat", "there was nothing to prove", spent().by(kw, soft, to(5.5)), class.Counts{Pieces: 1, Courses: 4, Over: 1}},
		{"hammered hot", "the heat goes on, and the count stands", spent().by(kw, schedule.Begun{}, schedule.Reached{}, to(5.5), schedule.Quenched{}, soft),
			class.Counts{Pieces: 1, Courses: 4, Over: 1, Heats: 1, Anneals: 1}},
		{"early", "39 % was spent", piece(1, rod()).by(kw, to(7)).heated(kw).by(kw, soft),
			class.Counts{Pieces: 1, Courses: 1, Heats: 1, Anneals: 1, Early: 1}},
		{"to solder", "the joint wanted the heat", piece(1, rod()).by(kw, to(7), schedule.Begun{},
			schedule.Jointed{Joint: "seam", Solder: "hard", Solidus: 700, Flow: 730}, schedule.Quenched{}, soft),
			class.Counts{Pieces: 1, Courses: 1, Heats: 1, Anneals: 1}},
		{"before any work", "no work, no early", piece(1, rod()).heated(kw).by(kw, soft), class.Counts{Pieces: 1, Heats: 1, Anneals: 1}},
		{"a crack", "seen once", worked().by(kw, crack), class.Counts{Pieces: 1, Courses: 2, Splits: 1}},
		{"the same crack again", "it is open already", worked().by(kw, crack, crack), class.Counts{Pieces: 1, Courses: 2, Splits: 1}},
		{"filed out, and another", "two cracks", worked().by(kw, crack, schedule.CrackFiled{}, crack), class.Counts{Pieces: 1, Courses: 2, Splits: 2}},
		{"a test piece", "it is to split, and to be worked too far", piece(1, test).by(kw, to(7)).heated(kw).by(kw, soft, to(4.9), to(4.5), crack),
			class.Counts{Tests: 1, Courses: 3, Heats: 1, Anneals: 1}},
		{"no limit is known", "nobody can say how far it went", piece(1, schedule.Started{Alloy: "AG925", Calliper: 0.05}).by(kw, unread),
			class.Counts{Pieces: 1, Courses: 3, Unjudged: 3}},
		{"advice and an alert", "the program wrote them", worked().by(kw, schedule.Shown{}, schedule.Raised{Cause: "c"}, schedule.Acknowledged{Alert: idOf(1, 1)}),
			class.Counts{Pieces: 1, Courses: 2}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			lessons := lessonsOf(c.story)
			require.Len(t, lessons, 1)
			require.Equal(t, []class.Row{{Hand: kw, Counts: c.want}}, lessons[0].Rows, c.reason)
		})
	}
}

func TestZones(t *testing.T) {
	ends, middle := []string{"tip", "butt"}, []string{"middle"}
	s := piece(1, rod("tip", "middle", "butt")).on(kw, ends, to(5.6)).on(kw, middle, to(7.5))
	require.Zero(t, countsOf(lessonsOf(s), kw).Over, "the middle has hardly been touched")
	s.by(kw, schedule.Pass{Process: coldwork.Lengthen, Count: 2})
	require.Equal(t, 2, countsOf(lessonsOf(s), kw).Over, "the ends were over it")

	s.on(kw, ends, schedule.Begun{}, schedule.Quenched{}).on(kw, ends[:1], schedule.Soft{})
	require.Equal(t, class.Counts{Pieces: 1, Courses: 4, Over: 2, Heats: 1, Anneals: 1}, countsOf(lessonsOf(s), kw), "one fire of two zones")
	s.on(kw, ends[1:], schedule.Springy{}, schedule.CrackSeen{}).on(kw, ends, schedule.CrackSeen{})
	require.Equal(t, class.Counts{Pieces: 1, Courses: 4, Over: 2, Heats: 1, Springy: 1, Splits: 2}, countsOf(lessonsOf(s), kw),
		"one end was not soft; the tip has a crack of its own")
	s.on(kw, []string{schedule.Whole}, schedule.Begun{})
	require.Equal(t, 2, countsOf(lessonsOf(s), kw).Heats, "the whole is all zones")
}

func TestTwoHandsAtOnePiece(t *testing.T) {
	s := piece(1, rod()).by(kw, to(7)).by(mb, to(6), to(5.6)).by(kw, to(5.5)).heated(mb).by(kw, schedule.Soft{})
	lessons := lessonsOf(s)
	require.Equal(t, class.Counts{Pieces: 1, Courses: 2, Over: 1}, countsOf(lessons, kw), "who struck it bears the course")
	require.Equal(t, class.Counts{Pieces: 1, Courses: 2, Heats: 1, Anneals: 1}, countsOf(lessons, mb), "who lit it has the fire")
	require.Equal(t, class.Counts{Pieces: 2, Courses: 4, Over: 1, Heats: 1, Anneals: 1}, lessons[0].Total())
}

func TestDays(t *testing.T) {
	s := piece(1, rod()).by(kw, to(6), to(5.6)).by(mb, schedule.Begun{}, schedule.Quenched{})
	s.by(kw, schedule.Soft{}, to(5.5)).later(5, 7)
	lessons := lessonsOf(s)
	require.Len(t, lessons, 2)
	require.Equal(t, time.Date(2026, time.March, 3, 0, 0, 0, 0, quay), lessons[0].Day)
	require.Equal(t, time.Date(2026, time.March, 10, 0, 0, 0, 0, quay), lessons[1].Day)
	require.Equal(t, class.Counts{Pieces: 1, Heats: 1, Anneals: 1}, countsOf(lessons[:1], mb), "it was bent a week later")
	require.Equal(t, class.Counts{Pieces: 1, Courses: 1}, countsOf(lessons[1:], kw))
	require.Zero(t, countsOf(lessons[1:], mb))

	late := piece(2, rod()).by(kw, to(7))
	late.entries[0].At = time.Date(2026, time.March, 3, 22, 30, 0, 0, time.UTC)
	late.entries[1].At = late.entries[0].At.Add(time.Minute)
	require.Equal(t, 4, lessonsOf(late)[0].Day.Day(), "half past midnight at the quay")
}

func TestSpan(t *testing.T) {
	s := piece(1, rod()).by(kw, to(7), to(6), to(5.6)).by(kw, to(5.5)).heated(kw).by(kw, to(5.4)).heated(kw).by(kw, schedule.Soft{})
	s.later(5, 1).later(10, 1).later(14, 1) // work | heat, a course | heat | soft
	shop := class.Shop{Pieces: [][]schedule.Entry{s.entries}, Place: quay}
	all := shop.Lessons()
	require.Len(t, all, 4)
	for i := range 5 {
		shop.Span = class.DayOf(evening.AddDate(0, 0, i))
		require.Equal(t, all[min(i, 4):min(i+1, 4)], append([]class.Lesson{}, shop.Lessons()...), "day %d alone", i+1)
	}
	shop.Span = class.Span{From: evening.AddDate(0, 0, 1).Add(-time.Hour)}
	require.Equal(t, all[1:], shop.Lessons(), "what came before is folded, not counted")
}

func TestVoided(t *testing.T) {
	s := piece(1, rod()).by(kw, to(7), to(5.6), to(5.5), schedule.CrackSeen{})
	require.Equal(t, class.Counts{Pieces: 1, Courses: 3, Over: 1, Splits: 1}, countsOf(lessonsOf(s), kw))
	s.by(mb, schedule.Void{Target: s.entries[2].ID}, schedule.Void{Target: s.entries[4].ID})
	lessons := lessonsOf(s)
	require.Equal(t, class.Counts{Pieces: 1, Courses: 2}, countsOf(lessons, kw), "without the second course the third met soft metal")
	require.Len(t, lessons[0].Rows, 1, "who only took something back did no work")
	s.by(mb, schedule.Void{Target: s.entries[5].ID})
	require.Equal(t, class.Counts{Pieces: 1, Courses: 3, Over: 1}, countsOf(lessonsOf(s), kw), "a void taken back")
}

func TestDrill(t *testing.T) {
	shop := class.Shop{Place: quay, Drilled: []schedule.Entry{
		lesson(1, kw, schedule.Drilled{Asked: 4, Error: 1, Heats: 3, Wasted: 1}),
		lesson(2, kw, schedule.Drilled{Asked: 2, Error: -0.5, Heats: 1, Splits: 1}),
		lesson(3, mb, schedule.Drilled{Heats: 2, Wasted: 2}),
		lesson(4, mb, schedule.Drilled{Asked: 9, Error: 9}),
	}}
	shop.Drilled = append(shop.Drilled, lesson(5, mb, schedule.Drilled{}))
	shop.Drilled[4].Body = schedule.Void{Target: shop.Drilled[3].ID}
	lessons := shop.Lessons()
	require.Equal(t, class.Drill{Lessons: 2, Asked: 6, Off: 3, Heats: 4, Wasted: 1, Splits: 1}, countsOf(lessons, kw).Drill)
	off, ok := countsOf(lessons, kw).Drill.Error()
	require.True(t, ok)
	require.Equal(t, 0.5, off, "4 answers one too many, 2 half too few, each answer alike")
	require.Equal(t, class.Drill{Lessons: 1, Heats: 2, Wasted: 2}, countsOf(lessons, mb).Drill, "what was taken back does not count")
	_, ok = countsOf(lessons, mb).Drill.Error()
	require.False(t, ok, "nothing was asked")
	require.Len(t, lessons[0].Rows, 2)
	require.Zero(t, lessons[0].Rows[0].Pieces, "a hand at the drill alone has a row")

	shop.Span = class.DayOf(evening.AddDate(0, 0, 1))
	require.Empty(t, shop.Lessons())
}

// A piece that this version cannot read all of is not judged, and stops no other.
func TestUnreadable(t *testing.T) {
	odd := piece(1, rod()).by(kw, to(5.6), schedule.Unknown{Why: "a kind to come"}, to(5.5))
	lost := piece(3, rod()).by(kw, to(7))
	lost.entries = append(lost.entries, schedule.Entry{ID: idOf(1, 9999), At: evening, Body: schedule.Unknown{Why: "damaged"}})
	lessons := lessonsOf(odd, piece(2, rod()).by(mb, to(7)), lost)
	require.Len(t, lessons[0].Rows, 2, "a row that lost its hand is nobody")
	require.Equal(t, class.Counts{Pieces: 2, Courses: 3, Unjudged: 2}, countsOf(lessons, kw))
	require.Equal(t, class.Counts{Pieces: 1, Courses: 1}, countsOf(lessons, mb))
}

func TestNewest(t *testing.T) {
	_, ok := class.Newest(nil)
	require.False(t, ok)
	s := piece(1, rod()).by(kw, to(7), schedule.Shown{}, to(6))
	at, ok := class.Newest(s.entries)
	require.True(t, ok)
	require.True(t, at.Equal(evening.Add(3*time.Minute)))
	s.by(kw, schedule.Void{Target: s.entries[3].ID})
	at, _ = class.Newest(s.entries)
	require.True(t, at.Equal(evening.Add(time.Minute)), "neither what was taken back, nor the advice")
	s.by(kw, schedule.TorchOut{})
	at, _ = class.Newest(s.entries)
	require.True(t, at.Equal(evening.Add(time.Minute)), "the torch is of no piece")
}

// The clock springs forward: that day has 23 hours.
func TestDayOf(t *testing.T) {
	place, err := time.LoadLocation("Europe/Berlin")
	require.NoError(t, err)
	day := class.DayOf(time.Date(2026, time.March, 29, 12, 0, 0, 0, place))
	require.Equal(t, 23*time.Hour, day.Until.Sub(day.From))
	require.Equal(t, 24*time.Hour, class.DayOf(day.Until).Until.Sub(day.Until))
}

func TestLeaning(t *testing.T) {
	cases := []struct {
		name, want, reason string
		counts             class.Counts
	}{
		{"nothing", "The class: nothing too early, nothing too late.", "and nobody asked", class.Counts{Courses: 12, Heats: 2, Anneals: 2}},
		{"late", "The class: too late in 9 of 120 courses.", "over the limit", class.Counts{Courses: 120, Over: 9}},
		{"early", "The class: too early in 6 of 20 heats.", "much was left", class.Counts{Heats: 20, Early: 6}},
		{"no check", "The class: no bend check after 2.", "the third may still come", class.Counts{Heats: 20, Unproven: 3, Open: 1}},
		{"drill late", "The class: drill 0.8 late.", "too many courses said", class.Counts{Drill: class.Drill{Asked: 5, Off: 4}}},
		{"drill even", "The class: drill even.", "asked, and right on average", class.Counts{Drill: class.Drill{Asked: 5, Off: -0.1}}},
		{"all", "The class: too late in 9 of 120 courses, too early in 6 of 20 heats, no bend check after 2, drill 1.5 early.",
			"as much as there is", class.Counts{Courses: 120, Over: 9, Heats: 20, Early: 6, Unproven: 2, Drill: class.Drill{Asked: 2, Off: -3}}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.Equal(t, c.want, c.counts.Leaning(), c.reason)
		})
	}
}

func TestOff(t *testing.T) {
	for courses, want := range map[float64]string{0: "even", 0.049: "even", -0.049: "even", 0.05: "0.1 late", -0.05: "0.1 early",
		12.34: "12.3 late", -99.94: "99.9 early", 99.96: "100 late", 999.4: "999 late", -10_000: ">999 early"} {
		require.Equal(t, want, class.Off(courses), "%v", courses)
	}
}

// A metal that softens by itself, such as tin, has no limit to go over.
func TestSelfSofteningIsNeverOver(t *testing.T) {
	start := rod()
	start.Alloy = "SN999"
	s := piece(1, start).by(kw, to(4), schedule.Pass{Process: coldwork.Lengthen, Count: 1, Reading: square(unit.Millimetre(2))})
	require.True(t, schedule.Fold(s.entries).Alloy.SelfSoftening, "the case is not what it is to be")
	require.Equal(t, class.Counts{Pieces: 1, Courses: 2}, countsOf(lessonsOf(s), kw))
}
