package main

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"dullred/schedule/coldwork"
)

func TestGuideFitsOneScreen(t *testing.T) {
	lines := strings.Split(strings.TrimSuffix(guide(), "\n"), "\n")
	require.LessOrEqual(t, len(lines), 40)
	for _, line := range lines {
		require.LessOrEqual(t, utf8.RuneCountInString(line), 80, line)
	}
}

// The guide says where each command is, and names none that is not there.
func TestGuideNamesEveryCommand(t *testing.T) {
	_, where, _ := strings.Cut(guide(), "\nWhere what is\n")
	where, _, _ = strings.Cut(where, "\n\n")
	named := strings.FieldsFunc(where, func(r rune) bool { return strings.ContainsRune(" ,\n():", r) })
	for _, m := range new(app).makers() {
		if m.name != "help" {
			require.Contains(t, named, m.name)
		}
	}
}

func TestTradeWords(t *testing.T) {
	seen := map[string]bool{}
	var heads []string
	for _, w := range tradeWords() {
		heads = append(heads, strings.ReplaceAll(w.word, "-", " "))
		require.Regexp(t, `^[A-Z0-9].*\.$`, w.meaning, "%s is explained in sentences", w.word)
		for _, name := range w.names() {
			require.False(t, seen[plainWord(name)], "%s stands twice", name)
			seen[plainWord(name)] = true
			found, ok := tradeWordNamed(strings.ToUpper(name))
			require.True(t, ok)
			require.Equal(t, w, found)
		}
	}
	require.True(t, slices.IsSorted(heads), "%v", heads)
	for _, word := range []string{"course", "pass", "anneal", "quench", "pickle", "planish", "cross peen", "peen", "raise", "sink", "soak", "glow",
		"solidus", "fire-stain", "flux", "temper", "proved soft", "spent", "worked", "limit", "zone", "strain", "springy", "hot short"} {
		require.True(t, seen[plainWord(word)], word)
	}
	for _, process := range []coldwork.Process{coldwork.Planish, coldwork.Raise, coldwork.Sink, coldwork.Caulk, coldwork.Draw, coldwork.Widen} {
		require.True(t, seen[plainWord(string(process))], process)
	}
}

// The hint of a first evening names what comes next, goes when that is done, and is
// never in JSON nor said of a second piece.
func TestHintsOfAFirstEvening(t *testing.T) {
	record := filepath.Join(t.TempDir(), "record.db")
	for _, c := range []struct{ line, hint string }{
		{"piece list", "dullred help is a short guide"},
		{"piece new spoon --alloy sterling --size 8x8", "after each course: dullred pass spoon"},
		{"light dim", ""},
		{"pass spoon 7.2x7.8", ""},
		{"pass spoon 4.9x6.7", "when it goes into the flame: dullred heat begin spoon"},
		{"heat begin spoon --json", ""},
		{"note spoon first", "dullred heat reach spoon"},
		{"heat reach spoon", ""},
		{"heat out spoon", ""},
		{"quench spoon", ""},
		{"proved soft spoon", ""},
		{"piece new fork --alloy sterling --size 8x8", ""},
		{"piece list", ""},
	} {
		code, out, said := answered(t, record, strings.Fields(c.line)...)
		require.Equal(t, exitOK, code, said)
		if c.hint == "" {
			require.NotContains(t, out, "hint ", c.line)
			continue
		}
		require.Contains(t, strings.Join(strings.Fields(out), " "), c.hint, c.line)
		require.Equal(t, 1, strings.Count(out, "hint    "), c.line)
	}
}
