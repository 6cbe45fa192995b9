package unit_test

import (
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Outside check (standard): inches of NIST Handbook 44 and gauges of ASTM B258, as typed.
func TestParseLength(t *testing.T) {
	testAccepted(t, unit.ParseLength, []accepted{
		{"8", 8, 0, "a bare number is in mm"},
		{"8mm", 8, 0, "unit without a blank"},
		{"  8 MM\t", 8, 0, "case and blanks do not matter"},
		{"12,5", 12.5, 0, "decimal comma"},
		{"12.5", 12.5, 0, "decimal point"},
		{".5", 0.5, 0, "no nought before the point"},
		{"1.2cm", 12, 0, "1 cm is 10 mm"},
		{"0.5in", 12.7, 0, "1 in is 25.4 mm exactly (NIST HB 44 App. C)"},
		{"0.5 Inch", 12.7, 0, "the unit written out"},
		{`0.5"`, 12.7, 0, "inch sign"},
		{"0.5″", 12.7, 0, "double prime, the printer's inch sign"},
		{"1/2in", 12.7, 0, "inch fraction"},
		{`3/8"`, 9.525, 0, "inch fraction with the sign"},
		{"0.3in", 7.62, 0, "a conversion leaves no binary dust: 0.3*25.4 is 7.619999999999999 in float64"},
		{"0.001", 0.001, 0, "the shortest length taken"},
		{"100000", 100000, 0, "the longest length taken, 100 m"},
		{"36ga", 0.127, 0, "0.0050 in by definition of the gauge (ASTM B258)"},
		{"0000ga", 11.684, 0, "0.4600 in by definition of the gauge (ASTM B258)"},
		{"4/0 ga", 11.684, 0, "4/0 is how 0000 is written"},
		{"1/0ga", 8.251, 1e-3, "1/0 is 0: 0.3249 in (ASTM B258)"},
		{"18 gauge", 1.0236873, 1e-6, "ASTM B258; also awg() of units(1)"},
		{"20GA", 0.81182097, 1e-6, "ASTM B258; also awg() of units(1)"},
		{"20 B&S gauge", 0.81182097, 1e-6, "as a Gauge prints itself"},
		{"24awg", 0.51055923, 1e-6, "ASTM B258; also awg() of units(1)"},
	})
}

func TestParseLengthRefuses(t *testing.T) {
	const expected = "expected a length such as"
	testRefused(t, unit.ParseLength, []refused{
		{"", expected, "nothing typed"},
		{" ", expected, "nothing but a blank"},
		{"mm", expected, "no number"},
		{"8 8", expected, "two numbers"},
		{"8mm thick", expected, "a word too many"},
		{"8m", expected, "a metre is sooner a slip for mm"},
		{"8kg", expected, "not a length"},
		{"8%", expected, "not a length"},
		{"1.200,5", expected, "a point and a comma"},
		{"1,2,3", expected, "two commas"},
		{"1 200", expected, "a blank inside a number"},
		{"8.", expected, "half typed"},
		{"12,", expected, "half typed"},
		{".", expected, "no digit"},
		{"1e3", expected, "exponent"},
		{"0x10", expected, "hexadecimal"},
		{"0x1p4", expected, "hexadecimal with an exponent"},
		{"1_000", expected, "digit separator"},
		{"nan", expected, "not a number"},
		{"+inf", expected, "infinity"},
		{"٣", expected, "digits other than 0 to 9"},
		{"-5", expected, "negative"},
		{"+5", expected, "a sign"},
		{"1/2", expected, "half a mm or half an inch"},
		{"1/2mm", expected, "fractions are for inches"},
		{"1.5/2in", expected, "fractions are of whole numbers"},
		{"1/2/3in", expected, "two strokes"},
		{"1/0in", "is not a length from 0.001 mm to 100 m", "division by zero"},
		{"0/0in", "is not a length from 0.001 mm to 100 m", "NaN by division"},
		{"0", "0 mm is not a length from 0.001 mm to 100 m", "zero"},
		{"0.0009", "is not a length from 0.001 mm to 100 m", "below a micrometre"},
		{"100001", "is not a length from 0.001 mm to 100 m", "above 100 m"},
		{"41ga", "from 0000 to 40", "beyond the table"},
		{"00000ga", "from 0000 to 40", "beyond the table"},
		{"5/0ga", "from 0000 to 40", "beyond the table"},
		{"07ga", "whole B&S gauge", "no gauge is written so"},
		{"20.5ga", "not the British standard wire gauge", "only whole gauges, and the error says which gauge is meant"},
		{"20swg", "SWG is another table", "the British gauge is refused and mm asked for"},
		{"20 SWG", "give the size in mm", "the British gauge is refused and mm asked for"},
	})
}

func TestLengthRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := unit.Millimetre(rapid.Float64Range(float64(unit.MinLength), float64(unit.MaxLength)).Draw(t, "mm"))
		got, err := unit.ParseLength(want.String())
		require.NoError(t, err)
		require.Equal(t, want, got)
	})
}

func FuzzParseLength(f *testing.F) {
	for _, s := range []string{"8", "12,5 mm", `0.5"`, "1/2in", "20ga", "4/0ga", "20swg", "1e3", "0x10", "-1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, err := unit.ParseLength(s)
		if err != nil {
			requireClause(t, s, err)
			return
		}
		requirePositive(t, float64(got))
		again, err := unit.ParseLength(got.String())
		require.NoError(t, err)
		require.Equal(t, got, again)
	})
}
