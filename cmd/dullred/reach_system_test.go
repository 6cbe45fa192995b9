//go:build system

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/built"
	"dullred/cmd/internal/years"
)

// What the program may weigh, in bytes, and what it may hold, in KiB: a bench machine is
// old, and its disk is full of photographs.
const (
	mostFile   = 25e6
	mostMemory = 50e6 / 1024
)

// The program fits as the README has people build it, which says one way for every system.
// It holds the paths of the sources, so that what .ci/reach builds is no larger.
func TestSystemFileIsSmall(t *testing.T) {
	t.Parallel()
	said := regexp.MustCompile("go (?:build|install) (.*)\\./cmd/dullred[`\n]").FindAllStringSubmatch(readme(t), -1)
	require.Len(t, said, 7)
	for _, command := range said {
		require.Equal(t, said[0][1], command[1], "%s", command[0])
	}
	file := filepath.Join(t.TempDir(), "dullred")
	args := append(append([]string{"build"}, strings.Fields(said[0][1])...), "-o", file, "dullred/cmd/dullred")
	out, err := exec.Command("go", args...).CombinedOutput()
	require.NoError(t, err, string(out))
	info, err := os.Stat(file)
	require.NoError(t, err)
	t.Logf("%d bytes", info.Size())
	require.Less(t, info.Size(), int64(mostFile))
}

// The memory that a command ever held fits, on a piece of forty entries.
func TestSystemMemoryIsSmall(t *testing.T) {
	p := newProgram(t)
	p.evening(t, "spoon")
	folder := t.TempDir()
	for _, line := range []string{
		"advise spoon",
		"sheet spoon --format pdf --into " + folder,
		"sheet spoon --format html --pictures --into " + folder,
		"plan --alloy sterling --cast --bar 10x10x74 --shape 0:6x3,95:18x3,190:6x3 --temper springy",
		"picture spoon --format png --into " + folder,
		"alloys sterling",
	} {
		args := strings.Fields(line)
		for i := range args {
			args[i] = strings.ReplaceAll(args[i], ",", " ")
		}
		t.Run(args[0], func(t *testing.T) {
			file := filepath.Join(t.TempDir(), "held")
			out, err := exec.Command(built.Program(t, heldBy), append([]string{file, p.path, "--record", p.record}, args...)...).CombinedOutput()
			require.NoError(t, err, string(out))
			requireSmall(t, file)
		})
	}
}

// So does that of the commands that go through every piece of a record of years: what a
// piece was reckoned from is let go of when its line is made.
func TestSystemMemoryOfYears(t *testing.T) {
	t.Parallel()
	p := newProgram(t)
	p.record = grown(t, years.SchoolOf(50_000))
	for _, line := range []string{"piece list", "piece list --json", "advise", "limit sterling", "totals", "class", "watch --once"} {
		t.Run(line, func(t *testing.T) {
			file := filepath.Join(t.TempDir(), "held")
			args := append([]string{file, p.path, "--record", p.record, "--hand", "s1"}, strings.Fields(line)...)
			out, err := exec.Command(built.Program(t, heldBy), args...).CombinedOutput()
			require.NoError(t, err, "%.1000s", out)
			requireSmall(t, file)
		})
	}
}

// So does that of the bench, through pages of the invented class.
func TestSystemMemoryOfTheBench(t *testing.T) {
	p := newProgram(t)
	file := filepath.Join(t.TempDir(), "held")
	term := start(t, session{width: 120, height: 40, command: []string{built.Program(t, heldBy), file, p.path, "bench", "--demo"}})
	term.waitFor("DEMO")
	term.slowly("v/?vvx")
	if term.alive() { // metal is hot, so that it asks once
		term.keys("x")
	}
	require.Zero(t, term.exitCode())
	requireSmall(t, file)
}

// heldBy is the program that tells what another one held.
const heldBy = "dullred/cmd/dullred/testdata/held"

// requireSmall looks at what a program held that ended.
func requireSmall(t *testing.T, file string) {
	t.Helper()
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	held, err := strconv.ParseFloat(string(text), 64)
	require.NoError(t, err)
	t.Logf("%.1f MB", held*1024/1e6)
	require.Greater(t, held, 8000.0, "it is the program that was looked at")
	require.Less(t, held, mostMemory)
}
