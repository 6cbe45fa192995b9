package schedule_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
)

func TestSignsAreHeardWithTheSums(t *testing.T) {
	h := start(wrought("AG925", "bowl", "handle")).then(course("lengthen", bar(7, 7)), "bowl")
	h = h.then(schedule.Signalled{Sign: schedule.SignRings})
	spent := h.advice().Spent
	require.InDelta(t, 0.39, spent, 0.01, "2 ln(8/7) of 0.690")
	heard := h.state().Heard
	require.Equal(t, []schedule.Heard{{Sign: schedule.SignRings, Hand: hand, Alloy: "AG925", Share: spent}}, heard, "one lesson, of the zone that has most")
	require.Len(t, h.then(schedule.Signalled{Sign: schedule.SignRings}, "handle").state().Heard, 2)

	hot := h.then(schedule.Begun{}).then(schedule.Signalled{Sign: schedule.SignDead})
	require.Len(t, hot.state().Heard, 1, "what hot metal says is no sign of its work")
	tin := start(wrought("lead-free pewter")).then(schedule.Signalled{Sign: schedule.SignDead})
	require.Empty(t, tin.state().Heard, "no limit, no share")
}

func TestMeans(t *testing.T) {
	var heard []schedule.Heard
	low, high, n := schedule.Means(heard, schedule.SignRings)
	require.Zero(t, n)
	require.Zero(t, low+high)
	for _, share := range []float64{0.9, 0.6, 0.7} {
		heard = append(heard, schedule.Heard{Sign: schedule.SignRings, Share: share}, schedule.Heard{Sign: schedule.SignDead, Share: 0.1})
	}
	low, high, n = schedule.Means(heard, schedule.SignRings)
	require.Equal(t, []float64{0.6, 0.9, 3}, []float64{low, high, float64(n)}, "few give all of their range")
	for i := range 10 {
		heard = append(heard, schedule.Heard{Sign: schedule.SignBounces, Share: float64(i) / 10})
	}
	low, high, n = schedule.Means(heard, schedule.SignBounces)
	require.Equal(t, []float64{0.1, 0.8, 10}, []float64{low, high, float64(n)}, "four in five of ten")
}
