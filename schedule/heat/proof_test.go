package heat

import (
	"testing"
	"time"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// width is how far the fast end is from the slow, as a ratio of rates.
func width(k Kinetics, w unit.Strain, t unit.Celsius) float64 {
	r := k.rates(w, t)
	return r[2] / r[0]
}

func TestBendChecksThatAgreeNarrowTheBand(t *testing.T) {
	k, w := kineticsOf(t, "copper"), rolled(0.5)
	_, likely, _ := k.Time(w, 250, bendsDead)
	soft := Proof{w, []Span{{250, likely * 3 / 2}}, true}
	springy := Proof{w, []Span{{250, likely * 2 / 3}}, false}
	one, both := k.Proved([]Proof{soft}), k.Proved([]Proof{soft, springy})
	require.Equal(t, 1, one.N)
	require.Equal(t, 2, both.N)
	require.Less(t, width(one, w, 250), width(k, w, 250))
	require.Less(t, width(both, w, 250), width(one, w, 250))
	require.InDelta(t, 2.25, width(both, w, 250), 1e-6, "from two thirds to three halves of the time")
	require.Equal(t, k.rates(w, 250)[1], both.rates(w, 250)[1], "the likely figure was right")
	require.Contains(t, both.Basis(), "2 of your bend checks")
}

func TestABendCheckMovesTheLikelyFigure(t *testing.T) {
	k, w := kineticsOf(t, "copper"), rolled(0.5)
	_, likely, _ := k.Time(w, 250, bendsDead)
	for _, c := range []struct {
		held time.Duration
		soft bool
		want float64
		why  string
	}{
		{likely / 4, true, 4, "soft in a quarter of the time: four times as fast"},
		{likely * 4, true, 1, "soft in four times the time says nothing against it"},
		{likely * 4, false, 0.25, "springy after four times the time: four times as slow"},
		{likely / 4, false, 1, "springy after a quarter of the time says nothing against it"},
	} {
		moved := k.Proved([]Proof{{w, []Span{{250, c.held}}, c.soft}})
		require.InEpsilon(t, c.want, moved.rates(w, 250)[1]/k.rates(w, 250)[1], 1e-6, c.why)
	}
}

func TestContradictionWidens(t *testing.T) {
	k, w := kineticsOf(t, "brass"), rolled(0.4)
	_, likely, _ := k.Time(w, 580, bendsDead)
	torn := k.Proved([]Proof{{w, []Span{{580, likely / 10}}, true}, {w, []Span{{580, likely * 10}}, false}})
	require.Greater(t, width(torn, w, 580), width(k, w, 580))
	require.InEpsilon(t, 100, width(torn, w, 580), 1e-6, "it holds both")
	require.InEpsilon(t, k.rates(w, 580)[1], torn.rates(w, 580)[1], 1e-6, "and stands between them")
}

func TestACheckOutsideTheBandKeepsItOpen(t *testing.T) {
	k, w := kineticsOf(t, "brass"), rolled(0.33)
	slow := k.Proved([]Proof{{w, []Span{{580, time.Minute}}, false}})
	r := slow.rates(w, 580)
	require.InEpsilon(t, slack, r[1]/r[0], 1e-9, "still springy after a minute: slower than the slow end, and nobody knows how much")
	fast := k.Proved([]Proof{{w, []Span{{580, time.Second}}, true}})
	r = fast.rates(w, 580)
	require.InEpsilon(t, slack, r[2]/r[1], 1e-9, "soft within a second")
}

func TestChecksThatSayNothing(t *testing.T) {
	k := kineticsOf(t, "copper")
	for _, p := range []Proof{
		{rolled(0.05), []Span{{600, time.Minute}}, true},
		{rolled(0.5), nil, true},
		{rolled(0.5), []Span{{unit.AbsoluteZero, time.Hour}}, false},
		{0, []Span{{600, time.Minute}}, false},
	} {
		require.Zero(t, k.Proved([]Proof{p}).N)
	}
}

func TestProofsMayComeOneByOne(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		k, proofs := kineticsOf(t, anyMetal.Draw(rt, "metal")), anyProofs.Draw(rt, "proofs")
		one := k
		for _, p := range proofs {
			one = one.Proved([]Proof{p})
		}
		w, c := anyWork.Draw(rt, "w"), anyTemp.Draw(rt, "c")
		require.Equal(rt, k.Proved(proofs).rates(w, c), one.rates(w, c))
	})
}

func TestTheTightestCheckCounts(t *testing.T) {
	k, w := kineticsOf(t, "copper"), rolled(0.5)
	_, likely, _ := k.Time(w, 250, bendsDead)
	check := func(times float64, soft bool) Proof {
		return Proof{w, []Span{{250, time.Duration(times * float64(likely))}}, soft}
	}
	for _, order := range [][]Proof{
		{check(1.2, true), check(3, true), check(0.8, false), check(0.3, false)},
		{check(0.3, false), check(3, true), check(0.8, false), check(1.2, true)},
	} {
		require.InEpsilon(t, 1.5, width(k.Proved(order), w, 250), 1e-6, "soft from 1.2 times the time on, springy up to 0.8")
	}
}
