package unit_test

import (
	"math"
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestReductionsToStrain(t *testing.T) {
	require.InDelta(t, 0.25766398, float64(unit.ThicknessReduction(0.20).Strain()), 1e-6, "2/√3 ln(1/0.80), recomputed by hand")
	require.InDelta(t, 0.80037742, float64(unit.ThicknessReduction(0.50).Strain()), 1e-6, "2/√3 ln 2, recomputed by hand")
	require.InDelta(t, 0.6903, float64(unit.ThicknessReduction(0.45).Strain()), 1e-4, "2/√3 ln(1/0.55), recomputed by hand")
	require.InDelta(t, 0.693147, float64(unit.AreaReduction(0.5).Strain()), 1e-6, "ln 2")
	require.True(t, math.IsInf(float64(unit.AreaReduction(1).Strain()), 1), "nothing left")
	require.True(t, math.IsInf(float64(unit.ThicknessReduction(1).Strain()), 1), "nothing left")
}

func TestWorked(t *testing.T) {
	require.InDelta(t, 0.2521, float64(unit.Strain(0.3355).Worked()), 1e-4, "1 - exp(-(√3/2) 0.3355), recomputed by hand")
	require.Equal(t, "25.2 % of thickness", unit.Strain(0.3355).Worked().String())
	require.Equal(t, "50 % of area", unit.Strain(math.Ln2).AreaReduction().String())
	require.Equal(t, "0.336", unit.Strain(0.3355).String())
}

// A reduction turned into strain and back is the same reduction.
func TestStrainRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(0, 0.99).Draw(t, "reduction")
		require.InDelta(t, r, float64(unit.ThicknessReduction(r).Strain().Worked()), 1e-12)
		require.InDelta(t, r, float64(unit.AreaReduction(r).Strain().AreaReduction()), 1e-12)
		require.GreaterOrEqual(t, unit.ThicknessReduction(r).Strain(), unit.AreaReduction(r).Strain(), "plane strain is the larger")
	})
}
