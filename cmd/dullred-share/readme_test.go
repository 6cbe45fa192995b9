package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Whoever copies a command out of the README finds it, with its flags.
func TestReadmeNamesRealCommands(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	require.NoError(t, err)
	named := commandsNamed(string(text))
	require.GreaterOrEqual(t, len(named), 10)
	for _, line := range named {
		require.NoError(t, checkCommand(line), line)
	}
	require.Error(t, checkCommand("dullred-share frob"), "this check can fail")
	require.Error(t, checkCommand("dullred-share run --frob"), "this check can fail")
	require.Error(t, checkCommand("dullred-share role --as writer"), "a role has a name")
}

// Every command is in the README, by name.
func TestReadmeHasEveryCommand(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	require.NoError(t, err)
	for _, cmd := range new(app).root().Commands() {
		require.Contains(t, string(text), "dullred-share "+cmd.Name())
	}
}

// commandsNamed are the commands in a text: between backquotes, and in blocks of sh,
// behind sudo too.
func commandsNamed(text string) (lines []string) {
	for _, m := range regexp.MustCompile("`(dullred-share [^`\n]+)`").FindAllStringSubmatch(text, -1) {
		lines = append(lines, m[1])
	}
	for _, m := range regexp.MustCompile(`(?m)^(?:sudo -u postgres )?(dullred-share .+)$`).FindAllStringSubmatch(text, -1) {
		lines = append(lines, m[1])
	}
	return lines
}

// checkCommand finds the command of a line and reads its flags, without running it.
func checkCommand(line string) error {
	cmd, rest, err := new(app).root().Find(strings.Fields(line)[1:])
	if err != nil {
		return err
	}
	if err := cmd.ParseFlags(rest); err != nil {
		return err
	}
	return cmd.Args(cmd, cmd.Flags().Args())
}
