package heat

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys"
	"dullred/alloys/unit"
)

func TestEveryColourWord(t *testing.T) {
	scales, rows := map[string]bool{}, 0
	for _, s := range wordScales() {
		name := s[0].word.Scale
		require.False(t, scales[name], "%s stands in two places", name)
		require.NotEmpty(t, name)
		require.LessOrEqual(t, len(name), 30, "%s is not short", name)
		scales[name] = true
		rows += len(s)
		for i, w := range s {
			place := name + ": " + w.word.Word
			require.NotEmpty(t, w.word.Word, name)
			require.NotEmpty(t, w.word.Source, place)
			require.Equal(t, s[0].word.Source, w.word.Source, "%s: a scale has one source", place)
			require.Contains(t, []alloys.Confidence{alloys.ConfidenceRead, alloys.ConfidenceMemory, alloys.ConfidencePractice}, w.confidence, place)
			require.True(t, w.low >= 400 && w.low <= 1600, place)
			require.True(t, math.IsInf(float64(w.high), -1) || w.high > w.low, place)
			require.False(t, math.IsInf(float64(w.high), 1) && i < len(s)-1, "%s: only the last may have no end", place)
			if i > 0 {
				require.Greater(t, w.low, s[i-1].low, place)
				require.Greater(t, w.low, s[i-1].high, "%s overlaps the word before", place)
			}
		}
	}
	require.Len(t, scales, 10)
	require.Equal(t, 95, rows)
}

// wordIn is what a list calls a temperature, empty for nothing.
func wordIn(scale string, temp unit.Celsius) string {
	all := Words(temp)
	i := slices.IndexFunc(all, func(w Word) bool { return strings.HasPrefix(w.Scale, scale) })
	if i < 0 {
		return ""
	}
	return all[i].Word
}

func TestWords(t *testing.T) {
	cases := []struct {
		name, reason, scale string
		temp                unit.Celsius
		want                string
	}{
		{"before the first", "the list begins at 482 °C", "silversmithing", 482, ""},
		{"at the first", "a word begins at its temperature", "silversmithing", 482.2, "visibly red (in subdued light)"},
		{"between two", "the last at or below", "silversmithing", 700, "dull red (in subdued light)"},
		{"after the last", "871.1 and the step of 111.1 before it", "silversmithing", 980, "bright salmon red (in subdued light)"},
		{"long after the last", "the list has ended", "silversmithing", 985, ""},
		{"in a range", "705 to 814", "Chapman", 750, "dark red"},
		{"in the gap of two ranges", "704 to 705", "Chapman", 704.5, "very dark red"},
		{"a range with a gap behind it", "550 to 625, the next from 700", "Howe", 660, "dark red"},
		{"a list without an end", "1315 and above", "Chapman", 3000, "white"},
		{"a last range", "1498.9 to 1598.9", "Dooley", 1598, "dazzling white"},
		{"past a last range", "it says where it ends", "Dooley", 1600, ""},
		{"the light of a word", "the list names it", "NBS", 480, "red heat, visible (in the twilight)"},
		{"the light once", "the word has it already", "Howe", 472, "visible in the dark"},
		{"cherry here", "700 by one list", "Howe", 720, "cherry-red"},
		{"cherry there", "the same heat is dark red by another", "NBS", 720, "dark red"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) { require.Equal(t, c.want, wordIn(c.scale, c.temp), c.reason) })
	}
}

func TestNoWordsWhereNoListReaches(t *testing.T) {
	require.Empty(t, Words(399))
	require.Empty(t, Words(unit.AbsoluteZero))
	require.Empty(t, Words(unit.Celsius(math.NaN())))
	require.Len(t, Words(4000), 1, "only the list without an end")
	require.Len(t, Words(720), 10)
}

func TestReadWordScalesRefuses(t *testing.T) {
	const head = colourWordColumns + "\n"
	cases := []struct{ name, reason, text, want string }{
		{"nothing", "no columns", "", "expected the columns"},
		{"other columns", "another table", "a,b\n", "expected the columns"},
		{"no temperature", "a word without a place", head + "S,red,hot,,,read,x\n", "hot"},
		{"no end", "an end is a number or above", head + "S,red,500,below,,read,x\n", "below"},
		{"one word", "its end cannot be known", head + "S,red,500,,,read,x\n", "one word is no scale"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := readWordScales(c.text)
			require.ErrorContains(t, err, c.want, c.reason)
		})
	}
}
