package split

import (
	"math"
	"slices"
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate"
	"pgregory.net/rapid"
)

// few are up to twenty intervals that a bench may log.
func few(rt *rapid.T, name string, split *rapid.Generator[bool]) []Interval {
	one := rapid.Custom(func(rt *rapid.T) Interval {
		return Interval{unit.Strain(rapid.Float64Range(0.05, 2).Draw(rt, "strain")), split.Draw(rt, "split")}
	})
	return rapid.SliceOfN(one, 0, 20).Draw(rt, name)
}

var anyLimit = rapid.Custom(func(rt *rapid.T) unit.Strain {
	return unit.Strain(rapid.Float64Range(0.1, 2).Draw(rt, "limit"))
})

var anyRisk = rapid.Float64Range(0.001, 0.5)

func TestNoDataIsThePrior(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		k := Prior(anyLimit.Draw(rt, "published"))
		require.Equal(rt, k, k.Learn(nil))
		require.Equal(rt, k, k.Learn([]Interval{{0, true}, {unit.Strain(math.NaN()), false}, {0, false}, {9, true}}), "none of these counts")
	})
}

// Whatever was seen before, a split below the limit lowers it.
func TestAnEarlySplitPullsTheLimitDown(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		k := Prior(anyLimit.Draw(rt, "published")).Learn(few(rt, "before", rapid.Bool()))
		e := k.Limit(Risk) * unit.Strain(rapid.Float64Range(0.1, 1).Draw(rt, "share of the limit"))
		if Doubtful(Interval{e, true}) == "" {
			require.Less(rt, k.Learn([]Interval{{e, true}}).Limit(Risk), k.Limit(Risk))
		}
	})
}

// The first split of a stock lowers the limit the more the earlier it is.
func TestTheEarlierTheFirstSplitTheLowerTheLimit(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		k := Prior(unit.Strain(rapid.Float64Range(0.2, 2).Draw(rt, "published"))).Learn(few(rt, "before", rapid.Just(false)))
		share := rapid.Float64Range(0.2, 1)
		a, b := share.Draw(rt, "a"), share.Draw(rt, "b")
		early := k.Learn([]Interval{{k.Limit(Risk) * unit.Strain(min(a, b)), true}}).Limit(Risk)
		late := k.Learn([]Interval{{k.Limit(Risk) * unit.Strain(max(a, b)), true}}).Limit(Risk)
		require.LessOrEqual(rt, early, late*(1+1e-9))
	})
}

// Metal that only ever stayed whole, up to two and a half times the published
// limit, raises the limit, and the more the longer it lasted.
func TestSurvivorsPushTheLimitUp(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		published := unit.Strain(rapid.Float64Range(0.1, 1.5).Draw(rt, "published"))
		share := rapid.Float64Range(0.05, 2.5)
		var before []Interval
		for _, f := range rapid.SliceOfN(share, 0, 20).Draw(rt, "before") {
			before = append(before, Interval{published * unit.Strain(f), false})
		}
		k := Prior(published).Learn(before)
		a, b := share.Draw(rt, "a"), share.Draw(rt, "b")
		short := k.Learn([]Interval{{published * unit.Strain(min(a, b)), false}}).Limit(Risk)
		long := k.Learn([]Interval{{published * unit.Strain(max(a, b)), false}}).Limit(Risk)
		require.GreaterOrEqual(rt, short, k.Limit(Risk)*(1-1e-9))
		require.GreaterOrEqual(rt, long, short*(1-1e-9), "the longer, the higher")
	})
}

// Whatever was seen before, metal that stays whole up to the limit never lowers
// it. Far beyond where others split it may: then the stock is uneven.
func TestWholeUpToTheLimitNeverLowersIt(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		k := Prior(anyLimit.Draw(rt, "published")).Learn(few(rt, "before", rapid.Bool()))
		e := k.Limit(Risk) * unit.Strain(rapid.Float64Range(0.1, 1).Draw(rt, "share of the limit"))
		require.GreaterOrEqual(rt, k.Learn([]Interval{{e, false}}).Limit(Risk), k.Limit(Risk)*(1-1e-9))
	})
}

func TestASurvivorFarBeyondTheSplitsSaysTheStockIsUneven(t *testing.T) {
	k := Prior(0.69).Learn(slices.Repeat([]Interval{{0.9, true}}, 10))
	odd := k.Learn([]Interval{{1.2, false}})
	require.Less(t, odd.Limit(Risk), k.Limit(Risk))
	_, narrow := k.Middle()
	_, broad := odd.Middle()
	require.Greater(t, broad, narrow)
}

func TestLearningInPartsAndInAnyOrder(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		k := Prior(anyLimit.Draw(rt, "published"))
		a, b := few(rt, "a", rapid.Bool()), few(rt, "b", rapid.Bool())
		parts, whole := k.Learn(b).Learn(a), k.Learn(slices.Concat(a, b))
		splits, lasted := parts.Seen()
		wholeSplits, wholeLasted := whole.Seen()
		require.Equal(rt, []int{wholeSplits, wholeLasted}, []int{splits, lasted})
		risk := anyRisk.Draw(rt, "risk")
		require.InEpsilon(rt, float64(whole.Limit(risk)), float64(parts.Limit(risk)), 1e-9)
	})
}

