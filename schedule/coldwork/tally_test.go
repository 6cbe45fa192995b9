package coldwork

import (
	"slices"
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const calliper = 0.1

// perCourse is what a course is taken to put in before any was measured.
func perCourse(p Process) float64 { return float64(Prior(p).PerCourse()) }

// onSoft is the strain that an effort gives soft metal.
func onSoft(effort float64) float64 { return float64(Given(unit.Strain(effort))) }

func TestZeroTallyKnowsNothing(t *testing.T) {
	var none Tally
	require.False(t, none.Section().Known())
	require.Empty(t, none.Pending())
	require.Equal(t, Estimate{}, none.Worked(calliper, Prior))
	require.Equal(t, Estimate{}, none.Soft().Worked(calliper, Prior), "softening nothing is nothing")
	read, seen := none.Read(bar(8, 8), calliper)
	require.Equal(t, bar(8, 8), read.Section())
	require.Zero(t, seen, "a first reading shows no change")
}

func TestReadTeachesTheHand(t *testing.T) {
	start := Tally{}.Reset(bar(8, 8))
	read, seen := start.Wait(Lengthen, 3).Read(bar(6.4, 7.2), calliper)
	require.Equal(t, Course{Process: Lengthen, Count: 3, Strain: Between(bar(8, 8), bar(6.4, 7.2)), Section: bar(8, 8)}, seen)
	require.Empty(t, read.Pending(), "the reading covers them")
	require.Equal(t, Chain([]Section{bar(8, 8), bar(6.4, 7.2)}, calliper), read.Worked(calliper, Prior))
}

func TestWaitingCoursesAreEstimatedUntilTheyAreRead(t *testing.T) {
	waiting := Tally{}.Reset(bar(8, 8)).Wait(Lengthen, 3).Wait(Planish, 1)
	require.Equal(t, []Process{Lengthen, Lengthen, Lengthen, Planish}, waiting.Pending())
	got := waiting.Worked(calliper, Prior)
	require.InDelta(t, onSoft(3*perCourse(Lengthen)+perCourse(Planish)), float64(got.Strain), rounding)
	require.Positive(t, got.Sigma)
	require.Equal(t, Estimate{}, waiting.Measured(calliper), "nothing was read")
	zero := waiting.Worked(calliper, func(Process) Hand { return Hand{} })
	require.Equal(t, Estimate{}, zero, "the zero hand forecasts nothing")
}

// Ten readings of a bar that does not change, each out by half the calliper's
// error one way or the other, are no ten courses of strain.
func TestReadingsBelowTheCalliperAreNetted(t *testing.T) {
	tally, naive := Tally{}.Reset(bar(8, 8)), 0.0
	var seen Course
	for i := range 10 {
		before := tally.Section()
		tally, seen = tally.Wait(Planish, 1).Read(bar(7.95+0.1*unit.Millimetre(i%2), 8), calliper)
		require.Zero(t, seen, "nothing was seen")
		naive += float64(Between(before, tally.Section()))
	}
	got := tally.Measured(calliper).Strain
	require.InDelta(t, float64(Between(bar(8, 8), tally.Section())), float64(got), rounding, "the net change")
	require.Less(t, float64(got), naive/10)

	tally, seen = tally.Wait(Planish, 2).Read(bar(7.6, 8), calliper)
	require.Equal(t, Course{Process: Planish, Count: 12, Strain: Between(bar(8, 8), bar(7.6, 8)), Section: bar(8, 8)}, seen,
		"all courses behind the change that shows")
	require.Equal(t, seen.Strain, tally.Measured(calliper).Strain)
}

func TestCoursesThatUndoEachOtherStillCount(t *testing.T) {
	back, seen := Tally{}.Reset(bar(8, 8)).Wait(Lengthen, 2).Wait(Widen, 2).Read(bar(8, 8), calliper)
	require.Zero(t, seen, "two processes say nothing of either")
	got := back.Measured(calliper)
	require.InDelta(t, onSoft(2*perCourse(Lengthen)+2*perCourse(Widen)), float64(got.Strain), rounding, "what was expected of them")
	require.Greater(t, got.Sigma, Chain([]Section{bar(8, 8), bar(8, 8)}, calliper).Sigma, "an estimate is not exact")

	far, _ := Tally{}.Reset(bar(8, 8)).Wait(Lengthen, 1).Wait(Widen, 1).Read(bar(5, 8), calliper)
	require.Equal(t, Between(bar(8, 8), bar(5, 8)), far.Measured(calliper).Strain, "a larger reading counts")
}

func TestFilingLeavesTheStrain(t *testing.T) {
	worked, _ := Tally{}.Reset(bar(8, 8)).Wait(Lengthen, 3).Read(bar(6.4, 7.2), calliper)
	filed := worked.Reset(bar(6, 7))
	require.Equal(t, bar(6, 7), filed.Section())
	require.Equal(t, worked.Measured(calliper), filed.Measured(calliper), "metal taken off is no work")
	barely, _ := worked.Wait(Planish, 1).Read(bar(6.35, 7.2), calliper)
	require.Equal(t, barely.Measured(calliper), barely.Reset(bar(6, 7)).Measured(calliper), "nor is a change lost that was too small to see")
	more, seen := filed.Wait(Lengthen, 1).Read(bar(5.5, 6.8), calliper)
	require.Equal(t, Between(bar(6, 7), bar(5.5, 6.8)), seen.Strain, "from the filed section on")
	require.InDelta(t, float64(worked.Measured(calliper).Strain+seen.Strain), float64(more.Measured(calliper).Strain), rounding)
}

func TestCoursesUnreadBeforeFilingStayEstimates(t *testing.T) {
	waiting := Tally{}.Reset(bar(8, 8)).Wait(Lengthen, 3)
	filed := waiting.Reset(bar(7, 7))
	require.Equal(t, waiting.Worked(calliper, Prior), filed.Worked(calliper, Prior), "filing makes no estimate exact")
	require.Empty(t, filed.Pending())
	read, seen := filed.Read(bar(7, 7), calliper)
	require.Zero(t, seen)
	require.InDelta(t, onSoft(3*perCourse(Lengthen)), float64(read.Measured(calliper).Strain), rounding, "no later reading can show them")
}

func TestSoftStartsAgain(t *testing.T) {
	worked, _ := Tally{}.Reset(bar(8, 8)).Wait(Lengthen, 3).Read(bar(6.4, 7.2), calliper)
	soft := worked.Shape(Estimate{Strain: 0.1}).Soft()
	require.Equal(t, bar(6.4, 7.2), soft.Section())
	require.Equal(t, Estimate{}, soft.Worked(calliper, Prior))
	again, seen := soft.Wait(Lengthen, 1).Read(bar(6, 7), calliper)
	require.Equal(t, 1, seen.Count)
	require.Equal(t, Between(bar(6.4, 7.2), bar(6, 7)), again.Measured(calliper).Strain)
}

func TestReadingAcrossAnAnnealSharesTheStrain(t *testing.T) {
	soft := Tally{}.Reset(bar(8, 8)).Wait(Lengthen, 3).Soft()
	require.Empty(t, soft.Pending(), "the anneal has undone them")
	read, seen := soft.Wait(Lengthen, 1).Read(bar(6.4, 7.2), calliper)
	whole := Chain([]Section{bar(8, 8), bar(6.4, 7.2)}, calliper)
	require.Equal(t, Course{Process: Lengthen, Count: 4, Strain: whole.Strain, Section: bar(8, 8)}, seen, "four courses made the change")
	got := read.Measured(calliper)
	require.InDelta(t, float64(whole.Strain)/4, float64(got.Strain), rounding, "one of the four came after the anneal")
	require.InDelta(t, float64(whole.Sigma)/4, float64(got.Sigma), rounding, "with its share of the error")

	twice := Tally{}.Reset(bar(8, 8)).Wait(Lengthen, 1).Soft().Wait(Lengthen, 1).Soft().Wait(Widen, 2)
	read, seen = twice.Read(bar(6.4, 7.2), calliper)
	require.Zero(t, seen, "two processes")
	require.InDelta(t, float64(whole.Strain)/2, float64(read.Measured(calliper).Strain), rounding, "two of four")
	next, seen := read.Wait(Lengthen, 1).Read(bar(6, 7), calliper)
	require.Equal(t, 1, seen.Count, "the anneal is behind the last reading")
	require.Greater(t, next.Measured(calliper).Strain, read.Measured(calliper).Strain)
}

func TestReadingOfAnotherKindStartsANewSection(t *testing.T) {
	changed, seen := Tally{}.Reset(bar(2, 20)).Wait(Roll, 1).Read(sheet(1.5), calliper)
	require.Zero(t, seen)
	require.Equal(t, sheet(1.5), changed.Section())
	require.InDelta(t, onSoft(perCourse(Roll)), float64(changed.Measured(calliper).Strain), rounding, "the course is still counted")
}

// op is one thing that happens to a zone.
func op(t *rapid.T, tally Tally, draw func(*rapid.T) Section) Tally {
	p := rapid.SampledFrom(Processes()).Draw(t, "process")
	switch rapid.IntRange(0, 5).Draw(t, "op") {
	case 0, 1:
		return tally.Wait(p, rapid.IntRange(1, 4).Draw(t, "n"))
	case 2, 3:
		tally, _ = tally.Read(draw(t), calliper)
		return tally
	case 4:
		return tally.Reset(draw(t))
	}
	return tally.Soft()
}

func TestTallyNeverLosesOrInventsWork(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := kinds[rapid.IntRange(0, len(kinds)-1).Draw(t, "kind")]
		tally := Tally{}
		for range rapid.IntRange(0, 12).Draw(t, "ops") {
			was, pending := tally.Worked(calliper, Prior), slices.Clone(tally.Pending())
			next := op(t, tally, kind.draw)
			require.Equal(t, was, tally.Worked(calliper, Prior), "what happens next leaves the tally before it alone")
			require.Equal(t, pending, slices.Clone(tally.Pending()))
			tally = next
			measured, worked := tally.Measured(calliper), tally.Worked(calliper, Prior)
			finite(t, float64(worked.Strain), float64(worked.Sigma), float64(measured.Sigma))
			require.GreaterOrEqual(t, measured.Strain, unit.Strain(0))
			require.GreaterOrEqual(t, worked.Strain, measured.Strain)
			require.GreaterOrEqual(t, worked.Sigma, measured.Sigma)
		}
	})
}

func TestMeasuredIsAtLeastTheStrainOfTheEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		readings := sections(t, rapid.IntRange(2, 6).Draw(t, "readings"))
		tally := Tally{}.Reset(readings[0])
		for _, s := range readings[1:] {
			tally, _ = tally.Wait(rapid.SampledFrom(Processes()).Draw(t, "process"), 1).Read(s, calliper)
		}
		ends := Between(readings[0], readings[len(readings)-1])
		require.GreaterOrEqual(t, tally.Measured(calliper).Strain+rounding, ends)
	})
}
