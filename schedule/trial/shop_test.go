package trial

import (
	"math"
	"testing"

	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
	"dullred/schedule/split"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

// plain is a shop without any chance in it: every course 0.1, every interval splits at 0.95.
func plain() Shop {
	s := Usual()
	s.Stocks, s.Hand, s.Within, s.Stiff, s.Error, s.Shape, s.Course = 0, 0, 0, 0, 0, 999, 0.1
	return s
}

func TestWorkWithoutChance(t *testing.T) {
	s := plain()
	for _, c := range []struct {
		name   string
		rule   rule
		heats  int
		split  bool
		reason string
	}{
		{"every 3 courses", rule{courses: 3, stop: 9}, 13, false, "13 intervals of 0.3 and one of 0.1"},
		{"at 0.55", rule{stop: 0.55}, 6, false, "6 intervals of 0.6 and one of 0.4"},
		{"at 0.85", rule{stop: 0.85}, 4, false, "4 intervals of 0.9 and one of 0.4"},
		{"at 0.93", rule{stop: 0.93}, 0, true, "the tenth course passes 0.95"},
		{"never", rule{stop: 9}, 0, true, "the tenth course passes 0.95"},
		{"an oracle that leaves a course", rule{oracle: true, margin: 0.1}, 4, false, "stops within a course of 0.95"},
		{"an oracle that leaves nothing", rule{oracle: true, margin: 0.01}, 0, true, "0.9 is not yet within 0.01 of 0.95"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			p := newPiece(&s)
			p.start(1, float64(s.Course), float64(s.Scale))
			require.Equal(t, outcome{c.heats, c.split}, p.work(c.rule, nil), c.reason)
		})
	}
}

var anyRule = rapid.Custom(func(rt *rapid.T) rule {
	return rule{courses: rapid.IntRange(0, 8).Draw(rt, "courses"), stop: rapid.Float64Range(-0.1, 2).Draw(rt, "stop"),
		oracle: rapid.Bool().Draw(rt, "oracle"), margin: rapid.Float64Range(0, 0.5).Draw(rt, "margin")}
})

// The intervals of a piece add up to it, one more than its heats, and only the
// last of them may split.
func TestIntervalsAddUpToThePiece(t *testing.T) {
	s := Usual()
	rapid.Check(t, func(rt *rapid.T) {
		p, r := newPiece(&s), anyRule.Draw(rt, "rule")
		p.start(rapid.Uint64Range(0, 1000).Draw(rt, "piece"), 0.1, rapid.Float64Range(0.3, 2).Draw(rt, "scale"))
		var seen []split.Interval
		o := p.work(r, func(i split.Interval) { seen = append(seen, i) })
		require.Len(rt, seen, o.heats+1)
		sum := 0.0
		for i, in := range seen {
			sum += float64(in.Strain)
			require.Equal(rt, o.split && i == len(seen)-1, in.Split)
		}
		slack := 6 * float64(s.sigma()) * math.Sqrt(float64(len(seen)))
		if o.split {
			require.Less(rt, sum, float64(s.Total)+slack)
			return
		}
		require.InDelta(rt, float64(s.Total), sum, slack, "but for the errors of reading")
	})
}

// The same piece meets the same chances whatever was asked of it before.
func TestChancesAreCommon(t *testing.T) {
	s := Usual()
	rapid.Check(t, func(rt *rapid.T) {
		first, second := anyRule.Draw(rt, "first"), anyRule.Draw(rt, "second")
		p, q := newPiece(&s), newPiece(&s)
		p.start(7, 0.1, 0.9)
		q.start(3, 0.1, 0.9)
		q.work(first, nil)
		q.start(7, 0.1, 0.9)
		p.work(first, nil)
		require.Equal(rt, p.work(second, nil), q.work(second, nil))
		require.Equal(rt, q.work(first, nil), p.work(first, nil))
	})
}

// Outside check (reference): gonum, distuv: simulated splits against the law of Weibull.
func TestSplitsFollowTheLaw(t *testing.T) {
	s := Usual()
	law := distuv.Weibull{K: s.Shape, Lambda: 0.95}
	p, under := newPiece(&s), 0.0
	p.start(1, 0.1, 0.95)
	const n = 20_000
	at := law.Quantile(0.1)
	for i := range n {
		if p.limit(i) < at {
			under++
		}
	}
	require.InDelta(t, 0.1, under/n, 4*math.Sqrt(0.09/n), "four standard errors")
	require.InDelta(t, 0.1, s.splitsBy(at, 0.95), 1e-12)
}

func TestFirstCoursesHaveTheMeanOfTheShop(t *testing.T) {
	s := Usual()
	sum, n := 0.0, 0.0
	for i, h := range s.smiths(nil) {
		p := newPiece(&s)
		p.start(uint64(i), h.course, 1)
		for j := range 200 {
			sum, n = sum+p.course(j), n+1
		}
	}
	require.InEpsilon(t, float64(s.Course), sum/n, 0.01)
	require.InEpsilon(t, 0.11/1.345, s.stiffened(0.11, 0.69), 0.03, "a little less than at the first blow")
	require.InDelta(t, s.stiffened(0.22, 0.1), s.stiffened(0.11, 0.1)+s.stiffened(0.11, 0.1+s.stiffened(0.11, 0.1)), 1e-12, "two courses are two")
}

func TestMarginIsWhereTheForecastHasTheChance(t *testing.T) {
	s := Usual()
	s.Hands = 5
	for _, h := range s.smiths([]float64{0.02, 0.1, 0.5}) {
		for chance, margin := range h.margin {
			for _, limit := range []float64{0.4, 0.69, 0.9} {
				at := coldwork.Estimate{Strain: unit.Strain(short(limit, margin)), Sigma: s.sigma()}
				require.InDelta(t, chance, h.learned.Left(at, unit.Strain(limit)).NextCrosses, 0.02, "whatever the limit, nearly: a reading is less exact in stiff metal")
			}
		}
	}
}
