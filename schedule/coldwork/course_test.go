package coldwork

import (
	"math"
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func lengthen(n int, strain unit.Strain) Course {
	return Course{Hand: "a", Alloy: "AG925", Process: Lengthen, Count: n, Strain: strain}
}

// taught is the prior of the cross peen taught by some courses.
func taught(courses ...Course) Hand {
	return Learned(At{Hand: "a", Alloy: "AG925", Process: Lengthen}, courses)
}

func TestZeroHandForecastsNothing(t *testing.T) {
	var none Hand
	require.Equal(t, Courses{NextCrosses: 1}, none.Left(Estimate{}, 0.69))
	require.Zero(t, none.PerCourse())
	require.Zero(t, none.Seen())
	require.Equal(t, none, none.Learn(lengthen(3, 0.3)), "it has no prior to teach")
}

func TestLearningMovesTowardsTheDataAndNarrows(t *testing.T) {
	for _, c := range []struct {
		name   string
		strain unit.Strain
		reason string
	}{
		{"light hand", 0.06, "half of what is expected"},
		{"heavy hand", 0.25, "twice what is expected"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			h := Prior(Lengthen)
			for n := 1; n <= 12; n++ {
				next := h.Learn(lengthen(1, c.strain))
				target := math.Log(float64(Effort(c.strain)))
				require.Less(t, math.Abs(next.mean-target), math.Abs(h.mean-target), c.reason)
				require.Greater(t, next.weight, h.weight, "the mean is known better")
				require.Equal(t, n, next.Seen())
				h = next
			}
			require.InEpsilon(t, float64(Effort(c.strain)), float64(h.PerCourse()), 0.10, "a dozen courses overrule the prior")
		})
	}
	before, after := Prior(Lengthen), taught(lengthen(1, 0.11), lengthen(1, 0.11), lengthen(1, 0.11))
	require.Less(t, after.variance(), before.variance(), "even courses narrow the scatter")
	require.Less(t, after.spreadOf(3), before.spreadOf(3))
}

func TestLearnedTakesOnlyWhatMatches(t *testing.T) {
	others := []Course{
		{Hand: "b", Alloy: "AG925", Process: Lengthen, Count: 5, Strain: 2},
		{Hand: "a", Alloy: "C26000", Process: Lengthen, Count: 5, Strain: 2},
		{Hand: "a", Alloy: "AG925", Process: Roll, Count: 5, Strain: 2},
		lengthen(0, 2), lengthen(2, 0), // these teach nothing
	}
	require.Equal(t, Prior(Lengthen), taught(others...))
	require.Equal(t, taught(lengthen(2, 0.3)), taught(append(others, lengthen(2, 0.3))...))
}

func TestEvenIsTheAverage(t *testing.T) {
	h := Even(0.3355, 4)
	require.InDelta(t, 0.3355/4, float64(h.PerCourse()), rounding)
	require.InDelta(t, 0.3355, float64(h.After(0, 4)), rounding, "four such courses give what was read")
	require.Equal(t, 4, h.Seen())
}

// moments integrates the posterior of the mean and the variance of ln strain on
// a grid, from the same prior and the normal likelihood of each observation: an
// average of n courses has the variance σ²/n.
func moments(prior Hand, courses []Course) (mean, variance, spread float64) {
	const step, logStep = 0.01, 0.04
	var total, sumMean, sumVariance, sumSquare float64
	for l := math.Log(0.003); l < math.Log(30); l += logStep {
		s2 := math.Exp(l)
		for mu := prior.mean - 5; mu < prior.mean+5; mu += step {
			// inverse gamma in σ², with the Jacobian of ln σ²; normal in the mean
			p := -prior.shape*l - prior.scale/s2 + logNormal(mu, prior.mean, s2/prior.weight)
			for _, c := range courses {
				n := float64(c.Count)
				p += logNormal(math.Log(float64(c.Effort())/n), mu, s2/n)
			}
			w := math.Exp(p)
			total += w
			sumMean += w * mu
			sumVariance += w * s2
			sumSquare += w * mu * mu
		}
	}
	mean = sumMean / total
	return mean, sumVariance / total, sumSquare/total - mean*mean
}

func logNormal(x, mean, variance float64) float64 {
	return -0.5*math.Log(variance) - (x-mean)*(x-mean)/(2*variance)
}

func TestPosteriorAgreesWithNumericalIntegration(t *testing.T) {
	for _, c := range []struct {
		name    string
		courses []Course
		reason  string
	}{
		{"one course", []Course{lengthen(1, 0.15)}, "a little above the prior"},
		{"one average", []Course{lengthen(4, 0.3355)}, "four courses read together"},
		{"light and heavy", []Course{lengthen(1, 0.05), lengthen(1, 0.3)}, "a scatter far above the prior's"},
		{"a working day", []Course{lengthen(3, 0.4), lengthen(2, 0.22), lengthen(5, 0.5), lengthen(1, 0.14), lengthen(4, 0.41)},
			"averages of different length"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			mean, variance, spread := moments(Prior(Lengthen), c.courses)
			h := taught(c.courses...)
			require.InEpsilon(t, math.Exp(mean), math.Exp(h.mean), 0.01, c.reason)
			require.InEpsilon(t, variance, h.variance(), 0.01, c.reason)
			require.InEpsilon(t, spread, h.variance()/h.weight, 0.01, c.reason)
		})
	}
}

