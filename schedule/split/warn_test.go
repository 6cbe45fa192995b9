package split

import (
	"slices"
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestWarn(t *testing.T) {
	good := Prior(0.69).Learn([]Interval{{1.1, false}, {1.3, false}, {1.2, true}})
	weak := Prior(0.69).Learn([]Interval{{0.4, true}})
	two := Prior(0.69).Learn([]Interval{{1.1, false}, {1.3, false}})
	near := Prior(0.69).Learn([]Interval{{0.8, false}, {0.75, false}, {0.76, false}}).Learn(slices.Repeat([]Interval{{0.6, false}}, 50))
	for _, c := range []struct {
		name    string
		caution Caution
		stock   Knowledge
		want    unit.Strain
		reason  string
	}{
		{"nothing seen", Caution{0.69, Risk, false}, Prior(0.69), 0.69, "the published limit"},
		{"weak stock", Caution{0.69, Risk, false}, weak, weak.Limit(Risk), "it tightens by itself"},
		{"weak stock, loosened", Caution{0.69, Risk, true}, weak, weak.Limit(Risk), "it tightens all the same"},
		{"good stock", Caution{0.69, Risk, false}, good, 0.69, "never looser by itself"},
		{"good stock, loosened", Caution{0.69, Risk, true}, good, good.Limit(Risk), "the smith has said so"},
		{"two long survivors, loosened", Caution{0.69, Risk, true}, two, 0.69, "two may be slips"},
		{"survivors a little beyond, loosened", Caution{0.69, Risk, true}, near, 0.75, "no further than three have gone"},
		{"no risk", Caution{0.69, 0, true}, good, 0.69, "a risk that is none leaves the published limit"},
		{"nothing published", Caution{0, Risk, false}, Knowledge{}, 0, "there is no limit"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.InDelta(t, float64(c.want), float64(c.caution.Warn(c.stock)), 1e-12, c.reason)
		})
	}
	require.Greater(t, good.Limit(Risk), unit.Strain(0.69))
	require.Less(t, weak.Limit(Risk), unit.Strain(0.5))
}

func TestNeverBeyondThePublishedLimitUnasked(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		published := anyLimit.Draw(rt, "published")
		k := Prior(published).Learn(few(rt, "seen", rapid.Bool()))
		risk := anyRisk.Draw(rt, "risk")
		strict := Caution{Published: published, Risk: risk}.Warn(k)
		loose := Caution{Published: published, Risk: risk, Loosen: true}.Warn(k)
		require.LessOrEqual(rt, strict, published)
		require.LessOrEqual(rt, strict, loose)
		require.LessOrEqual(rt, loose, max(published, k.Reached()), "not where nothing has gone")
		require.LessOrEqual(rt, loose, max(published, k.Limit(risk)*(1+1e-12)))
		both := k.Limits([]float64{risk / 2, 0, risk})
		require.Zero(rt, both[1], "no risk is no limit")
		require.InEpsilon(rt, float64(k.Limit(risk)), float64(both[2]), 1e-9)
		require.Less(rt, both[0], both[2])
	})
}
