package sheet_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/sheet"
)

func TestHeatsEnd(t *testing.T) {
	flame := []schedule.Body{schedule.Begun{}, schedule.Reached{Temp: 640}, schedule.Out{}, schedule.Quenched{}}
	cases := []struct {
		name, reason string
		then         []schedule.Body
		want         []sheet.Proof
	}{
		{"soft", "bent and soft", []schedule.Body{schedule.Soft{}}, []sheet.Proof{sheet.Soft}},
		{"springy", "bent and springy", []schedule.Body{schedule.Springy{}}, []sheet.Proof{sheet.Springy}},
		{"worked on", "nobody bent it", []schedule.Body{to(6)}, []sheet.Proof{sheet.Never}},
		{"in the water", "it may still be bent", nil, []sheet.Proof{sheet.Open}},
		{"heated again", "the first was never bent", append(flame[:1:1], schedule.Quenched{}, schedule.Soft{}), []sheet.Proof{sheet.Never, sheet.Soft}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			got := piece(rod()).by(kw, to(6)).by(kw, flame...).by(mb, c.then...).sheet()
			var proofs []sheet.Proof
			for _, h := range got.Heats {
				proofs = append(proofs, h.Proved)
			}
			require.Equal(t, c.want, proofs, c.reason)
			require.Equal(t, len(c.want), got.Totals.Heats)
			require.InDelta(t, 120, *got.Heats[0].Flame, 0, "begun to out, a minute a step")
			require.InDelta(t, 60, *got.Heats[0].AtHeat, 0)
			require.InDelta(t, 640, *got.Heats[0].Reached.Temp, 0)
			require.Nil(t, got.Heats[0].Out.Temp, "nobody measured it")
		})
	}
}

func TestAdviceIsFollowed(t *testing.T) {
	yes, no := true, false
	cases := []struct {
		name, reason string
		then         []schedule.Body
		want         *bool
	}{
		{"a heat", "it was annealed", []schedule.Body{schedule.Begun{}, schedule.Quenched{}, to(5)}, &yes},
		{"a pass", "it was hammered on", []schedule.Body{to(5), schedule.Begun{}}, &no},
		{"a note", "nothing was done yet", []schedule.Body{schedule.Note{Text: "tea"}}, nil},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			s := piece(rod()).by(kw, to(5.5)).by(kw, c.then...)
			s.entries = shown(s.entries)
			a := s.sheet().Advice[0]
			require.Equal(t, "anneal now", a.Verdict)
			require.Equal(t, c.want, a.Followed, c.reason)
		})
	}
	s := piece(rod("tip", "butt")).on(kw, []string{"tip"}, to(5.5)).on(kw, []string{"butt"}, to(7.5))
	s.entries = shown(s.entries)
	require.Nil(t, s.sheet().Advice[0].Followed, "work on another zone is no answer")
}

func TestVoidedDoesNotStand(t *testing.T) {
	s := piece(rod()).by(kw, to(7), to(5.5), schedule.Note{Text: "gone"}, schedule.CrackSeen{})
	s.entries = shown(s.entries)
	for _, i := range []int{3, 5, 6} {
		s.by(mb, schedule.Void{Target: s.entries[i].ID})
	}
	got := s.sheet()
	require.Equal(t, sheet.Totals{Courses: 1}, got.Totals)
	require.Len(t, got.Work, 2)
	require.Empty(t, got.Notes)
	require.Len(t, got.Advice, 1, "the advice after a pass goes with it")
	require.Len(t, got.Hands, 1, "who only took something back did no work")
}

func TestStrainAndLimit(t *testing.T) {
	got := piece(rod()).by(kw, to(7), to(5.6)).sheet()
	require.InDelta(t, 0.267, *got.Work[1].Zones[0].Strain, 0, "2 ln(8/7), the area of a square by hand")
	require.InDelta(t, 0.713, *got.Work[2].Zones[0].Since, 0, "2 ln(8/5.6)")
	require.InDelta(t, 103, *got.Work[2].Zones[0].Spent, 1, "of the limit 0.690 of worked sterling, which the scripts check too")
	require.Equal(t, "5.6x5.6 mm", got.Work[2].Zones[0].Size)
}

func TestJumpOfTheClockIsNoTime(t *testing.T) {
	s := piece(rod()).by(kw, to(6), schedule.Begun{})
	s.by(kw, schedule.ClockStep{Wall: 30 * time.Second, Line: 30 * time.Second}, schedule.Out{})
	require.InDelta(t, 90, *s.sheet().Heats[0].Flame, 0, "two minutes on the line, half a minute of which was a jump")
}

func TestHandsWithoutALabel(t *testing.T) {
	s := piece(rod()).by("gone", to(7)).by("gone too", to(6)).by("gone", to(5.5))
	got := s.sheet()
	require.Equal(t, "unnamed 1", got.Work[1].Hand)
	require.Equal(t, "unnamed 2", got.Work[2].Hand)
	require.Equal(t, 2, got.Hands[1].Courses)
	require.NotContains(t, got.Text(), "gone")
}

// A piece that cannot be followed has a sheet all the same, and no share of a limit.
func TestNotFollowed(t *testing.T) {
	got := piece(rod()).by(kw, schedule.Unknown{Why: "a kind to come"}, to(6)).sheet()
	require.Equal(t, []string{"a kind to come"}, got.Unread)
	require.Nil(t, got.Work[len(got.Work)-1].Zones[0].Spent)
	require.Contains(t, got.Text(), "not followed: a kind to come")
	require.NotPanics(t, func() { _ = sheet.Build(sheet.Source{}).Text() })
}

func TestTextIsNoWiderThanAPage(t *testing.T) {
	s := piece(rod()).by(kw, schedule.Note{Text: strings.Repeat("a", 10_000)})
	for line := range strings.Lines(s.sheet().Text()) {
		require.LessOrEqual(t, len(strings.TrimRight(line, "\n")), 78)
	}
	require.Equal(t, 10_000, strings.Count(s.sheet().Text(), "a")-strings.Count(piece(rod()).by(kw, schedule.Note{}).sheet().Text(), "a"), "nothing is cut")
}

// BenchmarkHTML makes the page of a piece of a hundred entries, the replay with it.
func BenchmarkHTML(b *testing.B) {
	s := piece(rod())
	for len(s.entries) < 100 {
		s.by(kw, to(7), to(6.5), schedule.Begun{}, schedule.Reached{Temp: 640}, schedule.Out{}, schedule.Quenched{}, schedule.Soft{},
			schedule.Filed{Reading: square(8)}, schedule.Note{Text: "n"})
	}
	s.entries = s.entries[:100]
	for b.Loop() {
		_, err := s.sheet().HTML()
		require.NoError(b, err)
	}
}
