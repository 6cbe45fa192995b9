package main

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
	"golang.org/x/text/unicode/norm"
	"pgregory.net/rapid"
)

func TestNamesOfFiles(t *testing.T) {
	cases := []struct{ name, reason, piece, want string }{
		{"plain", "most are", "spoon-1", "spoon-1"},
		{"blank", "a name without blanks is easier to type", "spoon 1", "spoon-1"},
		{"folders", "it stays in its folder", "../a/b\\c", "a-b-c"},
		{"dots", "it is not hidden, and no folder above", "..", "piece"},
		{"dash", "it is no flag", "--force", "force"},
		{"device", "Windows keeps it", "NUL", "piece-NUL"},
		{"device with an ending", "and with an ending", "com1.x", "piece-com1.x"},
		{"no device", "a word that begins so", "console", "console"},
		{"turned", "what is read is what it is called", "a\u202egnp.b", "agnp.b"},
		{"control", "a terminal may show it", "a\x1b[2Jb\x00", "a[2Jb"},
		{"forbidden", "on Windows", "a<b>c:d\"e|f?g*h", "a-b-c-d-e-f-g-h"},
		{"Greek", "letters stay", "κουτάλι", "κουτάλι"},
		{"composed", "an accent typed alone", "e\u0301", "é"},
		{"long", "cut between letters of two bytes", "x" + strings.Repeat("é", 80), "x" + strings.Repeat("é", 49)},
		{"accents", "cut before the letter that they stand on", strings.Repeat("x", 99) + "q\u0302\u0302", strings.Repeat("x", 99)},
		{"broken", "no letter", "a\xffb", "ab"},
		{"empty", "it has a name all the same", "", "piece"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.Equal(t, c.want, fileStem(c.piece), c.reason)
		})
	}
}

func TestNamesOfFilesDiffer(t *testing.T) {
	var n fileNames
	var got []string
	for _, name := range []string{"a/b", "a:b", "A-B", "a-b-2", strings.Repeat("x", 200), strings.Repeat("x", 201)} {
		got = append(got, n.next(name, "pdf"))
	}
	require.Equal(t, []string{"a-b.pdf", "a-b-2.pdf", "A-B-3.pdf", "a-b-2-2.pdf", strings.Repeat("x", 100) + ".pdf", strings.Repeat("x", 98) + "-2.pdf"}, got)
}

func TestAnyNameIsSafe(t *testing.T) {
	names := rapid.OneOf(rapid.String(), rapid.StringMatching(`[./\\\-: a]{0,9}`), rapid.SampledFrom([]string{"con", "LPT¹", strings.Repeat("\u0301", 90)}))
	rapid.Check(t, func(t *rapid.T) {
		var n fileNames
		seen := map[string]bool{}
		for _, name := range rapid.SliceOfN(names, 1, 6).Draw(t, "names") {
			file := n.next(name, "txt")
			stem := strings.TrimSuffix(file, ".txt")
			require.True(t, utf8.ValidString(file))
			require.LessOrEqual(t, len(stem), mostFileName+len("piece-"))
			require.NotContains(t, ".-", stem[:1])
			require.NotRegexp(t, reservedFile(), stem)
			require.False(t, strings.ContainsAny(file, `/\:*?"<>|`) || strings.ContainsFunc(file, func(r rune) bool { return !unicode.IsPrint(r) }), file)
			same := strings.ToLower(norm.NFC.String(file))
			require.False(t, seen[same], file)
			seen[same] = true
		}
	})
}
