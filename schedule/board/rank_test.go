package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/alert"
	"dullred/schedule/board"
)

// The word that is read from afar is that of the worst about a row.
func TestSigns(t *testing.T) {
	alerts := func(causes ...alert.Cause) (all []alert.Standing) {
		for _, c := range causes {
			all = append(all, alert.Standing{Alert: alert.Alert{Cause: c}})
		}
		return all
	}
	cases := []struct {
		name   string
		row    board.Row
		rank   board.Rank
		sign   string
		reason string
	}{
		{"the zero row of a piece", board.Row{Piece: "spoon"}, board.Calm, "UNSURE", "never carry on"},
		{"carry on", board.Row{Piece: "spoon", Verdict: schedule.VerdictCarryOn}, board.Calm, "CARRY ON", "it can wait"},
		{"near the limit", board.Row{Piece: "spoon", Verdict: schedule.VerdictAnnealSoon}, board.Calm, "SOON", "one course may go"},
		{"near the limit, unseen", board.Row{Piece: "spoon", Verdict: schedule.VerdictAnnealSoon, Alerts: alerts(alert.AnnealSoon)}, board.Unseen, "SOON", "the word of the bench screen"},
		{"past the limit", board.Row{Piece: "spoon", Verdict: schedule.VerdictAnnealNow}, board.Stop, "ANNEAL", "seen at the bench or not, the next blow may split it"},
		{"past the limit and hot", board.Row{Piece: "spoon", Verdict: schedule.VerdictAnnealNow, Hot: evening}, board.Stop, "ANNEAL", "another zone is hot"},
		{"called by its bench", board.Row{Piece: "spoon", Verdict: schedule.VerdictCarryOn, Alerts: alerts(alert.AnnealNow)}, board.Stop, "ANNEAL", "the bench knows more than the board"},
		{"a crack", board.Row{Piece: "spoon", Verdict: schedule.VerdictFileCrack}, board.Stop, "CRACK", "it runs on under the hammer"},
		{"to be quenched", board.Row{Piece: "bowl", Verdict: schedule.VerdictWait, Hot: evening, Dark: true, Alerts: alerts(alert.QuenchNow)}, board.Stop, "QUENCH", "the moment passes"},
		{"in the flame", board.Row{Piece: "spoon", Verdict: schedule.VerdictHeating, Hot: evening}, board.Hot, "HOT", "who touches it burns"},
		{"out of the flame", board.Row{Piece: "spoon", Verdict: schedule.VerdictWait, Hot: evening, Dark: true}, board.Hot, "HOT", "it burns and does not glow"},
		{"hot and left", board.Row{Piece: "spoon", Verdict: schedule.VerdictWait, Hot: evening, Alerts: alerts(alert.HotLeft)}, board.Danger, "DANGER", "somebody burns"},
		{"pickle, unseen", board.Row{Piece: "spoon", Verdict: schedule.VerdictPickle, Alerts: alerts(alert.PickleOver)}, board.Unseen, "PICKLE", "within ten minutes"},
		{"a torch left", board.Row{Alerts: alerts(alert.TorchLeft)}, board.Danger, "DANGER", "a bench, not a piece"},
		{"the ears", board.Row{Alerts: alerts(alert.Ears)}, board.Unseen, "NOTE", "a bench, not a piece"},
		{"an alert of a version to come", board.Row{Piece: "spoon", Alerts: alerts("")}, board.Unseen, "UNSURE", "it is seen that there is one"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.Equal(t, c.rank, c.row.Rank(), c.reason)
			require.Equal(t, c.sign, c.row.Sign(), c.reason)
		})
	}
}

// Metal that is hot and no longer glows is known as such until it is quenched.
func TestDark(t *testing.T) {
	s := newStory(t, 1).log(rod(), to(7), schedule.Begun{})
	require.False(t, of(s).shown(s.at)[0].Dark, "it is in the flame")
	s.log(schedule.Reached{}, schedule.Out{})
	row := of(s).shown(s.at)[0]
	require.True(t, row.Dark)
	require.Equal(t, "HOT, not glowing", row.State())
	s.log(schedule.Quenched{})
	require.False(t, of(s).shown(s.at)[0].Dark)
}
