package main

import (
	"strings"
	"testing"

	"github.com/spf13/pflag"
	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/manual"
)

// Every command has its page, with its words, all its flags and the exit codes.
func TestManualHoldsEveryCommandAndFlag(t *testing.T) {
	pages := map[string]string{}
	for _, p := range manualPages() {
		pages[p.Name] = p.Roff
	}
	commands := everyCommand(new(app).root())
	require.Greater(t, len(commands), 60)
	for _, c := range commands {
		page := pages[strings.ReplaceAll(c.CommandPath(), " ", "-")+".1"]
		require.NotEmpty(t, page, c.CommandPath())
		require.Contains(t, page, manual.Escape(c.Short))
		for _, head := range []string{".SH NAME", ".SH SYNOPSIS", ".SH DESCRIPTION", ".SH OPTIONS", `.SH "FILES"`, `.SH "EXIT STATUS"`, ".SH SEE ALSO"} {
			require.Contains(t, page, head, c.CommandPath())
		}
		flags := func(f *pflag.Flag) { require.Contains(t, page, manual.Escape("--"+f.Name), c.CommandPath()) }
		c.InheritedFlags().VisitAll(flags)
		c.NonInheritedFlags().VisitAll(flags)
	}
	require.Contains(t, pages["dullred.1"], manual.Escape("what was typed cannot be right"))
}

// A completion is read from the record, is of what may stand there, and says nothing
// where there is no record.
func TestCompletions(t *testing.T) {
	record := t.TempDir() + "/record.db"
	require.Empty(t, completed(t, record, "advise", ""))
	require.NoFileExists(t, record)
	beginTwo(t, record)
	for _, c := range []struct {
		name string
		args []string
		want string
	}{
		{"a piece", []string{"advise", "sp"}, "spoon"},
		{"a piece of a group", []string{"heat", "begin", "b"}, "band"},
		{"a metal", []string{"worked", "--alloy", "sterl"}, "sterling silver"},
		{"a metal by word", []string{"alloys", "AG92"}, "AG925"},
		{"a format", []string{"sheet", "spoon", "--format", "h"}, "html"},
		{"a process", []string{"pass", "spoon", "--process", "len"}, "lengthen"},
		{"a kind", []string{"log", "--kind", "heat b"}, "heat begun"},
		{"a command", []string{"adv"}, "advise"},
	} {
		t.Run(c.name, func(t *testing.T) { require.Contains(t, completed(t, record, c.args...), c.want) })
	}
	require.NotContains(t, completed(t, record, "piece", "new", ""), "spoon", "a new piece has no name yet")
}

// beginTwo begins the pieces whose names are completed.
func beginTwo(t *testing.T, record string) {
	t.Helper()
	for _, name := range []string{"spoon", "band"} {
		code, _, said := answered(t, record, "piece", "new", name, "--alloy", "sterling", "--size", "8x8")
		require.Equal(t, exitOK, code, said)
	}
}

// Files are offered where a file is meant, and a name only where it may stand.
func TestCompletionsOfferNothingElse(t *testing.T) {
	record := t.TempDir() + "/record.db"
	beginTwo(t, record)
	for _, c := range []struct {
		name  string
		args  []string
		want  []string
		files bool
	}{
		{"a new name", []string{"piece", "new", ""}, nil, false},
		{"a size", []string{"pass", "spoon", ""}, nil, false},
		{"a mass", []string{"weigh", "spoon", ""}, nil, false},
		{"nothing more", []string{"advise", "spoon", ""}, nil, false},
		{"no argument", []string{"totals", ""}, nil, false},
		{"another piece", []string{"sheet", "spoon", ""}, []string{"band"}, false},
		{"a photo", []string{"photo", "spoon", ""}, nil, true},
		{"a file", []string{"export", ""}, nil, true},
		{"another record", []string{"merge", ""}, nil, true},
		{"a record", []string{"advise", "spoon", "--record", ""}, nil, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			code, out, _ := answeredRaw(t, append([]string{"__complete", "--record", record}, c.args...)...)
			require.Equal(t, exitOK, code)
			require.Equal(t, c.want, completed(t, record, c.args...))
			require.Equal(t, c.files, strings.HasSuffix(out, ":0\n"), out)
		})
	}
}

// completed are the words that a shell is offered for the last of the arguments.
func completed(t *testing.T, record string, args ...string) (words []string) {
	t.Helper()
	code, out, _ := answeredRaw(t, append([]string{"__complete", "--record", record}, args...)...)
	require.Equal(t, exitOK, code)
	for line := range strings.SplitSeq(out, "\n") {
		if word, _, _ := strings.Cut(line, "\t"); word != "" && !strings.HasPrefix(word, ":") {
			words = append(words, word)
		}
	}
	return words
}
