//go:build system && linux

package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"

	"dullred/cmd/internal/built"
)

// The plain mode as a process of its own, with the record in the hands of others.
func TestSystemWatch(t *testing.T) {
	path := built.Program(t, "dullred/cmd/dullred")
	cases := []struct {
		name, reason string
		run          func(*testing.T, program)
	}{
		{"two programs", "what another program logs is told within a second", watchOthers},
		{"SIGTERM", "it ends with the code that shells expect", func(t *testing.T, p program) { watchEndedBy(t, p, syscall.SIGTERM, 143) }},
		{"SIGHUP", "a closed window ends it", func(t *testing.T, p program) { watchEndedBy(t, p, syscall.SIGHUP, 129) }},
		{"SIGINT", "so does Ctrl-C", func(t *testing.T, p program) { watchEndedBy(t, p, syscall.SIGINT, 130) }},
		{"ended while it cannot write", "a reader that stopped reading does not hold it", watchEndedWhileFull},
		{"output closed", "it ends without a word with the next line", watchClosed},
		{"killed before it could tell", "what was raised and not told is told at the restart", watchKilledBetween},
		{"killed at random", "no alert is lost and none comes twice", watchKilled},
		{"idle", "nothing to tell costs nothing", watchIdle},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			c.run(t, program{path: path, record: filepath.Join(t.TempDir(), "record.db")})
		})
	}
}

// told is a line and when it came.
type toldLine struct {
	text string
	at   time.Time
}

// listener is a watch that runs, and the lines it has printed.
type listener struct {
	t     *testing.T
	cmd   *exec.Cmd
	lines chan toldLine
	errs  *strings.Builder
}

func (p program) listen(t *testing.T, args ...string) *listener {
	t.Helper()
	l := &listener{t: t, cmd: p.command(append([]string{"watch"}, args...)...), lines: make(chan toldLine, 1000), errs: &strings.Builder{}}
	out, err := l.cmd.StdoutPipe()
	require.NoError(t, err)
	l.cmd.Stderr = l.errs
	require.NoError(t, l.cmd.Start())
	t.Cleanup(func() { _ = l.cmd.Process.Kill() })
	go func() {
		defer close(l.lines)
		for s := bufio.NewScanner(out); s.Scan(); {
			l.lines <- toldLine{s.Text(), time.Now()}
		}
	}()
	return l
}

// await gives the next line that begins so; what comes before is passed over.
func (l *listener) await(begin string) toldLine {
	l.t.Helper()
	var seen []string
	for {
		select {
		case got, open := <-l.lines:
			require.True(l.t, open, "it ended before %q: %q %s", begin, seen, l.errs)
			if strings.HasPrefix(got.text, begin) {
				return got
			}
			seen = append(seen, got.text)
		case <-time.After(20 * time.Second):
			require.Fail(l.t, "no line", "%q did not come: %q", begin, seen)
		}
	}
}

// rest are all lines until the end, which has to come.
func (l *listener) rest() (texts []string) {
	l.t.Helper()
	late := time.After(20 * time.Second)
	for {
		select {
		case got, open := <-l.lines:
			if !open {
				return texts
			}
			texts = append(texts, got.text)
		case <-late:
			require.Fail(l.t, "it does not end", "%q", texts)
		}
	}
}

// ends gives how the process ended.
func (l *listener) ends() syscall.WaitStatus {
	l.t.Helper()
	done := make(chan struct{})
	go func() { _ = l.cmd.Wait(); close(done) }() // how it ended is read from its state
	select {
	case <-done:
	case <-time.After(20 * time.Second):
		require.Fail(l.t, "it does not end")
	}
	status, ok := l.cmd.ProcessState.Sys().(syscall.WaitStatus)
	require.True(l.t, ok)
	return status
}

