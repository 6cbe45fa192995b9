package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/built"
)

// program is the built program with a record of its own.
type program struct{ path, record string }

func newProgram(t testing.TB) program {
	t.Helper()
	return program{path: built.Program(t, "dullred/cmd/dullred"), record: filepath.Join(t.TempDir(), "record.db")}
}

func (p program) command(args ...string) *exec.Cmd {
	return exec.Command(p.path, append(args, "--record", p.record)...)
}

// must runs a command that is to succeed and gives what it printed. It does so in this
// process: what is under test is the program that runs beside.
func (p program) must(t testing.TB, args ...string) string {
	t.Helper()
	var out, errOut bytes.Buffer
	code := run(append(args, "--record", p.record), &out, &errOut, os.Getenv)
	require.Equal(t, exitOK, code, errOut.String())
	return out.String()
}

// evening logs a piece with about forty entries: courses with and without a
// reading, and a heat that proved soft.
func (p program) evening(t testing.TB, name string) {
	t.Helper()
	p.must(t, "piece", "new", name, "--alloy", "sterling", "--size", "8x8", "--cast", "--at", "2024-03-05 18:00")
	for _, size := range []string{"7.4x7.8", "7x7.7", "", "6.4x7.4", ""} {
		p.must(t, "pass", name, size)
	}
	for _, step := range [][]string{{"heat", "begin"}, {"heat", "reach"}, {"heat", "out"}, {"quench"}, {"proved", "soft"}} {
		p.must(t, append(step, name)...)
	}
	for _, size := range []string{"6x7.2", "5.7x7.1", "", "5.3x6.9", "5x6.8", "", "4.7x6.7", "4.5x6.6"} {
		p.must(t, "pass", name, size)
	}
	p.must(t, "note", name, "rings bright at the tip")
}

func timed(b *testing.B, cmd *exec.Cmd) time.Duration {
	b.Helper()
	start := time.Now()
	require.NoError(b, cmd.Run())
	return time.Since(start)
}

func median(d []time.Duration) time.Duration {
	d = slices.Sorted(slices.Values(d))
	return d[len(d)/2]
}
