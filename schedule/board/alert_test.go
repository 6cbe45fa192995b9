package board_test

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/alert"
)

// An alert stands on the board from when it was raised until it was seen, answered or
// taken back.
func TestLatchedAlerts(t *testing.T) {
	called := func(n int) *story { return newStory(t, n).log(rod(), to(5)).raise() }
	// learned is a call of a bench whose limit is lower than that of the table.
	learned := func() *story {
		s := newStory(t, 9).log(rod(), to(7.8))
		state := schedule.Fold(s.made)
		a := alert.Alert{Cause: alert.AnnealNow, Piece: s.piece, Zones: []string{schedule.Whole}, Due: s.at,
			Key: schedule.WorkCause(s.piece, schedule.Whole, state.Zones[0].Since, schedule.VerdictAnnealNow)}
		s.made = append(s.made, a.Entry(idOf(3, 1), s.bench, s.at))
		s.at = s.at.Add(time.Minute)
		return s
	}
	cases := []struct {
		name   string
		story  *story
		says   string // empty for no alert
		reason string
	}{
		{"nothing was raised", newStory(t, 1).log(rod(), to(5)), "", "the bench raises alerts, not the board"},
		{"raised", called(2), "ACT: ANNEAL NOW - piece without a name, ...0002.", "nobody has seen it"},
		{"seen", func() *story { s := called(3); return s.log(schedule.Acknowledged{Alert: s.lastID()}) }(), "", "it waits no more"},
		{"answered", called(4).log(schedule.Begun{}), "", "the heat that was called for"},
		{"taken back", func() *story { s := called(5); return s.log(schedule.Void{Target: s.made[1].ID}) }(), "", "the course was never done"},
		{"raised by what a bench learned", learned(), "ACT: ANNEAL NOW - piece without a name, ...0009.", "the bench knows more than the board"},
		{"that one taken back", func() *story { s := learned(); return s.log(schedule.Void{Target: s.made[1].ID}) }(), "", "its cause is gone"},
		{"that one proved soft", learned().log(schedule.Begun{}, schedule.Quenched{}, schedule.Soft{}), "", "it was answered, and the count begins anew"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			rows := of(c.story).shown(c.story.at)
			require.Len(t, rows, 1)
			if c.says == "" {
				require.Empty(t, rows[0].Alerts, c.reason)
				return
			}
			require.Len(t, rows[0].Alerts, 1, c.reason)
			require.Equal(t, c.says, rows[0].Alerts[0].Sentence())
			require.True(t, rows[0].Presses())
		})
	}
}

// The torch that was left lit stands for the bench, until somebody has seen it.
func TestLatchedAlertOfABench(t *testing.T) {
	s := newStory(t, 1)
	s.piece = s.bench
	s.log(schedule.TorchLit{})
	now := evening.Add(11 * time.Minute)
	due := alert.Find(nil, alert.Bench{ID: s.bench, State: schedule.FoldBench(s.bench, s.made), Limits: alert.Usual()}, now)
	s.made = append(s.made, alert.Unraised(due, s.made, alert.Writer{Hand: idOf(3, 1), Bench: s.bench, Now: now})...)
	rows := of(s).shown(now)
	require.Len(t, rows, 1)
	require.Equal(t, "DANGER: TORCH LEFT LIT, late by 1 min.", rows[0].Alerts[0].Sentence())
	require.Empty(t, of(s.log(schedule.Acknowledged{Alert: s.lastID()})).shown(now))
}

// Who raises or sees the alert of a piece at another bench has not been at the piece: the
// board still sends whoever reads it to where the metal is, whatever came in first.
func TestAnAlertMovesNoPiece(t *testing.T) {
	s := newStory(t, 1).log(rod(), to(5))
	at := s.bench
	s.bench = idOf(4, 2)
	s.raise()
	s.log(schedule.Acknowledged{Alert: s.lastID()})
	seen := of(s)
	benchOf := func(shelf shelf) string { return shelf.shown(s.at)[0].Bench }
	where := "bench without a name, ..." + string(at[len(at)-4:])
	require.Equal(t, where, benchOf(seen))
	slices.Reverse(seen.rows)
	require.Equal(t, where, benchOf(seen))
	s.log(schedule.Begun{})
	require.Equal(t, "bench without a name, ...0002", benchOf(of(s)), "who heats it has it")
}
