//go:build system && linux

package main

import (
	"cmp"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/built"
)

// The bench screen while the machine fails under it. Whatever it is, a key that was not
// recorded is told so in words, the alarm sounds, what was acknowledged is there once,
// and the terminal is given back.
func TestSystemBenchFaults(t *testing.T) {
	t.Parallel()
	path := built.Program(t, "dullred/cmd/dullred")
	cases := []struct {
		name, reason string
		run          func(*testing.T, program)
	}{
		{"disk full", "a write finds no room", func(t *testing.T, p program) { diskFails(t, p, "pwrite64:error=ENOSPC", "the disk is full") }},
		{"disk that fails to write", "an old disk", func(t *testing.T, p program) {
			diskFails(t, p, "pwrite64:error=EIO", "the disk failed to read or write")
		}},
		{"disk that fails to sync", "what was written may not be there after a power cut", func(t *testing.T, p program) {
			diskFails(t, p, "fdatasync:error=EIO", "the disk failed to read or write")
		}},
		{"folder vanished", "a memory stick was pulled out, and put in again", folderVanishes},
		{"record replaced", "a backup was put back under the running bench", recordReplaced},
		{"two benches", "both log, and one alarm is one entry", twoBenches},
		{"frozen", "SIGSTOP, and on as if it had looked away", frozen},
	}
	var all sync.WaitGroup // at once, since they wait more than they work
	for _, c := range cases {
		all.Go(func() {
			t.Run(c.name, func(t *testing.T) {
				require.NotEmpty(t, c.reason)
				c.run(t, program{path: path, record: filepath.Join(t.TempDir(), "bench", "record.db")})
			})
		})
	}
	all.Wait()
}

const torchLeft = "DANGER: TORCH LEFT LIT"

// torchSoon has a spoon, and a torch that is left lit for too long in some seconds.
func (p program) torchSoon(t *testing.T, in time.Duration) (env []string) {
	t.Helper()
	p.spoon(t, "8x8")
	lit := time.Now().Add(in - 30*time.Second)
	p.must(t, "torch", "lit", "--at", lit.UTC().Format(time.RFC3339Nano))
	return loudConfig(t)
}

// loudConfig is short limits, and the bell.
func loudConfig(t *testing.T) []string {
	t.Helper()
	env := quietConfig(t)
	file := filepath.Join(strings.TrimPrefix(env[0], "XDG_CONFIG_HOME="), "dullred", "config.toml")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(file, []byte(strings.Replace(string(text), "bell = false", "bell = true", 1)), 0o600))
	return env
}

// failing makes the calls of a process fail until mend is called.
func failing(t *testing.T, pid int, how string) (mend func()) {
	t.Helper()
	call, _, _ := strings.Cut(how, ":")
	cmd := exec.Command("strace", "-f", "-qq", "-o", os.DevNull, "-p", fmt.Sprint(pid), "-e", "trace="+call, "-e", "inject="+how+":when=1+")
	require.NoError(t, cmd.Start())
	mend = func() {
		_ = cmd.Process.Signal(syscall.SIGTERM) // it lets go of the process
		_ = cmd.Wait()                          // says that it was ended
	}
	t.Cleanup(mend)
	require.Eventually(t, func() bool { return traced(t, pid) }, patience, 5*time.Millisecond)
	return mend
}

// traced reports whether every thread of a process is looked at by another process.
func traced(t *testing.T, pid int) bool {
	t.Helper()
	files, err := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/status", pid))
	require.NoError(t, err)
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err == nil && strings.Contains(string(text), "TracerPid:\t0\n") {
			return false
		}
	}
	return len(files) > 0
}

// diskFails presses a key while the disk fails and lets an alarm become due meanwhile.
func diskFails(t *testing.T, p program, how, words string) {
	term := p.screen(t, p.torchSoon(t, 4*time.Second)...)
	term.waitFor(carryOnAtNothing)
	mend := failing(t, term.cmd.Process.Pid, how)
	term.press(" ", "NOT LOGGED: ")
	term.until(words, func(s string) bool { return strings.Contains(strings.Join(strings.Fields(s), " "), words) })
	taken(term)
	term.waitFor(torchLeft)
	term.until("the bell", func(string) bool { return strings.Contains(term.output(0), "\a") })
	mend()
	time.Sleep(apart)
	term.press(" ", "logged: ")
	p.leaves(t, term, 1)
	require.Equal(t, 1, p.raisedOnBench(t))
}

// leaves ends the bench, and wants so many courses in a sound record.
func (p program) leaves(t *testing.T, term *terminal, passes int) {
	t.Helper()
	term.signal(syscall.SIGTERM)
	require.Equal(t, 128+int(syscall.SIGTERM), term.exitCode())
	term.givenBack()
	p.sound(t, passes)
}