func watchOthers(t *testing.T, p program) {
	p.must(t, "piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8")
	l := p.listen(t)
	l.await("NOW: spoon, whole: carry on")
	var delays []time.Duration
	for _, step := range []struct {
		args  []string
		lines []string
	}{
		{[]string{"pass", "spoon", "4.9x6.7"}, []string{"NOW: spoon, whole: anneal now", "ACT: anneal now - spoon."}},
		{[]string{"ack", "spoon"}, []string{"SEEN: anneal now - spoon."}},
		{[]string{"heat", "begin", "spoon"}, []string{"NOW: spoon: heating begun, to 593 to 649 °C, a guess: 0:26 to 2:00.", "OVER: anneal now - spoon."}},
		{[]string{"heat", "reach", "spoon"}, []string{"NOW: spoon: soak begun, hold "}},
		{[]string{"heat", "out", "spoon"}, []string{"NOW: spoon: wait begun, HOT, quench after "}},
		{[]string{"quench", "spoon"}, []string{"NOW: spoon, whole: prove"}},
		{[]string{"proved", "soft", "spoon"}, []string{"NOW: spoon, whole: carry on, 0 %"}},
	} {
		p.must(t, step.args...)
		logged := time.Now()
		for _, begin := range step.lines {
			delay := l.await(begin).at.Sub(logged)
			require.Less(t, delay, time.Second, begin)
			delays = append(delays, delay)
		}
	}
	require.NoError(t, l.cmd.Process.Signal(syscall.SIGTERM))
	require.Empty(t, l.rest(), "nothing else is told")
	slices.Sort(delays)
	t.Logf("after the other program had ended: median %v, longest %v of %d lines", delays[len(delays)/2], delays[len(delays)-1], len(delays))
}

func watchEndedBy(t *testing.T, p program, sig syscall.Signal, code int) {
	p.must(t, "piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8")
	heard := make(chan os.Signal, 1)
	signal.Notify(heard, sig) // so that the program does not inherit that it is ignored, as under nohup
	t.Cleanup(func() { signal.Stop(heard) })
	l := p.listen(t)
	l.await("NOW: spoon")
	require.NoError(t, l.cmd.Process.Signal(sig))
	require.Empty(t, l.rest())
	status := l.ends()
	require.True(t, status.Exited(), "%v", status)
	require.Equal(t, code, status.ExitStatus())
	require.Empty(t, l.errs.String())
	p.must(t, "record", "check")
}

// fullPipe is a pipe that takes nothing more.
func fullPipe(t *testing.T) (read, write *os.File) {
	t.Helper()
	read, write, err := os.Pipe()
	require.NoError(t, err)
	t.Cleanup(func() { _, _ = read.Close(), write.Close() })
	raw, err := write.SyscallConn()
	require.NoError(t, err)
	var failed error
	require.NoError(t, raw.Control(func(fd uintptr) {
		for block := make([]byte, 4096); failed == nil; {
			_, failed = unix.Write(int(fd), block)
		}
	}))
	require.ErrorIs(t, failed, unix.EAGAIN)
	return read, write
}

// overdue begins a piece that was forgotten in the pickle.
func (p program) overdue(t *testing.T, name string) {
	t.Helper()
	p.must(t, "piece", "new", name, "--alloy", "sterling", "--size", "8x8", "--at", "2024-03-05 18:00")
	for _, step := range [][]string{{"heat", "begin"}, {"heat", "out"}, {"quench"}, {"pickle", "in"}} {
		p.must(t, append(step, name, "--at", "2024-03-05 18:10")...)
	}
}

// raised is how many alerts of a piece the log has.
func (p program) raised(t *testing.T, name string) (n int) {
	t.Helper()
	var entries []entryJSON
	require.NoError(t, json.Unmarshal([]byte(p.must(t, "log", name, "--json")), &entries))
	for _, e := range entries {
		if e.Kind == "alert raised" {
			n++
		}
	}
	return n
}

// stuck starts a watch whose first line cannot be written, and waits until it has
// raised what is due.
func (p program) stuck(t *testing.T) *listener {
	t.Helper()
	p.overdue(t, "spoon")
	_, write := fullPipe(t)
	cmd := p.command("watch")
	cmd.Stdout = write
	require.NoError(t, cmd.Start())
	t.Cleanup(func() { _ = cmd.Process.Kill() })
	for end := time.Now().Add(20 * time.Second); p.raised(t, "spoon") == 0; {
		require.True(t, time.Now().Before(end), "nothing was raised")
	}
	return &listener{t: t, cmd: cmd, errs: &strings.Builder{}}
}

func watchEndedWhileFull(t *testing.T, p program) {
	l := p.stuck(t)
	require.NoError(t, l.cmd.Process.Signal(syscall.SIGTERM))
	require.Equal(t, 143, l.ends().ExitStatus())
	p.must(t, "record", "check")
}

func watchKilledBetween(t *testing.T, p program) {
	l := p.stuck(t)
	require.NoError(t, l.cmd.Process.Kill())
	require.Equal(t, syscall.SIGKILL, l.ends().Signal())
	again := p.must(t, "watch", "--once")
	require.Equal(t, 1, strings.Count(again, "NOTE: pickle overdue - spoon, late by "), again)
	require.Equal(t, 1, p.raised(t, "spoon"))
}

