package say_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/say"
)

func TestClean(t *testing.T) {
	cases := []struct{ name, text, clean, reason string }{
		{"two lines", "one\ntwo\tthree", "one two three", "a sentence is one line"},
		{"a terminal command", "\x1b[31mred\x07", "[31mred", "the terminal is not the sender's"},
		{"turned around", "\u202ekcab", "kcab", "it reads as it was typed"},
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
}
