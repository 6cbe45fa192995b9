package unit_test

import (
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Outside check (standard): troy ounce, pennyweight, avoirdupois ounce and grain of NIST
// Handbook 44, as typed.
func TestParseMass(t *testing.T) {
	testAccepted(t, unit.ParseMass, []accepted{
		{"60", 60, 0, "a bare number is in grams"},
		{"60 g", 60, 0, "unit with a blank"},
		{"1.2kg", 1200, 0, "1 kg is 1000 g"},
		{"500 mg", 0.5, 0, "1 g is 1000 mg"},
		{"1 ozt", 31.1034768, 0, "troy ounce (NIST HB 44 App. C)"},
		{"2 OZT", 62.2069536, 0, "two of them; case does not matter"},
		{"1 dwt", 1.55517384, 0, "pennyweight (NIST HB 44 App. C)"},
		{"20 dwt", 31.1034768, 0, "twenty pennyweight are a troy ounce (NIST HB 44 App. C)"},
		{"1 oz", 28.349523125, 0, "avoirdupois ounce (NIST HB 44 App. C)"},
		{"1 gr", 0.06479891, 0, "grain, not gram (NIST HB 44 App. C)"},
		{"100 grains", 6.479891, 0, "the unit written out"},
		{"0,5 g", 0.5, 0, "decimal comma"},
	})
}

func TestParseMassRefuses(t *testing.T) {
	const expected = "expected a mass such as"
	testRefused(t, unit.ParseMass, []refused{
		{"", expected, "nothing typed"},
		{"g", expected, "no number"},
		{"60 mm", expected, "not a mass"},
		{"60 g silver", expected, "a word too many"},
		{"-60", expected, "negative"},
		{"6e1", expected, "exponent"},
		{"0x10", expected, "hexadecimal"},
		{"inf", expected, "infinity"},
		{"1.200,5", expected, "a point and a comma"},
		{"1/2 oz", expected, "fractions are for inches"},
		{"0", "0 g is not a mass", "zero"},
		{"0.00001", "is not a mass from 0.0001 g to 1000 kg", "below any workshop balance"},
		{"1001 kg", "is not a mass from 0.0001 g to 1000 kg", "above any workshop balance"},
	})
}

func TestMassRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := unit.Gram(rapid.Float64Range(float64(unit.MinMass), float64(unit.MaxMass)).Draw(t, "g"))
		got, err := unit.ParseMass(want.String())
		require.NoError(t, err)
		require.Equal(t, want, got)
	})
}

func FuzzParseMass(f *testing.F) {
	for _, s := range []string{"60", "60 g", "1.2kg", "2 ozt", "3 dwt", "100 gr", "1 oz", "-1", "1e9"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, err := unit.ParseMass(s)
		if err != nil {
			requireClause(t, s, err)
			return
		}
		requirePositive(t, float64(got))
		again, err := unit.ParseMass(got.String())
		require.NoError(t, err)
		require.Equal(t, got, again)
	})
}
