package unit_test

import (
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestParseTemperature(t *testing.T) {
	testAccepted(t, unit.ParseTemperature, []accepted{
		{"650", 650, 0, "a bare number is in °C"},
		{"650C", 650, 0, "no degree sign"},
		{"650 °C", 650, 0, "as it is printed"},
		{"650º c", 650, 0, "the ordinal sign that keyboards offer for the degree"},
		{"650° C", 650, 0, "blank on the other side of the degree sign"},
		{"650°", 650, 0, "degrees are °C"},
		{"1200F", 648.888889, 0, "(1200 - 32) * 5/9 = 648.888..., to six decimals"},
		{"32 °F", 0, 0, "freezing point of water (definition of the scale)"},
		{"923K", 649.85, 0, "923 - 273.15, with no binary dust"},
		{"-40", -40, 0, "below zero"},
		{"-40F", -40, 0, "where the two scales cross"},
		{"- 78,5 C", -78.5, 0, "sign apart, decimal comma"},
		{"4000", 4000, 0, "the highest figure taken"},
		{"-273.14", -273.14, 0, "just above absolute zero"},
	})
}

func TestParseTemperatureRefuses(t *testing.T) {
	const expected = "expected a temperature such as"
	testRefused(t, unit.ParseTemperature, []refused{
		{"", expected, "nothing typed"},
		{"-", expected, "a sign alone"},
		{"--5", expected, "two signs"},
		{"+5", expected, "a plus sign"},
		{"hot", expected, "no number"},
		{"650 mm", expected, "not a temperature"},
		{"6.5e2", expected, "exponent"},
		{"0x1F", expected, "hexadecimal"},
		{"nan", expected, "not a number"},
		{"650-700", expected, "a range"},
		{"-273.15", "above absolute zero", "absolute zero itself"},
		{"-300", "above absolute zero", "below absolute zero"},
		{"0K", "above absolute zero", "absolute zero itself"},
		{"-460F", "above absolute zero", "-273.33 °C"},
		{"4001", "no bench flame is hotter than 4000 °C", "too hot"},
		{"9000F", "no bench flame is hotter than 4000 °C", "too hot"},
	})
}

func TestTemperatureHasNoMinusZero(t *testing.T) {
	c, err := unit.ParseTemperature("-0")
	require.NoError(t, err)
	require.Equal(t, "0 °C", c.String())
}

func TestTemperatureRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := unit.Celsius(rapid.Float64Range(-273.149, float64(unit.MaxTemperature)).Draw(t, "°C"))
		got, err := unit.ParseTemperature(want.String())
		require.NoError(t, err)
		require.Equal(t, want+0, got+0)
	})
}

func FuzzParseTemperature(f *testing.F) {
	for _, s := range []string{"650", "650 °C", "1200F", "923K", "-40", "-300", "9000", "-0", "1e3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, err := unit.ParseTemperature(s)
		if err != nil {
			requireClause(t, s, err)
			return
		}
		require.Greater(t, got, unit.AbsoluteZero)
		require.LessOrEqual(t, got, unit.MaxTemperature)
		again, err := unit.ParseTemperature(got.String())
		require.NoError(t, err)
		require.Equal(t, got, again)
	})
}