func TestSurvivalFallsAndLimitsAnswerIt(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		k := Prior(anyLimit.Draw(rt, "published")).Learn(few(rt, "seen", rapid.Bool()))
		e := unit.Strain(rapid.Float64Range(0, 4).Draw(rt, "strain"))
		more := e + unit.Strain(rapid.Float64Range(0, 1).Draw(rt, "more"))
		require.GreaterOrEqual(rt, k.Survive(e), k.Survive(more)-1e-12)
		require.GreaterOrEqual(rt, k.Density(e), 0.0)
		risk := anyRisk.Draw(rt, "risk")
		require.InDelta(rt, 1-risk, k.Survive(k.Limit(risk)), 1e-9)
		require.LessOrEqual(rt, k.Limit(risk/2), k.Limit(risk))
	})
}

// In other units of strain the same story gives the same share of the limit.
func TestOnlyTheShareOfTheLimitMatters(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		seen, f := few(rt, "seen", rapid.Bool()), rapid.Float64Range(0.5, 2).Draw(rt, "times")
		scaled := make([]Interval, len(seen))
		for i, s := range seen {
			scaled[i] = Interval{s.Strain * unit.Strain(f), s.Split}
		}
		for _, s := range scaled {
			if Doubtful(s) != "" {
				return
			}
		}
		require.InEpsilon(rt, f*float64(Prior(0.69).Learn(seen).Limit(Risk)),
			float64(Prior(0.69*unit.Strain(f)).Learn(scaled).Limit(Risk)), 1e-8)
	})
}

// Outside check (reference): gonum, integrate: the chance of a split adds up to that of none.
func TestDensityIsTheSlopeOfSurvival(t *testing.T) {
	for _, set := range sets {
		k := Prior(0.69).Learn(set.intervals)
		e, d := make([]float64, 2001), make([]float64, 2001)
		for i := range e {
			e[i] = 1.5 * float64(i) / 2000
			d[i] = k.Density(unit.Strain(e[i]))
		}
		require.InDelta(t, 1-k.Survive(1.5), integrate.Simpsons(e, d), 1e-8, set.name)
	}
}

func TestManyIntervalsFindTheLaw(t *testing.T) {
	for _, c := range []struct {
		name         string
		scale, shape float64
		reason       string
	}{
		{"as expected", 1.6, 8, "a shape that is among the values"},
		{"weak and even", 0.5, 16, "the prior lies far off"},
		{"strong and uneven", 2.2, 4, "the widest law"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			k := Prior(0.69).Learn(drawn(c.scale, c.shape, 20_000))
			want := c.scale * math.Pow(-math.Log1p(-Risk), 1/c.shape)
			require.InEpsilon(t, want, float64(k.Limit(Risk)), 0.01, c.reason)
		})
	}
}

// drawn are intervals at the evenly spread quantiles of a law, every second one
// annealed whole at four fifths of its strain.
func drawn(scale, shape float64, n int) []Interval {
	all := make([]Interval, n)
	for i := range all {
		q := (float64(i/2) + 0.5) / float64((n+1)/2)
		at := scale * math.Pow(-math.Log1p(-q), 1/shape)
		stop := scale * 0.9
		all[i] = Interval{unit.Strain(at), true}
		if i%2 == 1 && at > stop {
			all[i] = Interval{unit.Strain(stop), false}
		}
	}
	return all
}

func TestZeroKnowledgeIsHarmless(t *testing.T) {
	for _, k := range []Knowledge{{}, Prior(0), Prior(-1), Prior(unit.Strain(math.NaN())), Prior(unit.Strain(math.Inf(1))), Prior(1e-300), Prior(1e300)} {
		require.False(t, k.Known())
		require.Equal(t, k, k.Learn([]Interval{{0.5, true}}))
		require.Zero(t, k.Survive(0.5))
		require.Zero(t, k.Density(0.5))
		require.Zero(t, k.Limit(Risk))
		mean, sd := k.Middle()
		require.Zero(t, mean)
		require.Zero(t, sd)
		require.Equal(t, unit.Strain(0.69), Caution{Published: 0.69, Risk: Risk, Loosen: true}.Warn(k))
	}
}

func TestNoFigureIsEverWild(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		one := rapid.Custom(func(rt *rapid.T) Interval {
			return Interval{unit.Strain(rapid.Float64().Draw(rt, "strain")), rapid.Bool().Draw(rt, "split")}
		})
		k := Prior(unit.Strain(rapid.Float64().Draw(rt, "published"))).Learn(rapid.SliceOf(one).Draw(rt, "intervals"))
		e := unit.Strain(rapid.Float64().Draw(rt, "e"))
		mean, sd := k.Middle()
		for _, f := range []float64{k.Survive(e), k.Density(e), float64(k.Limit(rapid.Float64().Draw(rt, "risk"))), float64(mean), float64(sd)} {
			require.False(rt, math.IsNaN(f) || math.IsInf(f, 0) || f < 0, "%v", f)
		}
		require.LessOrEqual(rt, k.Survive(e), 1.0)
	})
}

func TestWildExtremes(t *testing.T) {
	for _, published := range []unit.Strain{Least, Most} {
		for _, e := range []unit.Strain{Least, Most} {
			for _, split := range []bool{false, true} {
				k := Prior(published).Learn(slices.Repeat([]Interval{{e, split}}, 1000))
				limit := float64(k.Limit(Risk))
				require.False(t, math.IsNaN(limit) || math.IsInf(limit, 0) || limit <= 0, "%v %v %v", published, e, split)
				require.InDelta(t, 1-Risk, k.Survive(unit.Strain(limit)), 1e-9)
			}
		}
	}
}