func TestLeftEndsTheCountForAHandThatHardlyWorks(t *testing.T) {
	planisher := Even(0.001, 10)
	require.Equal(t, mostCourses, planisher.Left(Estimate{}, 0.69).Low)
}

func TestLeftAtTheLimit(t *testing.T) {
	for _, done := range []unit.Strain{0.69, 0.7, 5} {
		require.Equal(t, Courses{NextCrosses: 1}, taught(lengthen(3, 0.3)).Left(Estimate{done, 0.02}, 0.69))
	}
	require.Equal(t, Courses{NextCrosses: 1}, Prior(Lengthen).Left(Estimate{}, 0), "no limit leaves no course")
}

// anyHand draws a hand and the work it has done, known to a half or better.
func anyHand(t *rapid.T) (Hand, Estimate) {
	var courses []Course
	for range rapid.IntRange(0, 6).Draw(t, "observations") {
		n := rapid.IntRange(1, 6).Draw(t, "n")
		each := unit.Strain(rapid.Float64Range(0.02, 0.4).Draw(t, "each"))
		courses = append(courses, lengthen(n, each*unit.Strain(n)))
	}
	done := unit.Strain(rapid.Float64Range(0, 0.9).Draw(t, "done"))
	sigma := min(0.1, done*unit.Strain(rapid.Float64Range(0, 0.5).Draw(t, "error")))
	return taught(courses...), Estimate{done, sigma}
}

func TestLeftIsOrderedAndMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, done := anyHand(t)
		limit := unit.Strain(rapid.Float64Range(0.05, 1.2).Draw(t, "limit"))
		left := h.Left(done, limit)
		require.LessOrEqual(t, left.Low, left.Likely)
		require.LessOrEqual(t, left.Likely, left.High)
		require.True(t, left.NextCrosses >= 0 && left.NextCrosses <= 1, "%v is no chance", left.NextCrosses)

		for _, q := range []struct {
			courses int
			chance  float64
		}{{left.Low, 0.9}, {left.Likely, 0.5}, {left.High, 0.1}} {
			if q.courses > 0 {
				require.GreaterOrEqual(t, h.under(q.courses, softened(done), Effort(limit)), q.chance)
			}
			if done.Strain < limit && q.courses < mostCourses {
				require.Less(t, h.under(q.courses+1, softened(done), Effort(limit)), q.chance)
			}
		}
		by := unit.Strain(rapid.Float64Range(0, 0.3).Draw(t, "by"))
		worked := h.Left(Estimate{done.Strain + by, done.Sigma}, limit)
		require.GreaterOrEqual(t, worked.NextCrosses, left.NextCrosses-1e-4, "more work done")
		require.LessOrEqual(t, worked.Likely, left.Likely)
		wider := h.Left(done, limit+by)
		require.LessOrEqual(t, wider.NextCrosses, left.NextCrosses+rounding, "a higher limit")
		require.GreaterOrEqual(t, wider.Likely, left.Likely)
	})
}

// A reading right after an anneal shows next to nothing and is wrong by more
// than that: it says nothing about courses learned long before.
func TestALittleReadingDoesNotUpsetALearnedHand(t *testing.T) {
	var courses []Course
	for range 10 {
		courses = append(courses, lengthen(1, 0.11))
	}
	soft := taught(courses...).Left(Estimate{}, 0.69)
	for _, done := range []unit.Strain{0.001, 0.005, 0.02} {
		read := taught(courses...).Left(Estimate{done, 0.03}, 0.69)
		require.Less(t, read.NextCrosses, 0.001, "one course of 0.11 is far from 0.69")
		require.InDelta(t, soft.Low, read.Low, 1)
		require.InDelta(t, soft.Likely, read.Likely, 1)
		require.InDelta(t, soft.High, read.High, 1)
	}
}

// Of a prior of 0.11 a course nine in ten lie above Low and one in ten above High,
// and courses that were measured narrow it.
func TestRangeOfOneCourse(t *testing.T) {
	low, high := Hand{}.Range()
	require.Zero(t, low+high)
	prior := Prior(Lengthen)
	low, high = prior.Range()
	require.Less(t, low, prior.PerCourse())
	require.Greater(t, high, prior.PerCourse())
	require.InDelta(t, 0.1, prior.under(1, Estimate{}, low), 0.001)
	require.InDelta(t, 0.9, prior.under(1, Estimate{}, high), 0.001)
	h := prior
	for range 30 {
		h = h.Learn(lengthen(1, 0.1))
	}
	a, b := h.Range()
	require.Less(t, b-a, high-low)
	require.True(t, a < 0.1 && 0.1 < b)
}
