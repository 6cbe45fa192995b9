package board_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/alert"
	"dullred/schedule/board"
	"dullred/schedule/coldwork"
)

func TestWords(t *testing.T) {
	few := coldwork.Courses{Low: 2, Likely: 3, High: 4}
	cases := []struct {
		name               string
		row                board.Row
		state, share, left string
		reason             string
	}{
		{"the zero row", board.Row{Piece: "spoon"}, "unknown", "0 %", "", "never carry on"},
		{"no limit", board.Row{Piece: "spoon", Spent: -1}, "unknown", "-", "", "a figure that nobody has is not 0"},
		{"carry on", board.Row{Piece: "spoon", Verdict: schedule.VerdictCarryOn, Spent: 0.874, Courses: few, Forecast: true}, "carry on", "87 %", "2 to 4", "a range"},
		{"sure", board.Row{Piece: "spoon", Verdict: schedule.VerdictAnnealNow, Spent: 1.2, Forecast: true}, "anneal now", "120 %", "0", "none is left"},
		{"hot", board.Row{Piece: "spoon", Verdict: schedule.VerdictSoak, Spent: 0.9, Hot: evening, Courses: few, Forecast: true}, "HOT, soak", "90 %", "", "the heat comes first"},
		{"hot elsewhere", board.Row{Piece: "spoon", Verdict: schedule.VerdictPickle, Hot: evening}, "HOT", "0 %", "", "another zone of it"},
		{"a bench", board.Row{Bench: "bench 3", Spent: -1}, "", "-", "", "its alerts say it"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.Equal(t, []string{c.state, c.share, c.left}, []string{c.row.State(), c.row.Share(), c.row.Left()}, c.reason)
		})
	}
}

func TestNews(t *testing.T) {
	spoon := board.Row{ID: idOf(2, 1), Bench: "Bench 3", Piece: "spoon", Verdict: schedule.VerdictCarryOn, Spent: 0.5}
	soon := spoon
	soon.Verdict, soon.Spent, soon.Zone = schedule.VerdictAnnealSoon, 0.92, "bowl"
	hot := soon
	hot.Verdict, hot.Hot = schedule.VerdictHeating, evening
	called := soon
	called.Alerts = []alert.Standing{{Alert: alert.Alert{Cause: alert.AnnealNow, Name: "spoon"}, Raised: schedule.Entry{ID: idOf(1, 1)}}}
	many := func(hot time.Time) (rows []board.Row) {
		for n := range 5 {
			rows = append(rows, board.Row{ID: idOf(2, n), Bench: "Bench 1", Piece: "bar", Hot: hot})
		}
		return rows
	}
	cases := []struct {
		name          string
		before, after []board.Row
		want          []string
		reason        string
	}{
		{"a course more", []board.Row{spoon}, []board.Row{{ID: spoon.ID, Piece: "spoon", Verdict: spoon.Verdict, Spent: 0.6}}, nil, "it may go on"},
		{"another verdict", []board.Row{spoon}, []board.Row{soon}, []string{"Bench 3: spoon, bowl: anneal soon, 92 % of the limit."}, "it must be known"},
		{"into the flame", []board.Row{soon}, []board.Row{hot}, []string{"Bench 3: spoon, bowl: HOT, heating."}, "who touches it burns"},
		{"an alert", []board.Row{soon}, []board.Row{called}, []string{"Bench 3: ACT: ANNEAL NOW - spoon."}, "it is told as the bench tells it"},
		{"the same alert", []board.Row{called}, []board.Row{called}, nil, "once"},
		{"a new piece", nil, []board.Row{spoon}, nil, "it can wait"},
		{"a new piece that is hot", nil, []board.Row{hot}, []string{"Bench 3: spoon, bowl: HOT, heating."}, "it cannot"},
		{"one less", []board.Row{hot}, nil, nil, "it is gone"},
		{"too many", many(time.Time{}), many(evening), []string{"Bench 1: bar: HOT.", "Bench 1: bar: HOT.", "Bench 1: bar: HOT.", "And 2 more."}, "nobody listens to a list"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.Equal(t, c.want, board.News(c.before, c.after), c.reason)
		})
	}
}
