package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/require"

	"dullred/tui"
)

// readme is README.md, and block the text of its first fenced block of a language.
func readme(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(moduleRoot(t), "README.md"))
	require.NoError(t, err)
	return string(text)
}

func block(t testing.TB, text, language string) string {
	t.Helper()
	_, after, found := strings.Cut(text, "\n```"+language+"\n")
	require.True(t, found, "README.md has no block of %s", language)
	inside, _, closed := strings.Cut(after, "\n```\n")
	require.True(t, closed, "the block of %s is not closed", language)
	return inside + "\n"
}

// exchange is one command of a transcript and what it answered.
type exchange struct{ command, answer string }

// transcript splits a block at the lines that begin with "$ ".
func transcript(text string) (all []exchange) {
	for line := range strings.Lines(text) {
		if command, found := strings.CutPrefix(line, "$ "); found {
			all = append(all, exchange{command: strings.TrimSpace(command)})
		} else if len(all) > 0 {
			all[len(all)-1].answer += line
		}
	}
	return all
}

// masked hides what differs from one run to the next: the ends of ids and the clock.
func masked(s string) string {
	s = regexp.MustCompile(`\[[0-9a-f]{8}\]`).ReplaceAllString(s, "[id]")
	return regexp.MustCompile(`\d{4}-\d\d-\d\d \d\d:\d\d:\d\d  [0-9a-f]{8}`).ReplaceAllString(s, "[time and id]")
}

// words splits a command line at blanks outside double quotes.
func words(line string) (all []string) {
	line, _, _ = strings.Cut(line, " #")
	for _, w := range regexp.MustCompile(`"[^"]*"|\S+`).FindAllString(line, -1) {
		all = append(all, strings.Trim(w, `"`))
	}
	return all
}

func TestReadmeTranscript(t *testing.T) {
	record := filepath.Join(t.TempDir(), "record.db")
	_, text, found := strings.Cut(readme(t), "\n## The first evening\n")
	require.True(t, found)
	evening := transcript(block(t, text, "console"))
	require.GreaterOrEqual(t, len(evening), 3, "an evening is more than two commands")
	requireAnswers(t, record, evening)
	require.Contains(t, evening[len(evening)-1].answer, "ANNEAL NOW", "the evening ends where the program is for")
}

// The tour of two minutes answers as the README says, in one record.
func TestReadmeTour(t *testing.T) {
	_, text, found := strings.Cut(readme(t), "\n## Two minutes\n")
	require.True(t, found)
	text, _, _ = strings.Cut(text, "\n## ")
	var tour []exchange
	for _, m := range regexp.MustCompile("(?s)\n```console\n(.*?)```\n").FindAllStringSubmatch(text, -1) {
		tour = append(tour, transcript(m[1])...)
	}
	require.Len(t, tour, 4)
	requireAnswers(t, filepath.Join(t.TempDir(), "record.db"), tour)
}

func requireAnswers(t *testing.T, record string, all []exchange) {
	t.Helper()
	for i, e := range all {
		args := words(e.command)
		require.Equal(t, "dullred", args[0], "command %d: %s", i+1, e.command)
		var out, errOut bytes.Buffer
		code := run(append(args[1:], "--record", record), &out, &errOut, func(string) string { return "" })
		require.Equal(t, exitOK, code, "%s: %s", e.command, errOut.String())
		require.Equal(t, masked(e.answer), masked(out.String()), "$ %s", e.command)
	}
}

// The two commands of the README are copied by people and run by .ci/run.
func TestReadmeCommands(t *testing.T) {
	require.Equal(t, "go run ./cmd/dullred bench --demo\ngo test ./...\n", block(t, readme(t), "sh"))
}

var updateReadme = flag.Bool("update", false, "write the table of keys into the README")

// The keys in the README are those of the screen.
func TestReadmeKeys(t *testing.T) {
	const begin, end = "<!-- keys: from the table that the screen itself goes by -->\n", "<!-- /keys -->"
	text := readme(t)
	before, rest, found := strings.Cut(text, begin)
	require.True(t, found)
	inside, after, found := strings.Cut(rest, end)
	require.True(t, found)
	if *updateReadme {
		text = before + begin + keyTable() + end + after
		require.NoError(t, os.WriteFile(filepath.Join(moduleRoot(t), "README.md"), []byte(text), 0o644))
		return
	}
	require.Equal(t, keyTable(), inside, "go test ./cmd/dullred -run ReadmeKeys -update writes it")
}

func keyTable() string {
	table := "\n| key | | |\n|---|---|---|\n"
	group := ""
	for _, k := range tui.Hints() {
		head := ""
		if k.Group != group {
			group, head = k.Group, k.Group
		}
		table += fmt.Sprintf("| `%s` | %s | %s |\n", k.Key, k.Words, head)
	}
	return table + "\n"
}

// Every command that the README names is one, with the flags it is shown with.
func TestReadmeNamesRealCommands(t *testing.T) {
	named := commandsNamed(readme(t))
	require.GreaterOrEqual(t, len(named), 5)
	for _, line := range named {
		require.NoError(t, checkCommand(line), line)
	}
	require.Error(t, checkCommand("dullred frob spoon"), "this check can fail")
	require.Error(t, checkCommand("dullred pass spoon --frob"), "this check can fail")
}

// commandsNamed are the commands in a text: between backquotes, and the lines of
// blocks of sh.
func commandsNamed(text string) (lines []string) {
	for _, m := range regexp.MustCompile("`(dullred [^`\n]+)`").FindAllStringSubmatch(text, -1) {
		lines = append(lines, m[1])
	}
	for _, sh := range regexp.MustCompile("(?s)\n```sh\n(.*?)\n```").FindAllStringSubmatch(text, -1) {
		for line := range strings.SplitSeq(sh[1], "\n") {
			if strings.HasPrefix(line, "dullred ") {
				lines = append(lines, line)
			}
		}
	}
	return lines
}

// checkCommand finds the command of a line and reads its flags, without running it.
// Where its output goes is for the shell.
func checkCommand(line string) error {
	line, _, _ = strings.Cut(line, " > ")
	root := new(app).root()
	root.InitDefaultHelpCmd()
	root.InitDefaultCompletionCmd()
	cmd, rest, err := root.Find(words(line)[1:])
	if err != nil {
		return err
	}
	if !cmd.HasParent() {
		return noSuchCommand(cmd, rest)
	}
	if err := cmd.ParseFlags(rest); err != nil {
		return err
	}
	return arguments(cmd)
}

func arguments(cmd *cobra.Command) error {
	if cmd.Args == nil {
		return nil
	}
	return cmd.Args(cmd, cmd.Flags().Args())
}

func TestTranscript(t *testing.T) {
	got := transcript("intro\n$ one \"two three\"\nyes\n\nand\n$ four\n")
	require.Equal(t, []exchange{{`one "two three"`, "yes\n\nand\n"}, {"four", ""}}, got)
	require.Equal(t, []string{"one", "two three"}, words(got[0].command+"   # a remark"))
	require.NotEqual(t, masked("20 % [0a1b2c3d]"), masked("21 % [0a1b2c3d]"), "figures are never masked")
	require.Equal(t, masked("20 % [0a1b2c3d]"), masked("20 % [ffffffff]"))
}
