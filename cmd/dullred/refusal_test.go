package main

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/say"
)

// answered is what the program says to a command line, on a record of its own.
func answered(t *testing.T, record string, args ...string) (code int, out, errOut string) {
	t.Helper()
	return answeredRaw(t, append([]string{"--record", record}, args...)...)
}

func answeredRaw(t *testing.T, args ...string) (code int, out, errOut string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	home := t.TempDir()
	code = run(args, &stdout, &stderr, func(name string) string {
		return map[string]string{"HOME": home, "XDG_CONFIG_HOME": home, "XDG_DATA_HOME": home, "LC_ALL": "C"}[name]
	})
	return code, stdout.String(), stderr.String()
}

// Each code of the table is provoked; those of a signal are tested where a process can
// be ended.
func TestExitCodes(t *testing.T) {
	folder := t.TempDir()
	record, junk := filepath.Join(folder, "record.db"), filepath.Join(folder, "junk.db")
	require.NoError(t, os.WriteFile(junk, []byte(strings.Repeat("no record ", 200)), 0o600))
	provoked := map[int]bool{}
	for _, c := range []struct {
		name, record string
		code         int
		args         []string
	}{
		{"done", record, exitOK, []string{"piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8"}},
		{"no terminal", record, exitFailed, []string{"bench"}},
		{"no such size", record, exitRefused, []string{"pass", "spoon", "9x9"}},
		{"no such piece", record, exitNotFound, []string{"pass", "fork", "7x7"}},
		{"no such alloy", record, exitNotFound, []string{"alloys", "electrum"}},
		{"no record", junk, exitRecord, []string{"pass", "spoon", "7x7"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			code, _, said := answered(t, c.record, c.args...)
			require.Equal(t, c.code, code, said)
			provoked[code] = true
		})
	}
	help := strings.Join(strings.Fields(rootHelp), " ")
	require.Contains(t, help, "Exit codes: "+say.ExitSentence("dullred"))
	for _, e := range say.ExitsOf("dullred") {
		require.True(t, provoked[e.Code], "%d %s", e.Code, e.Means)
	}
	require.Contains(t, readme(t), "<!-- exits: from the table of the programs -->\n\n"+say.ExitTable()+"\n<!-- /exits -->")
}

// everyCommand are the commands of the tree that can be typed.
func everyCommand(c *cobra.Command) (all []*cobra.Command) {
	if c.Runnable() && !c.Hidden && c.Name() != "completion" && (c.HasParent() && c.Parent().Name() != "completion") {
		all = append(all, c)
	}
	for _, sub := range c.Commands() {
		all = append(all, everyCommand(sub)...)
	}
	return all
}

// bad is what is typed behind every command and is right for none.
var bad = []struct {
	name string
	args []string
}{
	{"an unknown flag", []string{"--nosuchflag"}},
	{"ten words", strings.Fields("1 2 3 4 5 6 7 8 9 10")},
	{"one word of nothing", []string{"nosuchthing"}},
	{"two words of nothing", []string{"nosuchthing", "nosuchthing"}},
	{"a control character", []string{"no\x1b]0;such\x07thing"}},
	{"a flag without its value", []string{"--hand"}},
}

