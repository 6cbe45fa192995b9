package probe

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
)

func TestParseLine(t *testing.T) {
	cases := []struct {
		line   string
		want   unit.Celsius
		reason string
	}{
		{"650", 650, "a bare number is in °C"},
		{" 650.5\t", 650.5, "blanks around it"},
		{"650,5", 650.5, "decimal comma"},
		{"+650.25", 650.25, "a sign"},
		{"-12.5 C", -12.5, "a cold workshop"},
		{"−12", -12, "the minus of a typesetter"},
		{"-0", 0, "no minus zero"},
		{"00650", 650, "leading zeros of a fixed width"},
		{"650 C", 650, "unit apart"},
		{"650°C", 650, "unit as printed"},
		{"650 ° C", 650, "blank behind the sign"},
		{"650 degC", 650, "ASCII for the sign"},
		{"650℃", 650, "one sign for both"},
		{"650\xb0C", 650, "the degree sign of Latin-1"},
		{"650\xf8C", 650, "the degree sign of the first PCs, code page 437"},
		{"1200F", 648.8889, "(1200 - 32) * 5/9 = 648.888..."},
		{"923.15 K", 650, "923.15 - 273.15"},
		{"T=650.2", 650.2, "label with ="},
		{"Temp: 650", 650, "label with : and a blank"},
		{"Probe 1: 650.25 °C; ok", 650.25, "label, unit and a remark"},
		{"TC1=650;23", 650, "two columns"},
		{"650.2,23.1", 650.2, "a point is the decimal sign, so the comma parts columns"},
		{"650, 23", 650, "a blank behind the comma"},
		{"650 C,23", 650, "the unit ends the number"},
		{"C = 650", 650, "a scale as label"},
		{"Temp F: 1200 F", 648.8889, "the unit stands behind the number too"},
		{"type K: 650 C", 650, "K is the type of thermocouple, the unit is C"},
		{"1800", 1800, "the hottest that is taken"},
		{"-50", -50, "the coldest"},
	}
	for _, c := range cases {
		t.Run(c.line, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			got, err := ParseLine(c.line)
			require.NoError(t, err, c.reason)
			require.InDelta(t, float64(c.want), float64(got), 1e-4, c.reason)
			require.False(t, strings.HasPrefix((got).String(), "-0 "), c.reason)
		})
	}
}

// Outside check (standard): where type K ends, ITS-90.
func TestParseLineRefuses(t *testing.T) {
	cases := []struct {
		line   string
		want   error
		reason string
	}{
		{"", ErrNoise, "nothing"},
		{"hello", ErrNoise, "no number"},
		{"1,650", ErrNoise, "a thousand or a fraction"},
		{"650,850", ErrNoise, "a fraction or two columns"},
		{"1,650.2", ErrNoise, "a thousand; 1 would be the worst of readings"},
		{"12,65,700", ErrNoise, "which comma parts columns is not sure"},
		{"650,8505555555", ErrNoise, "not 650 and a column"},
		{"650 850", ErrNoise, "two probes"},
		{"6.5e2", ErrNoise, "exponent"},
		{"0x28A", ErrNoise, "hexadecimal"},
		{"6 50", ErrNoise, "a blank in a number"},
		{"650 mV", ErrNoise, "not a temperature"},
		{"12:34:56", ErrNoise, "a time of day"},
		{"time: 650", ErrNoise, "the label is no temperature"},
		{"Version: 12", ErrNoise, "a greeting"},
		{"Internal Temp = 23.5", ErrNoise, "the board"},
		{"cold junction temp: 23", ErrNoise, "the other end of the thermocouple"},
		{"target temp: 700", ErrNoise, "what it is to be, not what it is"},
		{"F = 1200", ErrNoise, "650 °C read as 1200 °C would be the other error"},
		{"temp_K=923", ErrNoise, "kelvin or type K"},
		{"Type K: 650", ErrNoise, "kelvin or type K"},
		{"650\x1b[0m", ErrNoise, "a terminal command"},
		{"6\x005", ErrNoise, "a NUL"},
		{"65\xff", ErrNoise, "a byte that was damaged"},
		{"650\u202e", ErrNoise, "turns the direction"},
		{strings.Repeat(" ", 254) + "650", ErrNoise, "257 bytes"},
		{"OPEN", ErrFault, "a word of devices"},
		{"TC=OPEN", ErrFault, "behind a label"},
		{"T: nan", ErrFault, "not a number"},
		{"-inf", ErrFault, "without end"},
		{"----", ErrFault, "dashes of a display"},
		{"T = --.-", ErrFault, "dashes with a point"},
		{"Error: thermocouple open!", ErrFault, "a sentence"},
		{"9999", ErrFault, "no heat of a bench"},
		{"-200", ErrFault, "wired the wrong way round"},
		{"1372", ErrFault, "where the ITS-90 table of type K ends"},
		{"2502 F", ErrFault, "the same in whole °F: 1372.22 °C"},
		{"1800.1", ErrFault, "above the hottest"},
		{"-50.1", ErrFault, "below the coldest"},
		{"0 K", ErrFault, "no reading at all"},
	}
	for _, c := range cases {
		t.Run(c.line, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			_, err := ParseLine(c.line)
			require.ErrorIs(t, err, c.want, c.reason)
		})
	}
}

func TestSampleIsSafeToShow(t *testing.T) {
	require.Equal(t, "a b[31mc", sample("a\tb\x1b[31m\u202ec\x00\r"))
	require.Equal(t, maxSample, utf8.RuneCountInString(sample(strings.Repeat("ä", 200))))
}

// FuzzLine: what is read lies in the limits, says the same when it is printed and
// read again, and no text leaves with what a terminal obeys.
func FuzzLine(f *testing.F) {
	for _, s := range []string{"650", "650,5 C", "T=650.2", "1200F", "OPEN", "9999", "1,650", "Probe 1: 650.25 °C; ok", "650\xb0C", "\x1b[2J", "----"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, line string) {
		shown := sample(line)
		require.True(t, utf8.ValidString(shown))
		require.LessOrEqual(t, utf8.RuneCountInString(shown), maxSample)
		require.False(t, strings.ContainsFunc(shown, func(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Cf, r) }))
		temp, err := ParseLine(line)
		if err != nil {
			require.True(t, err == ErrNoise || err == ErrFault)
			return
		}
		require.True(t, temp >= MinTemp && temp <= MaxTemp, "%v", temp)
		require.True(t, strings.ContainsFunc(line, func(r rune) bool { return r >= '0' && r <= '9' }), "a temperature out of no figure")
		again, err := ParseLine(temp.String())
		require.NoError(t, err)
		require.Equal(t, temp, again)
	})
}
