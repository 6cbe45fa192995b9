package schedule_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys"
	"dullred/schedule"
)

func TestCracks(t *testing.T) {
	h := start(wrought("AG925", "rim", "wall")).then(course("lengthen", bar(7.5, 7.7)))
	seen := h.then(schedule.CrackSeen{}, "rim")
	ignored := seen.then(schedule.CrackIgnored{})
	for _, c := range []struct {
		name, reason string
		story        story
		want         schedule.Verdict
	}{
		{"no crack", "nothing stops the work", h, schedule.VerdictCarryOn},
		{"seen", "every blow drives it on", seen, schedule.VerdictFileCrack},
		{"hammered on", "one more course does not close it", seen.then(unread("planish", 1)), schedule.VerdictFileCrack},
		{"annealed", "heat does not heal a crack", seen.annealed(), schedule.VerdictFileCrack},
		{"quenched, not yet bent", "a bend check would drive it on", seen.quenched(), schedule.VerdictFileCrack},
		{"edges dressed", "rounding the edge is not cutting the crack out", seen.then(schedule.Dressed{}), schedule.VerdictFileCrack},
		{"trimmed", "who trims need not have reached its end: that is said by filing it out", seen.then(schedule.Filed{Reading: bar(7.2, 7.7)}), schedule.VerdictFileCrack},
		{"filed out", "it is gone", seen.then(schedule.CrackFiled{}), schedule.VerdictCarryOn},
		{"filed out elsewhere", "that was another crack", seen.then(schedule.CrackFiled{}, "wall"), schedule.VerdictFileCrack},
		{"overridden", "the smith decides", ignored, schedule.VerdictCarryOn},
		{"seen again", "it ran", ignored.then(schedule.CrackSeen{}, "rim"), schedule.VerdictFileCrack},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.Equal(t, c.want, c.story.advice().Verdict, c.reason)
		})
	}
}

// Heating is never the cure of a crack, however hard the metal around it.
func TestHeatIsNoCure(t *testing.T) {
	for _, alloy := range alloys.All() {
		a := start(wrought(string(alloy.ID))).then(drawnBy(0.7)).then(schedule.CrackSeen{}).advice()
		require.Equal(t, schedule.VerdictFileCrack, a.Verdict, alloy.ID)
		require.Equal(t, "stop: file the crack out now, round its end, and look again; do not heat it to heal it", a.Next)
		require.NotContains(t, a.Next, "anneal")
		require.NotContains(t, a.Next, "heat to")
		require.Contains(t, a.Cautions, "Heating does not heal a crack.")
	}
}

// A smith who has lit the torch over a crack is told so, after what burns.
func TestCrackInTheFlame(t *testing.T) {
	a := start(wrought("C11000")).then(schedule.CrackSeen{}).then(schedule.Out{}).advice()
	require.Equal(t, schedule.VerdictWait, a.Verdict)
	require.Contains(t, a.Cautions[0], "HOT")
	require.Contains(t, a.Cautions, "Heating does not heal a crack.")
	require.Contains(t, a.Reasons, "a crack is open: every blow drives it on")
}

func TestOverriddenCrackIsRemembered(t *testing.T) {
	const still = "a crack was overridden and is still there: it blocks nothing, and may run"
	h := start(wrought("AG925", "rim", "wall")).then(schedule.CrackSeen{}, "rim").then(schedule.CrackIgnored{})
	require.Equal(t, schedule.CrackOverridden, h.state().Zones[0].Crack)
	require.Equal(t, schedule.NoCrack, h.state().Zones[1].Crack, "the wall never had one")
	require.Contains(t, h.then(unread("planish", 1), "rim").advice().Reasons, still)
	require.NotContains(t, h.then(schedule.CrackFiled{}).advice().Reasons, still, "filed out after all")
}