func TestEveryRefusalHasThreeParts(t *testing.T) {
	t.Chdir(t.TempDir()) // where a command that takes the words may write
	tree := (&app{getenv: func(string) string { return "" }}).root()
	record := filepath.Join(t.TempDir(), "record.db")
	_, _, said := answered(t, record, "piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8")
	require.Empty(t, said)
	before := spoonLog(t, record)
	var faulty []string
	refused, commands := 0, everyCommand(tree)
	require.Greater(t, len(commands), 60)
	for _, c := range commands {
		for _, b := range bad {
			if waits(c) && b.name != "an unknown flag" && b.name != "ten words" {
				continue
			}
			args := append(strings.Fields(c.CommandPath())[1:], b.args...)
			code, _, said := answered(t, record, args...)
			if code == exitOK {
				require.NotEqual(t, "an unknown flag", b.name, "%q", args)
				continue
			}
			refused++
			if err := threeParts(said); err != nil {
				faulty = append(faulty, strings.Join(args, " ")+": "+err.Error()+": "+said)
			}
			require.Contains(t, []int{exitFailed, exitRefused, exitNotFound, exitRecord}, code, "%q: %s", args, said)
		}
	}
	require.Empty(t, faulty)
	require.Greater(t, refused, 3*len(commands))
	require.Equal(t, before, spoonLog(t, record), "a refused command has recorded something")
	t.Logf("%d commands, %d refusals", len(commands), refused)
}

// waits reports whether a command may open a screen, a device or a long run when it is
// typed with words that it takes.
func waits(c *cobra.Command) bool {
	return slices.Contains([]string{"bench", "watch", "probe", "drill", "trial"}, c.Name())
}

// spoonLog are the entries of the piece that the refusals must leave alone.
func spoonLog(t *testing.T, record string) string {
	t.Helper()
	code, out, said := answered(t, record, "log", "spoon")
	require.Equal(t, exitOK, code, said)
	return out
}

var (
	refusal   = regexp.MustCompile(`^dullred: [^\n]+\.\n$`)
	saysKept  = regexp.MustCompile(`; (nothing|no |it |the |your |what |all |its |every|[a-z]+ (is|are|was|were|stays?|stands?|stayed) )`)
	machinery = regexp.MustCompile(`goroutine|panic|\.go:\d|strconv|sqlite3?_|0x[0-9a-f]{6}|%!`)
)

// threeParts says what a refusal lacks: one sentence of three parts, parted by
// semicolons, and nothing of the machinery.
func threeParts(said string) error {
	switch parts := strings.Split(said, "; "); {
	case !refusal.MatchString(said):
		return lack("it is not one sentence")
	case len(parts) < 3:
		return lack("it lacks what was kept, or what to do")
	case !saysKept.MatchString(said):
		return lack("it does not say what was kept")
	case machinery.MatchString(said):
		return lack("it shows the machinery")
	}
	return nil
}

type lack string

func (l lack) Error() string { return string(l) }

func TestThreePartsCanTell(t *testing.T) {
	require.NoError(t, threeParts("dullred: \"9x9\" grew; nothing was recorded; measure again.\n"))
	for _, said := range []string{
		"", "Error: unknown flag\nUsage: x\n", "dullred: no.\n", "dullred: no; nothing was recorded.\n",
		"dullred: no; perhaps; try again.\n", "dullred: strconv.Atoi; nothing was recorded; try again.\n",
		"dullred: a; nothing was recorded; b.\ngoroutine 1 [running]:\n",
	} {
		require.Error(t, threeParts(said), said)
	}
}

// Every refusal in the source says what to do: the first argument of refuse and missing,
// the Do of a fault.
func TestEveryRefusalSaysWhatToDo(t *testing.T) {
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	calls := 0
	for _, name := range files {
		tree, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		require.NoError(t, err)
		ast.Inspect(tree, func(n ast.Node) bool {
			if call, ok := n.(*ast.CallExpr); ok && isRefusal(call) {
				calls++
				lit, ok := call.Args[0].(*ast.BasicLit)
				require.False(t, ok && strings.Trim(lit.Value, "\"` ") == "", "%s: %v", name, call.Args[1])
			}
			return true
		})
	}
	require.Greater(t, calls, 200)
	for _, r := range remedies {
		require.NotEmpty(t, r.do, r.is)
	}
}

// isRefusal reports whether a call makes one.
func isRefusal(call *ast.CallExpr) bool {
	name, ok := call.Fun.(*ast.Ident)
	return ok && (name.Name == "refuse" || name.Name == "missing") && len(call.Args) > 1
}
