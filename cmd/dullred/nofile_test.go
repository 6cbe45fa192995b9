//go:build unix

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/adrg/xdg"
	"github.com/stretchr/testify/require"
)

// What is no plain file in the place of one is refused at once, and what is endless or
// very large is read to a bound: a command that waited here would wait for ever. Names with
// line ends and bytes that are no letters are said in one line.
func TestNoFileIsWaitedFor(t *testing.T) {
	home := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", home)
	xdg.Reload()
	t.Cleanup(xdg.Reload)
	path := filepath.Join(home, "record.db")
	ran(t, path, "piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8")
	pipe, big, strange := filepath.Join(home, "pipe"), filepath.Join(home, "big"), filepath.Join(home, "two\nlines\xff\x1b[2J")
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	require.NoError(t, os.WriteFile(big, nil, 0o600))
	require.NoError(t, os.Truncate(big, 1<<30))
	require.NoError(t, os.WriteFile(strange, []byte("x"), 0o600))

	ran(t, path, "photo", "spoon", pipe)
	require.Contains(t, ran(t, path, "export", "--photos", filepath.Join(home, "photos"), filepath.Join(home, "all.jsonl")), "left      ")
	for _, args := range [][]string{
		{"merge", pipe}, {"alloys", "check", pipe}, {"advise", "--record", pipe}, {"export", pipe}, {"record", "backup", pipe}, {"sheet", "spoon", "--into", pipe},
		{"import", big}, {"import", "--csv", big, "--piece", "spoon"}, {"merge", big}, {"alloys", "check", big}, {"advise", "--record", big},
		{"import", strange}, {"import", "--csv", strange, "--piece", "spoon"}, {"merge", strange}, {"alloys", "check", strange}, {"photo", "spoon", strange},
	} {
		requireSentence(t, path, args...)
	}
	for _, name := range []string{"config.toml", "alloys.csv"} {
		place := filepath.Join(home, "dullred", name)
		require.NoError(t, os.MkdirAll(filepath.Dir(place), 0o700))
		for _, from := range []string{pipe, big} {
			require.NoError(t, os.Rename(from, place))
			requireSentence(t, path, "advise", "spoon")
			require.NoError(t, os.Rename(place, from))
		}
	}
}

// requireSentence runs a command that is refused with one line.
func requireSentence(t *testing.T, path string, args ...string) {
	if args[len(args)-2] != "--record" {
		args = append(args, "--record", path)
	}
	var out, errOut bytes.Buffer
	code := run(args, &out, &errOut, func(string) string { return "" })
	said := strings.Join(args, " ") + ": " + errOut.String()
	require.Contains(t, []int{exitRefused, exitNotFound, exitRecord}, code, said)
	require.Empty(t, out.String(), said)
	require.Equal(t, 1, strings.Count(errOut.String(), "\n"), said)
	requireHarmless(t, said, errOut.String())
}