func (p program) sound(t *testing.T, passes int) {
	t.Helper()
	require.Contains(t, p.must(t, "record", "check"), "sound")
	acts := slices.DeleteFunc(p.acts(t, "spoon"), func(kind string) bool { return kind != "pass" })
	require.Len(t, acts, passes)
}

// raisedOnBench is how often it stands in the record that the torch was left lit.
func (p program) raisedOnBench(t *testing.T) int {
	t.Helper()
	a := &aboutToBe{program: p, dueSoon: dueSoon{entry: "torch left lit"}}
	return a.raised(a.all(t))
}

// pressInVain logs a course that cannot be recorded. That the record is gone is told
// before any key.
func pressInVain(term *terminal) {
	term.t.Helper()
	time.Sleep(apart)
	term.press(" ", "NOT LOGGED: ")
	taken(term)
}

// taken waits until the keys that were pressed are taken, which shows by the page that
// the next one opens.
func taken(term *terminal) {
	term.t.Helper()
	term.press("?", "under the hammer")
	time.Sleep(apart)
	term.keys("?")
	term.until("the page of the piece", func(s string) bool { return !strings.Contains(s, "under the hammer") })
}

func folderVanishes(t *testing.T, p program) {
	p.spoon(t, "8x8")
	folder := filepath.Dir(p.record)
	term := p.screen(t)
	term.waitFor(carryOnAtNothing)
	term.press(" ", "logged: ")
	require.NoError(t, os.Rename(folder, folder+"-away"))
	pressInVain(term)
	require.NoDirExists(t, folder, "no other record is begun in its place")
	require.NoError(t, os.Rename(folder+"-away", folder))
	time.Sleep(apart)
	term.press(" ", "logged: ")
	p.leaves(t, term, 2)
}

func recordReplaced(t *testing.T, p program) {
	p.spoon(t, "8x8")
	other := program{path: p.path, record: filepath.Join(t.TempDir(), "other.db")}
	other.spoon(t, "6x6")
	term := p.screen(t)
	term.waitFor(carryOnAtNothing)
	term.press(" ", "logged: ")
	require.NoError(t, os.Rename(p.record, p.record+".old"))
	require.NoError(t, os.Rename(other.record, p.record))
	pressInVain(term)
	term.signal(syscall.SIGTERM)
	require.Equal(t, 128+int(syscall.SIGTERM), term.exitCode())
	term.givenBack()
	moved := filepath.Join(t.TempDir(), "record.db") // from beside the log of the other
	require.NoError(t, os.Rename(p.record, moved))
	other.record = moved
	other.sound(t, 0)
	require.NoError(t, os.Rename(p.record+".old", p.record))
	p.sound(t, 1)
}

func twoBenches(t *testing.T, p program) {
	const presses = 4
	env := p.torchSoon(t, 5*time.Second)
	benches := []*terminal{p.screen(t, env...), p.screen(t, env...)}
	for _, term := range benches {
		term.waitFor(carryOnAtNothing)
	}
	for range presses {
		for _, term := range benches {
			term.press(" ", "logged: ")
		}
		time.Sleep(apart)
	}
	for _, term := range benches {
		term.waitFor(torchLeft)
	}
	require.Equal(t, 1, p.raisedOnBench(t))
	for _, term := range benches {
		taken(term)
	}
	for _, term := range benches {
		p.leaves(t, term, 2*presses)
	}
}

// frozenUsually is how long a bench is stopped; DULLRED_FREEZE has another time.
const frozenUsually = "3s"

func frozen(t *testing.T, p program) {
	stop, err := time.ParseDuration(cmp.Or(os.Getenv("DULLRED_FREEZE"), frozenUsually))
	require.NoError(t, err)
	term := p.screen(t, p.torchSoon(t, 2*time.Second)...)
	term.waitFor(carryOnAtNothing)
	term.press(" ", "logged: ")
	term.signal(syscall.SIGSTOP)
	require.Eventually(t, func() bool { return stopped(term.cmd.Process.Pid) }, patience, time.Millisecond)
	term.keys(" ") // waits in the terminal
	time.Sleep(stop)
	p.must(t, "pass", "spoon") // the record is not held meanwhile
	term.signal(syscall.SIGCONT)
	term.waitFor(torchLeft)
	require.Eventually(t, func() bool { return p.raisedOnBench(t) == 1 }, patience, 10*time.Millisecond)
	taken(term)
	p.leaves(t, term, 3)
	require.Equal(t, 1, p.raisedOnBench(t))
}