func watchClosed(t *testing.T, p program) {
	p.must(t, "piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8")
	for _, once := range []bool{true, false} {
		read, write, err := os.Pipe()
		require.NoError(t, err)
		require.NoError(t, read.Close())
		cmd := p.command("watch", fmt.Sprintf("--once=%t", once))
		l := &listener{t: t, cmd: cmd, errs: &strings.Builder{}}
		cmd.Stdout, cmd.Stderr = write, l.errs
		require.NoError(t, cmd.Start())
		require.NoError(t, write.Close())
		status := l.ends()
		require.True(t, status.Exited(), "%v", status)
		require.Equal(t, exitOK, status.ExitStatus())
		require.Empty(t, l.errs.String())
	}
}

// watchKilled kills a watch at any moment around its first alert, and lets two that
// run at the same time tell what it left. It goes on until some were killed on
// either side of the raising.
func watchKilled(t *testing.T, p program) {
	const kills, most = 20, 200
	before, between, after := 0, 0, 0
	usual := p.untilTold(t)
	for n := 0; n < kills || before == 0 || between+after == 0; n++ {
		require.Less(t, n, most, "all kills were on one side: %d before, %d between, %d after", before, between, after)
		name := fmt.Sprint("ring ", n)
		p.overdue(t, name)
		l := p.listen(t, name)
		time.Sleep(usual/2 + rand.N(usual))
		require.NoError(t, l.cmd.Process.Kill())
		printed := strings.Count(strings.Join(l.rest(), "\n"), "NOTE: pickle overdue - "+name)
		require.True(t, l.ends().Signaled(), "it was to be killed")
		raised := p.raised(t, name)
		switch {
		case printed > 0:
			require.Equal(t, 1, raised, "told before it was on disk")
			after++
			usual -= usual / 8 // what a machine takes that does other work is not what it took at first
		case raised > 0:
			between++
		default:
			before++
			usual += usual / 8
		}
		require.LessOrEqual(t, printed, 1)
		var running sync.WaitGroup
		var told [2]string
		for i := range told {
			running.Go(func() {
				out, err := p.command("watch", name, "--once").Output()
				told[i] = string(out)
				if err != nil {
					told[i] = err.Error()
				}
			})
		}
		running.Wait()
		for _, text := range told {
			require.Equal(t, 1, strings.Count(text, "NOTE: pickle overdue - "+name+", late by "), text)
			require.NotContains(t, text, "not recorded")
		}
		require.Equal(t, 1, p.raised(t, name))
	}
	p.must(t, "record", "check")
	t.Logf("%d kills: %d before the alert was raised, %d before it was told, %d after", before+between+after, before, between, after)
}

// untilTold is how long a watch takes from its start to its first alert.
func (p program) untilTold(t *testing.T) time.Duration {
	t.Helper()
	p.overdue(t, "first")
	started := time.Now()
	l := p.listen(t, "first")
	took := l.await("NOTE: pickle overdue").at.Sub(started)
	require.NoError(t, l.cmd.Process.Kill())
	l.ends()
	return took
}

func watchIdle(t *testing.T, p program) {
	p.must(t, "piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8")
	l := p.listen(t)
	l.await("NOW: spoon")
	time.Sleep(6 * time.Second) // the record is looked at again for five seconds
	before, woken := processorTime(t, l.cmd.Process.Pid), wakes(t, l.cmd.Process.Pid)
	time.Sleep(5 * time.Second)
	require.LessOrEqual(t, processorTime(t, l.cmd.Process.Pid)-before, 10*time.Millisecond)
	t.Logf("wakes of all threads in five seconds: %d", wakes(t, l.cmd.Process.Pid)-woken)
}

// wakes is how often all threads of a process went to sleep by themselves.
func wakes(t *testing.T, pid int) (sum int) {
	t.Helper()
	files, err := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/status", pid))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		f, err := os.Open(file)
		require.NoError(t, err)
		text, err := io.ReadAll(f)
		require.NoError(t, err)
		require.NoError(t, f.Close())
		for line := range strings.Lines(string(text)) {
			n := 0
			if _, err := fmt.Sscanf(line, "voluntary_ctxt_switches: %d", &n); err == nil {
				sum += n
			}
		}
	}
	return sum
}
