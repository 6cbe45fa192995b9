package coldwork

import (
	"math"
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const rounding = 1e-9

func finite(t require.TestingT, values ...float64) {
	for _, v := range values {
		require.False(t, math.IsNaN(v) || math.IsInf(v, 0), "%v is no figure", v)
	}
}

func TestBetweenIsADistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := sections(t, 3)
		ab, bc, ac := Between(s[0], s[1]), Between(s[1], s[2]), Between(s[0], s[2])
		finite(t, float64(ab), float64(bc), float64(ac))
		require.GreaterOrEqual(t, ab, unit.Strain(0))
		require.Zero(t, Between(s[0], s[0]), "no change, no strain")
		require.InDelta(t, float64(ab), float64(Between(s[1], s[0])), rounding, "back is as far as forth")
		require.LessOrEqual(t, ac, ab+bc+rounding, "no way is shorter than the straight one")
	})
	require.Zero(t, Between(sheet(1), bar(1, 8)), "not comparable")
}

func TestChainIsAtLeastTheStrainOfItsEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		chain := sections(t, rapid.IntRange(1, 6).Draw(t, "readings"))
		calliper := unit.Millimetre(rapid.Float64Range(0.001, 1).Draw(t, "calliper"))
		sum := Chain(chain, calliper)
		finite(t, float64(sum.Strain), float64(sum.Sigma))
		require.GreaterOrEqual(t, sum.Sigma, unit.Strain(0))
		require.GreaterOrEqual(t, sum.Strain+rounding, Between(chain[0], chain[len(chain)-1]))
	})
	require.Equal(t, Estimate{}, Chain(nil, 0.1))
}

func TestThereAndBackIsWorkedTwice(t *testing.T) {
	there, back := bar(3, 10), bar(2.5, 12)
	require.InDelta(t, 2*float64(Between(there, back)), float64(Chain([]Section{there, back, there}, 0.1).Strain), rounding)
}

// Along a straight path the readings inside a chain cancel.
func TestErrorOfAStraightChainIsThatOfItsEnds(t *testing.T) {
	ends := Chain([]Section{round(6), round(3)}, 0.02)
	steps := Chain([]Section{round(6), round(5), round(4), round(3)}, 0.02)
	require.InDelta(t, float64(ends.Strain), float64(steps.Strain), rounding)
	require.InDelta(t, float64(ends.Sigma), float64(steps.Sigma), rounding)
}

func TestOfTheTwoDirectionsOfAnErrorTheLargerCounts(t *testing.T) {
	// 0.3 mm read as 0.2 mm changes ln by ln 1.5, and 0.2 mm read as 0.1 mm by ln 2;
	// the other way round they change it by less.
	want := 2 / math.Sqrt(3) * math.Hypot(math.Log(1.5), math.Log(2))
	require.InDelta(t, want, float64(Chain([]Section{sheet(0.3), sheet(0.2)}, 0.1).Sigma), rounding)
}

// analytic is the error of Between for two bars by the derivatives of its formula.
func analytic(a, b Section, u float64) float64 {
	et, ew := math.Log(float64(b.Thick/a.Thick)), math.Log(float64(b.Width/a.Width))
	e := float64(Between(a, b))
	dt, dw := 2./3*(2*et+ew)/e*u, 2./3*(2*ew+et)/e*u
	return math.Sqrt(math.Pow(dt/float64(a.Thick), 2) + math.Pow(dt/float64(b.Thick), 2) +
		math.Pow(dw/float64(a.Width), 2) + math.Pow(dw/float64(b.Width), 2))
}

func TestErrorAgreesWithTheDerivatives(t *testing.T) {
	got := Chain([]Section{bar(8, 8), bar(6.4, 7.2)}, 0.02).Sigma
	require.InEpsilon(t, analytic(bar(8, 8), bar(6.4, 7.2), 0.02), float64(got), 0.02, "a bar hammered by hand")
	side := rapid.Float64Range(2, 20)
	changes := rapid.Custom(func(t *rapid.T) []Section {
		return []Section{bar(unit.Millimetre(side.Draw(t, "t0")), unit.Millimetre(side.Draw(t, "w0"))),
			bar(unit.Millimetre(side.Draw(t, "t1")), unit.Millimetre(side.Draw(t, "w1")))}
	}).Filter(func(s []Section) bool { return Between(s[0], s[1]) >= 0.1 }) // close to no strain its error is not linear
	rapid.Check(t, func(t *rapid.T) {
		s := changes.Draw(t, "change")
		a, b := s[0], s[1]
		require.InEpsilon(t, analytic(a, b, 0.001), float64(Chain([]Section{a, b}, 0.001).Sigma), 0.02)
	})
}

func TestReductionLiesWithinItsBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := sections(t, 2)
		calliper := unit.Millimetre(rapid.Float64Range(0, 1).Draw(t, "calliper"))
		r, low, high, ok := Reduction(s[0], s[1], calliper)
		require.True(t, ok)
		finite(t, float64(r), float64(low), float64(high))
		require.LessOrEqual(t, low, r)
		require.LessOrEqual(t, r, high)
		require.LessOrEqual(t, high, unit.AreaReduction(1))
	})
	_, _, _, ok := Reduction(Section{}, Section{}, 0.1)
	require.False(t, ok, "nothing measured")
	_, _, _, ok = Reduction(sheet(1), bar(1, 8), 0.1)
	require.False(t, ok, "not comparable")
}

func TestEveryFigureOfASectionIsFinite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := sections(t, 1)[0]
		low, high := Twist(s, rapid.Float64Range(-100, 100).Draw(t, "turns"), size(t, "over"))
		bend := Bend(s.Depth(), size(t, "radius"))
		area, _ := s.Area()
		finite(t, float64(low), float64(high), float64(bend), float64(area), float64(s.BlankLength()))
		require.LessOrEqual(t, low, high)
		require.Positive(t, float64(bend))
		require.Positive(t, float64(s.Depth()))
	})
}

func TestTwist(t *testing.T) {
	low, high := Twist(round(6), -5, 100)
	require.Equal(t, low, high, "exact for a round bar")
	require.Positive(t, float64(low), "either way round")
	low, high = Twist(square(6), 5, 100)
	require.InEpsilon(t, math.Sqrt2, float64(high/low), rounding, "half the diagonal over half the side")
}

func TestEstimate(t *testing.T) {
	sum := Estimate{0.3, 0.03}.Plus(Estimate{0.1, 0.04})
	require.InDelta(t, 0.4, float64(sum.Strain), rounding)
	require.InDelta(t, 0.05, float64(sum.Sigma), rounding, "errors in quadrature")
	require.InDelta(t, 0.35, float64(sum.Low()), rounding)
	require.InDelta(t, 0.45, float64(sum.High()), rounding)
	require.Zero(t, Estimate{0.1, 0.2}.Low(), "never below no work")
}

func TestCalliperErrorIsBelievable(t *testing.T) {
	for _, c := range []struct {
		error  unit.Millimetre
		ok     bool
		reason string
	}{
		{0.02, true, "a good vernier"},
		{MaxCalliper, true, "a steel rule in gloves"},
		{500, false, "it would net every change away and never warn"},
		{0, false, "every reading has an error"},
		{-0.1, false, "no error is negative"},
		{unit.Millimetre(math.NaN()), false, "not a figure"},
	} {
		require.Equal(t, c.ok, CheckCalliper(c.error) == nil, c.reason)
	}
}
