package unit_test

import (
	"math"
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestParseReduction(t *testing.T) {
	for _, c := range []struct {
		text string
		like unit.ReductionKind
		want unit.Reduction
		why  string
	}{
		{"50%", unit.ThicknessKind, unit.Reduction{Fraction: 0.5, Kind: unit.ThicknessKind}, "the kind passed in"},
		{"50 %", unit.AreaKind, unit.Reduction{Fraction: 0.5, Kind: unit.AreaKind}, "the kind passed in"},
		{"0.5", unit.AreaKind, unit.Reduction{Fraction: 0.5, Kind: unit.AreaKind}, "a bare number below 1 is a fraction"},
		{"50", unit.AreaKind, unit.Reduction{Fraction: 0.5, Kind: unit.AreaKind}, "a bare number from 1 up is per cent"},
		{"1", unit.AreaKind, unit.Reduction{Fraction: 0.01, Kind: unit.AreaKind}, "one per cent, not the whole"},
		{"0.5%", unit.AreaKind, unit.Reduction{Fraction: 0.005, Kind: unit.AreaKind}, "the sign makes it per cent"},
		{"50 % area", unit.ThicknessKind, unit.Reduction{Fraction: 0.5, Kind: unit.AreaKind}, "the typed kind wins"},
		{"50% thickness", unit.Unkinded, unit.Reduction{Fraction: 0.5, Kind: unit.ThicknessKind}, "the typed kind is enough"},
		{"area 50%", unit.Unkinded, unit.Reduction{Fraction: 0.5, Kind: unit.AreaKind}, "kind before"},
		{"0.5 Area", unit.Unkinded, unit.Reduction{Fraction: 0.5, Kind: unit.AreaKind}, "fraction with a kind"},
		{"37,5 % of thickness", unit.Unkinded, unit.Reduction{Fraction: 0.375, Kind: unit.ThicknessKind}, "as it is printed"},
		{"29%", unit.AreaKind, unit.Reduction{Fraction: 0.29, Kind: unit.AreaKind}, "the very number 0.29: the point is moved in the text"},
	} {
		t.Run(c.text, func(t *testing.T) {
			require.NotEmpty(t, c.why)
			got, err := unit.ParseReduction(c.text, c.like)
			require.NoError(t, err, c.why)
			require.Equal(t, c.want, got, c.why)
		})
	}
}

func TestParseReductionRefuses(t *testing.T) {
	parse := func(s string) (unit.Reduction, error) { return unit.ParseReduction(s, unit.AreaKind) }
	const expected, bounds = "expected a reduction such as", "above 0 % and below 100 %"
	testRefused(t, parse, []refused{
		{"", expected, "nothing typed"},
		{"area", expected, "no number"},
		{"50 % of length", expected, "no such kind"},
		{"area 50% area", expected, "the kind twice"},
		{"50 mm", expected, "not a reduction"},
		{"-5%", expected, "negative"},
		{"5e1%", expected, "exponent"},
		{"nan%", expected, "not a number"},
		{"5.%", expected, "half typed"},
		{"1.200,5%", expected, "a point and a comma"},
		{"0", bounds, "nothing taken off"},
		{"0%", bounds, "nothing taken off"},
		{"100%", bounds, "nothing left"},
		{"100", bounds, "nothing left"},
		{"250 % area", bounds, "more than there was"},
		{"99.99999999999999999999%", bounds, "100 % once it is a float64"},
	})
	_, err := unit.ParseReduction("50%", unit.Unkinded)
	require.ErrorContains(t, err, "the word thickness or area", "no kind anywhere is not guessed")
}

func TestReductionStrain(t *testing.T) {
	for _, c := range []struct {
		reduction unit.Reduction
		want      float64
		within    float64
		source    string
	}{
		{unit.Reduction{Fraction: 0.20, Kind: unit.ThicknessKind}, 0.25766398, 1e-6, "2/√3 ln(1/0.80), recomputed by hand"},
		{unit.Reduction{Fraction: 0.50, Kind: unit.ThicknessKind}, 0.80037742, 1e-6, "2/√3 ln 2, recomputed by hand"},
		{unit.Reduction{Fraction: 0.45, Kind: unit.ThicknessKind}, 0.6903, 1e-4, "2/√3 ln(1/0.55), recomputed by hand"},
		{unit.Reduction{Fraction: 0.50, Kind: unit.AreaKind}, 0.693147, 1e-6, "ln 2"},
		{unit.Reduction{Fraction: 0.50}, 0.80037742, 1e-6, "an unknown kind counts as the larger strain"},
	} {
		require.NotEmpty(t, c.source)
		require.InDelta(t, c.want, float64(c.reduction.Strain()), c.within, "%v: %s", c.reduction, c.source)
	}
}

func TestReductionString(t *testing.T) {
	for want, r := range map[string]unit.Reduction{
		"50 % of thickness":      {Fraction: 0.5, Kind: unit.ThicknessKind},
		"50 % of area":           {Fraction: 0.5, Kind: unit.AreaKind},
		"5 % of area":            {Fraction: 0.05, Kind: unit.AreaKind},
		"0.5 % of area":          {Fraction: 0.005, Kind: unit.AreaKind},
		"37.5 % of area":         {Fraction: 0.375, Kind: unit.AreaKind},
		"57 % of area":           {Fraction: 0.57, Kind: unit.AreaKind}, // 100*0.57 is 56.99999999999999
		"100 % of area":          {Fraction: 1, Kind: unit.AreaKind},
		"0 % of unknown kind":    {},
		"NaN % of thickness":     {Fraction: math.NaN(), Kind: unit.ThicknessKind},
		"12.3456 % of thickness": {Fraction: 0.123456, Kind: unit.ThicknessKind},
	} {
		require.Equal(t, want, r.String())
	}
}

func TestReductionRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := unit.Reduction{
			Fraction: rapid.Float64Range(math.SmallestNonzeroFloat64, math.Nextafter(1, 0)).Draw(t, "fraction"),
			Kind:     unit.ReductionKind(rapid.IntRange(1, 2).Draw(t, "kind")),
		}
		got, err := unit.ParseReduction(want.String(), unit.Unkinded)
		require.NoError(t, err)
		require.Equal(t, want, got)
	})
}

func FuzzParseReduction(f *testing.F) {
	for _, s := range []string{"50%", "0.5", "50 % area", "50% of thickness", "area 50%", "1", "100%", "-5", "1e-3"} {
		f.Add(s, uint8(unit.AreaKind))
		f.Add(s, uint8(unit.Unkinded))
	}
	f.Fuzz(func(t *testing.T, s string, like uint8) {
		got, err := unit.ParseReduction(s, unit.ReductionKind(like%3))
		if err != nil {
			requireClause(t, s, err)
			return
		}
		require.Less(t, got.Fraction, 1.0)
		requirePositive(t, got.Fraction)
		requirePositive(t, float64(got.Strain()))
		again, err := unit.ParseReduction(got.String(), unit.Unkinded)
		require.NoError(t, err)
		require.Equal(t, got, again)
	})
}
