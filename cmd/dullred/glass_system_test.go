//go:build system

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/built"
)

// BenchmarkSystemKeyToGlass measures from a key that writes nothing to the first
// byte on the terminal, for the bench screen and for bare tcell that changes the
// same cells, by turns.
func BenchmarkSystemKeyToGlass(b *testing.B) {
	p := program{path: built.Program(b, "dullred/cmd/dullred"), record: filepath.Join(b.TempDir(), "record.db")}
	out, err := p.command("piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8").CombinedOutput()
	require.NoError(b, err, string(out))
	ours := openGlass(b, p.path, "--record", p.record)
	bare := openGlass(b, built.Program(b, "dullred/cmd/dullred/testdata/bare"))
	var our, theirs []time.Duration
	for b.Loop() {
		our = append(our, ours.key(b))
		theirs = append(theirs, bare.key(b))
	}
	slices.Sort(our)
	slices.Sort(theirs)
	b.ReportMetric(float64(our[len(our)/2].Microseconds()), "us/key")
	b.ReportMetric(float64(theirs[len(theirs)/2].Microseconds()), "bare-us/key")
	b.ReportMetric(float64(our[len(our)/2])/float64(theirs[len(theirs)/2]), "x-bare")
}

// glass is a program in a terminal of 80 columns and 24 rows.
type glass struct {
	master *os.File
	chunk  []byte
	cmd    *exec.Cmd
}

// openGlass starts a program and waits until its screen is at rest.
func openGlass(b *testing.B, program string, args ...string) *glass {
	b.Helper()
	cmd := exec.Command(program, args...)
	cmd.Env = []string{"TERM=xterm-256color", "COLORTERM=truecolor", "LC_ALL=C.UTF-8", "HOME=" + b.TempDir(), "DBUS_SESSION_BUS_ADDRESS=unix:path=/nowhere"}
	master, slave := openPty(b)
	require.NoError(b, pty.Setsize(slave, sizeOf(80, 24)))
	cmd.Stdin, cmd.Stdout, cmd.Stderr = slave, slave, slave
	cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	g := &glass{master: master, chunk: make([]byte, 64<<10), cmd: cmd}
	require.NoError(b, cmd.Start())
	b.Cleanup(func() {
		_ = cmd.Process.Kill()
		_ = cmd.Wait() // killed
		_, _ = master.Close(), slave.Close()
	})
	g.quiet(time.Second)
	return g
}

// quiet reads until nothing came for a while. A bounce of a key is dropped, so the
// while is longer than one.
func (g *glass) quiet(d time.Duration) {
	for {
		_ = g.master.SetReadDeadline(time.Now().Add(d))
		if _, err := g.master.Read(g.chunk); err != nil {
			return
		}
	}
}

// key presses i, which goes to the next process and writes nothing, and returns
// how long its answer took.
func (g *glass) key(b *testing.B) time.Duration {
	b.Helper()
	g.quiet(300 * time.Millisecond)
	_ = g.master.SetReadDeadline(time.Now().Add(5 * time.Second))
	began := time.Now()
	_, err := g.master.WriteString("i")
	require.NoError(b, err)
	_, err = g.master.Read(g.chunk)
	require.NoError(b, err)
	return time.Since(began)
}
