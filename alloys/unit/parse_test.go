package unit_test

import (
	"math"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"
)

// accepted is a text that must be read as want, within the given distance.
type accepted struct {
	text   string
	want   float64
	within float64
	why    string
}

// refused is a text that must give an error holding part.
type refused struct{ text, part, why string }

func testAccepted[T ~float64 | ~int64](t *testing.T, parse func(string) (T, error), cases []accepted) {
	t.Helper()
	for _, c := range cases {
		t.Run(c.text, func(t *testing.T) {
			require.NotEmpty(t, c.why)
			got, err := parse(c.text)
			require.NoError(t, err, c.why)
			require.InDelta(t, c.want, float64(got), c.within, c.why)
		})
	}
}

func testRefused[T any](t *testing.T, parse func(string) (T, error), cases []refused) {
	t.Helper()
	for _, c := range cases {
		t.Run(c.text, func(t *testing.T) {
			require.NotEmpty(t, c.why)
			require.NotEmpty(t, c.part)
			got, err := parse(c.text)
			require.ErrorContains(t, err, c.part, c.why)
			require.Zero(t, got, "a refused text gives no value")
			requireClause(t, c.text, err)
		})
	}
}

// requireClause holds an error to one readable line that starts with the typed text.
func requireClause(t *testing.T, text string, err error) {
	t.Helper()
	start, runes := text, 0
	for i := range text {
		if runes++; runes > 10 {
			start = text[:i]
			break
		}
	}
	require.True(t, strings.HasPrefix(err.Error(), strings.TrimSuffix(strconv.Quote(start), `"`)), err.Error())
	require.Equal(t, -1, strings.IndexFunc(err.Error(), unicode.IsControl), "one line, no control characters")
	require.Less(t, len(err.Error()), 700, "short enough to read")
	require.False(t, strings.HasSuffix(err.Error(), "."), "one clause")
}

// requirePositive holds v to a finite figure above zero.
func requirePositive(t *testing.T, v float64) {
	t.Helper()
	require.Greater(t, v, 0.0)
	require.False(t, math.IsInf(v, 0))
}

func TestLongTextIsCut(t *testing.T) {
	for name, text := range map[string]string{
		"letters":       strings.Repeat("a", 100_000),
		"digits":        strings.Repeat("9", 100_000),
		"wide letters":  strings.Repeat("é", 100_000),
		"control signs": strings.Repeat("\x00\n", 50_000),
	} {
		t.Run(name, func(t *testing.T) {
			_, err := parseLike(text)
			require.ErrorContains(t, err, `…": `)
			requireClause(t, text, err)
		})
	}
	_, err := parseLike(strings.Repeat("a", 40))
	require.ErrorContains(t, err, strings.Repeat("a", 40)+`": `, "40 characters are shown whole")
	_, err = parseLike(strings.Repeat("a", 41))
	require.ErrorContains(t, err, strings.Repeat("a", 40)+`…": `, "the 41st is cut")
}
