package unit_test

import (
	"math"
	"testing"
	"time"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestParseDuration(t *testing.T) {
	testAccepted(t, unit.ParseDuration, []accepted{
		{"90", 90e9, 0, "a bare number is in seconds"},
		{"90s", 90e9, 0, "seconds"},
		{"1:30", 90e9, 0, "minutes and seconds, as a kitchen clock shows them"},
		{"90:00", 5400e9, 0, "minutes may run above 59 when they come first"},
		{"1:02:03", 3723e9, 0, "hours, minutes and seconds"},
		{"5 min", 300e9, 0, "minutes"},
		{"5MIN", 300e9, 0, "case does not matter"},
		{"1h", 3600e9, 0, "hours"},
		{"1h30m", 5400e9, 0, "m is the minute"},
		{"2m5s", 125e9, 0, "no blanks"},
		{"1h0m0s", 3600e9, 0, "a part may be zero as long as the whole is not"},
		{"1 min 30 s", 90e9, 0, "as FormatDuration prints it"},
		{"1,5 h", 5400e9, 0, "decimal comma"},
		{"0.5", 5e8, 0, "half a second"},
		{"365 d", 365 * 86400e9, 0, "the longest time taken"},
	})
}

func TestParseDurationRefuses(t *testing.T) {
	const expected, bounds = "expected a time such as", "expected a time above zero and of one year at most"
	testRefused(t, unit.ParseDuration, []refused{
		{"", expected, "nothing typed"},
		{"min", expected, "no number"},
		{"5 mm", expected, "not a time"},
		{"1h30", expected, "minutes or seconds is a guess"},
		{"30m1h", expected, "small before large"},
		{"5m5m", expected, "a unit twice"},
		{"1:3", expected, "1:03 or 1:30 is a guess"},
		{"1:60", expected, "no such second"},
		{"1:60:00", expected, "no such minute"},
		{"1:02:03:04", expected, "four fields"},
		{"1:", expected, "half typed"},
		{":30", expected, "half typed"},
		{"1:3 0", expected, "a blank inside a field"},
		{"1:30 min", expected, "a clock time has no unit"},
		{"1.5:30", expected, "a clock time has whole fields"},
		{"-5s", expected, "negative"},
		{"1e3", expected, "exponent"},
		{"inf", expected, "infinity"},
		{"0", bounds, "zero"},
		{"0:00", bounds, "zero"},
		{"0.0000000001s", bounds, "below a nanosecond"},
		{"366 d", bounds, "above a year"},
		{"365d1s", bounds, "above a year by a second"},
		{"99999999999999999999h", bounds, "would overflow"},
		{"99999999999999999999:00:00", bounds, "would overflow"},
	})
}

func TestFormatDuration(t *testing.T) {
	for want, d := range map[string]time.Duration{
		"1 min 30 s":  90 * time.Second,
		"6 min 12 s":  6*time.Minute + 12*time.Second,
		"5 min":       5 * time.Minute,
		"1 h 3 s":     time.Hour + 3*time.Second,
		"36 h":        36 * time.Hour,
		"0.5 s":       time.Second / 2,
		"0 s":         0,
		"-1 min 30 s": -90 * time.Second,
	} {
		require.Equal(t, want, unit.FormatDuration(d))
	}
	require.Equal(t, unit.FormatDuration(math.MaxInt64), unit.FormatDuration(math.MinInt64)[1:], "the lowest duration does not overflow")
}

func TestDurationRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := time.Duration(rapid.Int64Range(1, int64(unit.MaxDuration)).Draw(t, "ns"))
		got, err := unit.ParseDuration(unit.FormatDuration(want))
		require.NoError(t, err)
		require.Equal(t, want, got)
	})
}

func FuzzParseDuration(f *testing.F) {
	for _, s := range []string{"90", "90s", "1:30", "1:02:03", "5 min", "1h30m", "2m5s", "1 h 3.5 s", "366d", "1:60"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, err := unit.ParseDuration(s)
		if err != nil {
			requireClause(t, s, err)
			return
		}
		require.Greater(t, got, time.Duration(0))
		require.LessOrEqual(t, got, unit.MaxDuration)
		again, err := unit.ParseDuration(unit.FormatDuration(got))
		require.NoError(t, err)
		require.Equal(t, got, again)
	})
}
