package share_test

import (
	"testing"
	"time"
	_ "time/tzdata" // for a system that has no table of time zones

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/schedule/share"
)

func TestWords(t *testing.T) {
	place := time.FixedZone("two hours east", 2*60*60)
	now := time.Date(2026, time.March, 5, 20, 30, 0, 0, place) // a Thursday
	ago := func(d time.Duration) share.Standing { return share.Standing{Shared: now.Add(-d).UTC()} }
	alone := func(d time.Duration) share.Standing {
		return share.Standing{AloneSince: now.Add(-d).UTC(), Why: "\x1b[31mno route"}
	}
	cases := []struct {
		name   string
		s      share.Standing
		words  string
		reason string
	}{
		{"nothing known", share.Standing{}, "", "a bench that never shared has nothing to say"},
		{"both", share.Standing{Shared: now, AloneSince: now}, "", "a file that says both is damaged"},
		{"at once", ago(0), "shared just now", "no figure that changes every second"},
		{"a slow beat", ago(13 * time.Second), "shared just now", "as old as the beacon of a carrier that works may be"},
		{"nineteen seconds", ago(19999 * time.Millisecond), "shared just now", "rounded down"},
		{"twenty seconds", ago(20 * time.Second), "shared 20 s ago", "then steps of ten"},
		{"forty seconds", ago(49 * time.Second), "shared 40 s ago", "rounded down"},
		{"a minute", ago(time.Minute), "shared 1 min ago", "then minutes"},
		{"minutes", ago(3*time.Minute + 59*time.Second), "shared 3 min ago", "rounded down"},
		{"hours", ago(3*time.Hour + 59*time.Minute), "shared 3 h ago", "rounded down"},
		{"a night and a day", ago(47 * time.Hour), "shared 47 h ago", "hours as long as they say more"},
		{"days", ago(48 * time.Hour), "shared 2 days ago", "then days"},
		{"the clocks differ by little", ago(-20 * time.Second), "shared just now", "no more than an age is ignored"},
		{"the clock was set back", ago(-time.Hour), "shared at 21:30", "an age would be a lie"},
		{"and by days", ago(-48 * time.Hour), "shared at 2026-03-07 20:30", "a day to come has no name"},
		{"alone", alone(2*time.Hour + 28*time.Minute), "alone since 18:02", "in the place of now, without why"},
		{"alone since yesterday", alone(21 * time.Hour), "alone since Wed 23:30", "the hour alone would be taken for today's"},
		{"alone for six days", alone(6 * 24 * time.Hour), "alone since Fri 20:30", "no other Friday is meant"},
		{"alone for a week", alone(7 * 24 * time.Hour), "alone since 2026-02-26 20:30", "a Thursday would be today"},
		{"alone by a clock set back", alone(-26 * time.Hour), "alone since 2026-03-06 22:30", "a day to come has no name"},
		{"the first of all days", share.Standing{Shared: time.Time{}.Add(1)}, "shared 106751 days ago", "the longest age that is counted"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.Equal(t, c.words, c.s.Words(now), c.reason)
		})
	}
}

// Words hold for as long as they are said to, and those of an age are then others.
func TestWordsStay(t *testing.T) {
	place := time.FixedZone("west", -3*60*60)
	rapid.Check(t, func(t *rapid.T) {
		now := time.Date(2026, time.March, 5, 0, 0, 0, rapid.IntRange(0, 1e9-1).Draw(t, "nanoseconds"), place).
			Add(time.Duration(rapid.IntRange(0, 24*60*60-1).Draw(t, "seconds")) * time.Second)
		then := now.Add(-time.Duration(rapid.Int64Range(-int64(9*24*time.Hour), int64(9*24*time.Hour)).Draw(t, "ago")))
		s := share.Standing{Shared: then}
		if rapid.Bool().Draw(t, "alone") {
			s = share.Standing{AloneSince: then}
		}
		stays := s.Stays(now)
		require.Positive(t, stays)
		require.LessOrEqual(t, stays, 24*time.Hour)
		within := time.Duration(rapid.Int64Range(0, int64(stays)-1).Draw(t, "within"))
		if then.Before(now) {
			require.Equal(t, s.Words(now), s.Words(now.Add(within)))
		}
		if age := now.Sub(then); !s.Shared.IsZero() && age > 0 && age < 47*time.Hour {
			require.NotEqual(t, s.Words(now), s.Words(now.Add(stays)))
		}
	})
	require.Zero(t, share.Standing{}.Stays(time.Now()), "nothing is said and nothing changes")
}

// The longest days of a place with summer time end at its midnight.
func TestWordsStayUntilMidnight(t *testing.T) {
	place, err := time.LoadLocation("Europe/Berlin")
	require.NoError(t, err)
	since := time.Date(2026, time.October, 25, 0, 30, 0, 0, place) // the clocks go back at three
	s, now := share.Standing{AloneSince: since}, since.Add(time.Minute)
	require.Equal(t, 24*time.Hour+29*time.Minute, s.Stays(now))
	require.Equal(t, "alone since 00:30", s.Words(now.Add(s.Stays(now)-1)))
	require.Equal(t, "alone since Sun 00:30", s.Words(now.Add(s.Stays(now))))
}

// In some places the first hour of a day is left out.
func TestWordsStayWhereMidnightIsLeftOut(t *testing.T) {
	place, err := time.LoadLocation("America/Asuncion")
	require.NoError(t, err)
	since := time.Date(2023, time.September, 30, 23, 30, 0, 0, place) // 24:00 is 1:00 on 1 October
	s, now := share.Standing{AloneSince: since}, since.Add(time.Minute)
	require.Equal(t, 29*time.Minute, s.Stays(now))
	require.Equal(t, "alone since Sat 23:30", s.Words(now.Add(s.Stays(now))))
}
