//go:build system

package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/built"
)

// BenchmarkSystemStart is the time from starting the program to its end, beside an empty
// Go program that was built the same way and is run in turn with it, as the ratio of the
// medians: of a command that reads no record, of the advice for a record of one piece, of
// that for a piece of about forty entries, and of the bench until its first frame is
// whole. The limit, 4 times, is for the first, which is the start and nothing else: the
// others open a database besides, twice, since a record has a connection to write and one
// to read.
func BenchmarkSystemStart(b *testing.B) {
	p := newProgram(b)
	p.must(b, "piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8", "--cast")
	p.must(b, "pass", "spoon", "7.2x7.8")
	long := program{p.path, filepath.Join(b.TempDir(), "long.db")}
	long.evening(b, "spoon")
	empty := emptyProgram(b)
	took := map[string][]time.Duration{}
	for b.Loop() {
		took["empty"] = append(took["empty"], timed(b, exec.Command(empty)))
		took["safety"] = append(took["safety"], timed(b, p.command("safety")))
		took["advise"] = append(took["advise"], timed(b, p.command("advise", "spoon")))
		took["advise-40"] = append(took["advise-40"], timed(b, long.command("advise", "spoon")))
		took["frame"] = append(took["frame"], firstFrame(b, p.command("bench")))
	}
	nothing := median(took["empty"])
	b.ReportMetric(nothing.Seconds()*1000, "ms-empty")
	for _, name := range []string{"safety", "advise", "advise-40", "frame"} {
		b.ReportMetric(float64(median(took[name]))/float64(nothing), "x/empty-"+name)
	}
}

// emptyProgram is a Go program that does nothing.
func emptyProgram(b *testing.B) string {
	b.Helper()
	source := filepath.Join(b.TempDir(), "main.go")
	require.NoError(b, os.WriteFile(source, []byte("package main\n\nfunc main() {}\n"), 0o600))
	return built.Program(b, source)
}

// firstFrame is the time until a program has drawn a terminal once.
func firstFrame(b *testing.B, cmd *exec.Cmd) time.Duration {
	b.Helper()
	master, slave := openPty(b)
	defer func() { _, _ = master.Close(), slave.Close() }()
	require.NoError(b, pty.Setsize(slave, sizeOf(80, 24)))
	cmd.Env = []string{"TERM=xterm-256color", "COLORTERM=truecolor", "LC_ALL=C.UTF-8", "HOME=" + b.TempDir(), "DBUS_SESSION_BUS_ADDRESS=unix:path=/nowhere"}
	cmd.Stdin, cmd.Stdout, cmd.Stderr = slave, slave, slave
	cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	begun := time.Now()
	require.NoError(b, cmd.Start())
	defer func() { _, _ = cmd.Process.Kill(), cmd.Wait() }() // killed
	var raw []byte
	require.NoError(b, master.SetReadDeadline(begun.Add(12*patience))) // a record may be large
	for chunk := make([]byte, 64<<10); !bytes.Contains(raw, []byte("\x1b[?2026l")); {
		n, err := master.Read(chunk)
		require.NoError(b, err, "%s", raw)
		raw = append(raw, chunk[:n]...)
	}
	took := time.Since(begun)
	require.Contains(b, string(raw), "spoon")
	return took
}
