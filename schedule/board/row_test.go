package board_test

import (
	"testing"

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
		{"out of the flame", board.Row{Piece: "spoon", Verdict: schedule.VerdictWait, Hot: evening, Dark: true}, "HOT, not glowing", "0 %", "", "it burns and looks cold"},
		{"past the limit and hot elsewhere", board.Row{Piece: "spoon", Verdict: schedule.VerdictAnnealNow, Spent: 1, Hot: evening, Dark: true}, "anneal now, HOT, not glowing", "100 %", "", "neither hides the other"},
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
	many := func(v schedule.Verdict) (rows []board.Row) {
		for n := range 5 {
			rows = append(rows, board.Row{ID: idOf(2, n), Bench: "Bench 1", Piece: "bar", Verdict: v, Spent: 1})
		}
		return rows
	}
	danger := hot
	danger.Alerts = []alert.Standing{{Alert: alert.Alert{Cause: alert.HotLeft, Name: "spoon"}, Raised: schedule.Entry{ID: idOf(1, 2)}}}
	overdue := soon
	overdue.Alerts = []alert.Standing{{Alert: alert.Alert{Cause: alert.PickleOver, Name: "spoon"}, Raised: schedule.Entry{ID: idOf(1, 3)}}}
	now := spoon
	now.Verdict, now.Spent = schedule.VerdictAnnealNow, 1.02
	cases := []struct {
		name           string
		before, after  []board.Row
		danger, others []string
		reason         string
	}{
		{"a course more", []board.Row{spoon}, []board.Row{{ID: spoon.ID, Piece: "spoon", Verdict: spoon.Verdict, Spent: 0.6}}, nil, nil, "it may go on"},
		{"nearer", []board.Row{spoon}, []board.Row{soon}, nil, nil, "the bench itself tells it, and nobody has to act at once"},
		{"past the limit", []board.Row{soon}, []board.Row{now}, nil, []string{"Bench 3: spoon: anneal now, 102 % of the limit."}, "the next blow may split it"},
		{"still past the limit", []board.Row{now}, []board.Row{now}, nil, nil, "once"},
		{"into the flame", []board.Row{soon}, []board.Row{hot}, nil, nil, "thirty benches do that all evening"},
		{"an alert", []board.Row{soon}, []board.Row{called}, nil, []string{"Bench 3: ACT: ANNEAL NOW - spoon."}, "it is told as the bench tells it"},
		{"an alert of a piece that was past the limit", []board.Row{now}, []board.Row{called}, nil, []string{"Bench 3: ACT: ANNEAL NOW - spoon."}, "an alert is new"},
		{"the same alert", []board.Row{called}, []board.Row{called}, nil, nil, "once"},
		{"an alert that can wait", []board.Row{soon}, []board.Row{overdue}, nil, nil, "within ten minutes is not now"},
		{"danger", []board.Row{hot}, []board.Row{danger}, []string{"Bench 3: DANGER: HOT PIECE LEFT - spoon."}, nil, "it breaks in"},
		{"a new piece", nil, []board.Row{spoon}, nil, nil, "it can wait"},
		{"a new piece past the limit", nil, []board.Row{now}, nil, []string{"Bench 3: spoon: anneal now, 102 % of the limit."}, "it cannot"},
		{"one less", []board.Row{hot}, nil, nil, nil, "it is gone"},
		{"too many", many(schedule.VerdictCarryOn), many(schedule.VerdictAnnealNow), nil,
			[]string{"Bench 1: bar: anneal now, 100 % of the limit.", "Bench 1: bar: anneal now, 100 % of the limit.", "Bench 1: bar: anneal now, 100 % of the limit.", "And 2 more."}, "nobody listens to a list"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			danger, others := board.News(c.before, c.after)
			require.Equal(t, c.danger, danger, c.reason)
			require.Equal(t, c.others, others, c.reason)
		})
	}
}
