package coldwork

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys/unit"
)

func TestEffort(t *testing.T) {
	require.Zero(t, Effort(0))
	require.InDelta(t, 0.44, float64(Effort(0.4)), rounding, "0.4 + 0.16/4")
	require.InDelta(t, 0.4, float64(Given(0.44)), rounding)
	require.InDelta(t, 0.75, float64(Given(Effort(0.69)+0.001)-0.69)/0.001, 0.01, "three quarters of what soft metal takes")
}

func TestGivenUndoesEffort(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := unit.Strain(rapid.Float64Range(0, 6).Draw(t, "strain"))
		require.InDelta(t, float64(e), float64(Given(Effort(e))), 1e-9)
		require.GreaterOrEqual(t, Effort(e), e, "stiff metal needs more")
	})
}

// Courses that weigh the same at any strain: a hand that was measured on hard metal
// and one that was measured on soft metal with the same blows are the same hand.
func TestAHandIsTheSameOnHardMetal(t *testing.T) {
	soft := Prior(Lengthen).Learn(Course{Process: Lengthen, Count: 1, Strain: Given(0.12)})
	from := unit.Strain(0.5)
	hard := Prior(Lengthen).Learn(Course{Process: Lengthen, Count: 1, From: from, Strain: Given(Effort(from)+0.12) - from})
	require.InDelta(t, float64(soft.PerCourse()), float64(hard.PerCourse()), rounding)
	require.Less(t, hard.After(from, 1)-from, soft.After(0, 1), "and does less there")
}

func TestTallyTellsWhereACourseBegan(t *testing.T) {
	bar := func(t, w unit.Millimetre) Section { return Section{Shape: unit.Rectangular, Thick: t, Width: w} }
	tally, first := Tally{}.Reset(bar(8, 8)).Wait(Lengthen, 2).Read(bar(7.4, 7.4), 0.05)
	require.Zero(t, first.From)
	require.Equal(t, bar(8, 8), first.Section)
	tally, second := tally.Wait(Lengthen, 1).Read(bar(7, 7), 0.05)
	require.InDelta(t, float64(first.Strain), float64(second.From), rounding)
	require.Equal(t, bar(7.4, 7.4), second.Section)

	_, across := tally.Wait(Lengthen, 2).Soft().Read(bar(6.5, 6.5), 0.05)
	require.InDelta(t, float64(first.Strain+second.Strain), float64(across.From), rounding, "they began before the anneal")
}

func TestUnreadCoursesGiveHardMetalLess(t *testing.T) {
	soft := unread([]Process{Lengthen, Lengthen}, 0, Prior)
	hard := unread([]Process{Lengthen, Lengthen}, 0.6, Prior)
	require.InDelta(t, float64(Given(2*Prior(Lengthen).PerCourse())), float64(soft.Strain), rounding)
	require.Less(t, hard.Strain, soft.Strain)
	require.Less(t, hard.Sigma, soft.Sigma)
	require.Equal(t, Estimate{}, unread(nil, 0.6, Prior), "no course, no work")
}
