package say_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/say"
)

func TestClean(t *testing.T) {
	cases := []struct{ name, text, clean, reason string }{
		{"two lines", "one\ntwo\tthree", "one two three", "a sentence is one line"},
		{"a terminal command", "\x1b[31mred\x07", "[31mred", "the terminal is not the sender's"},
		{"turned around", "\u202ekcab", "kcab", "it reads as it was typed"},
		{"lines of Unicode", "a\u2028b\u2029c", "a b c", "some programs begin a line there"},
		{"no UTF-8", "a\xffb", "a\uFFFDb", "bytes are no letters"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) { require.Equal(t, c.clean, say.Clean(c.text), c.reason) })
	}
}

func TestReport(t *testing.T) {
	var out strings.Builder
	f := &say.Fault{Err: errors.New("the disk\nis full"), Code: 4, Kept: "nothing is lost", Do: "make room"}
	require.Equal(t, 4, f.Report(&out, "dullred-share"))
	require.Equal(t, "dullred-share: the disk is full; nothing is lost; make room.\n", out.String())
	out.Reset()
	(&say.Fault{Err: errors.New("no")}).Report(&out, "x")
	require.Equal(t, "x: no.\n", out.String(), "nothing is said where there is nothing to say")
	for said, want := range map[string]string{"File not found.": "File not found", "spo...": "spo...", "no": "no"} {
		out.Reset()
		(&say.Fault{Err: errors.New(said), Do: "try again"}).Report(&out, "x")
		require.Equal(t, "x: "+want+"; try again.\n", out.String(), "the sentence goes on")
	}
}

func TestJSON(t *testing.T) {
	hostile := "a\x1b[31m\u009b31m\u202eb\u200b\u2028\x7f\U000e0041<&\n\u00e4"
	for _, indent := range []string{"", "  "} {
		text, err := say.JSON(map[string]string{hostile: hostile}, indent)
		require.NoError(t, err)
		require.False(t, strings.ContainsFunc(string(text), func(r rune) bool {
			return r != '\n' && unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp)
		}), "%q", text)
		require.Contains(t, string(text), "<&")
		require.Contains(t, string(text), "\u00e4", "letters stay")
		var back map[string]string
		require.NoError(t, json.Unmarshal(text, &back))
		require.Equal(t, map[string]string{hostile: hostile}, back, "the value is the same")
	}
	_, err := say.JSON(func() {}, "")
	require.Error(t, err)
}
