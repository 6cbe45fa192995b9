package main

import (
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/require"
)

// Every command is entered under its own name, once.
func TestMakersAreNamed(t *testing.T) {
	seen := map[string]bool{}
	for _, m := range new(app).makers() {
		cmd := m.make()
		require.Equal(t, m.name, cmd.Name())
		require.Empty(t, cmd.Aliases, "%s has other names, by which it would not be made", m.name)
		require.False(t, seen[m.name], "%s stands twice", m.name)
		seen[m.name] = true
	}
}

// What is asked for is found with a few commands as it is with all of them: the same
// command, with the same words and flags.
func TestFewCommandsDoAsAll(t *testing.T) {
	for _, args := range awkward() {
		t.Run(strings.Join(args, " "), func(t *testing.T) {
			few, all := new(app).rootFor(args), new(app).root()
			found, rest, err := few.Find(args)
			wanted, wantedRest, wantedErr := all.Find(args)
			require.Equal(t, wantedErr, err)
			require.Equal(t, wantedRest, rest)
			require.Equal(t, described(wanted), described(found))
		})
	}
}

// awkward are words for every command and its own commands, and for what is odd.
func awkward() (lines [][]string) {
	for _, cmd := range new(app).root().Commands() {
		name := cmd.Name()
		lines = append(lines, []string{name}, []string{name, "--help"}, []string{"--record", "pass", name, "advise"}, []string{"--json", name, "pass"})
		for _, under := range cmd.Commands() {
			lines = append(lines, []string{name, under.Name(), "spoon"})
		}
	}
	return append(lines, nil, []string{"--record", "advise"}, []string{"--hand=pass"}, []string{"spoon", "pass"}, []string{"--", "pass"},
		[]string{""}, []string{"help"}, []string{"help", "pass"}, []string{"--help"}, []string{"completion", "bash"}, []string{"__complete", "pa"},
		[]string{"advize", "spoon"}, []string{"--nothing", "pass"}, []string{"--probe", "-"})
}

// described is what a user sees of a command.
func described(cmd *cobra.Command) string {
	return strings.Join([]string{cmd.CommandPath(), cmd.Use, cmd.Short, cmd.Long, cmd.Example,
		cmd.InheritedFlags().FlagUsages(), cmd.NonInheritedFlags().FlagUsages()}, "\n")
}

// One command is made for one that is asked for, all for what needs all.
func TestFewCommandsAreMade(t *testing.T) {
	for _, c := range []struct {
		args, reason string
		made         int
	}{
		{"advise spoon", "the usual case", 1},
		{"--record pass.db advise spoon", "a file is no command", 1},
		{"note pass", "a piece that is called as a command is", 2},
		{"", "the bench", 0},
		{"advize", "to say which was meant", len(new(app).makers())},
		{"help pass", "it looks commands up itself", len(new(app).makers())},
		{"--help", "a list of all", len(new(app).makers())},
	} {
		require.Len(t, new(app).rootFor(strings.Fields(c.args)).Commands(), c.made, c.reason)
	}
}
