package schedule_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys"
	"dullred/schedule"
	"dullred/schedule/coldwork"
)

func TestIntervals(t *testing.T) {
	begin := wrought("AG925")
	begin.Stock = "melt 7"
	h := start(begin).then(course(coldwork.Lengthen, sides(7)))
	work := 2 * math.Log(8./7)
	whole := h.annealed()
	require.Len(t, whole.state().Intervals, 1)
	got := whole.state().Intervals[0]
	require.InDelta(t, work, float64(got.Strain), 1e-9)
	require.False(t, got.Split)
	require.Equal(t, "melt 7", got.Stock)
	require.Equal(t, alloys.Wrought, got.Condition)

	cracked := h.then(schedule.CrackSeen{}).then(schedule.CrackSeen{}).then(schedule.CrackFiled{}).annealed()
	require.Len(t, cracked.state().Intervals, 1, "a crack ends it once, and the heat after it proves nothing")
	require.True(t, cracked.state().Intervals[0].Split)
	again := cracked.then(course(coldwork.Lengthen, sides(6.5))).annealed()
	require.Len(t, again.state().Intervals, 2, "the next one begins at the heat")
	require.False(t, again.state().Intervals[1].Split)

	require.Empty(t, start(begin).annealed().state().Intervals, "soft metal that is annealed was not worked")
	unproven := h.quenched().then(course(coldwork.Lengthen, sides(6.5))).annealed()
	require.Empty(t, unproven.state().Intervals, "a heat between was never proved: nobody knows how long it was")
	zones := start(wrought("AG925", "tip", "butt")).then(course(coldwork.Lengthen, sides(7))).annealed()
	require.Len(t, zones.state().Intervals, 1, "worked as one, it is one interval")
	apart := start(wrought("AG925", "tip", "butt")).then(course(coldwork.Lengthen, sides(7)), "tip").then(course(coldwork.Lengthen, sides(7.5)), "butt").annealed()
	require.Len(t, apart.state().Intervals, 2)
}
