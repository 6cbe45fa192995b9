//go:build system

package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/built"
)

// footprint is what a process takes of the machine, by the kernel.
type footprint struct {
	resident, threads int // kB; of the process
	ran               time.Duration
}

func footprintOf(pid int) (f footprint, err error) {
	if f.ran, err = ranFor(pid); err != nil {
		return f, err
	}
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		return f, err
	}
	for field, into := range map[string]*int{"VmRSS": &f.resident, "Threads": &f.threads} {
		found := regexp.MustCompile(`(?m)^` + field + `:\s+(\d+)`).FindSubmatch(status)
		if found == nil {
			return f, fmt.Errorf("no %s of process %d", field, pid)
		}
		if _, err := fmt.Sscan(string(found[1]), into); err != nil {
			return f, err
		}
	}
	return f, nil
}

// minute is what a screen took before and after one, and its goroutines when it was made
// to tell of them.
type minute struct {
	before, after footprint
	err           error
}

func minuteOf(term *terminal) (m minute) {
	time.Sleep(10 * time.Second) // what is looked into after a start is over
	if m.before, m.err = footprintOf(term.cmd.Process.Pid); m.err != nil {
		return m
	}
	time.Sleep(time.Minute)
	m.after, m.err = footprintOf(term.cmd.Process.Pid)
	return m
}

// watched is a screen whose complaints are kept apart. It collects its garbage after every
// few hundred kilobytes, so that what it does not let go of shows within a minute: the
// first four megabytes would else be filled before Go collects at all.
func (p program) watched(t *testing.T, said *bytes.Buffer) *terminal {
	t.Helper()
	return start(t, session{env: []string{"GOGC=10", "GOTRACEBACK=all"}, command: []string{p.path, "--record", p.record}, stderr: said})
}

var goroutine = regexp.MustCompile(`(?m)^goroutine \d+`)

// goroutines ends a screen by having it tell of its goroutines.
func goroutines(t *testing.T, term *terminal, said *bytes.Buffer) int {
	t.Helper()
	require.NoError(t, term.cmd.Process.Signal(syscall.SIGQUIT))
	require.Equal(t, 2, term.exitCode(), said.String())
	n := len(goroutine.FindAllIndex(said.Bytes(), -1))
	require.Positive(t, n)
	return n
}

// A real minute at a screen that draws each second takes no more memory, threads and
// goroutines; one at a screen without a timer takes no processor either. The minute is
// waited for while the other tests run.
func TestSystemMinute(t *testing.T) {
	cases := []struct {
		name string
		heat bool
		said bytes.Buffer
		vigilant
	}{{name: "soak", heat: true}, {name: "no timer"}}
	path := built.Program(t, "dullred/cmd/dullred")
	for i := range cases {
		c := &cases[i]
		c.program = program{path: path, record: filepath.Join(t.TempDir(), "record.db")}
		c.spoon(t, "8x8")
		words := carryOnAtNothing
		if c.heat {
			c.must(t, "heat", "begin", "spoon")
			c.must(t, "heat", "reach", "spoon")
			words = "SOAK - "
		}
		c.terminal, c.words, c.minute = c.watched(t, &c.said), words, make(chan minute, 1)
		c.waitFor(words)
		go func() { c.minute <- minuteOf(c.terminal) }()
	}
	t.Parallel()
	for i := range cases {
		c := &cases[i]
		m := <-c.minute
		require.NoError(t, m.err)
		grown, ran := m.after.resident-m.before.resident, m.after.ran-m.before.ran
		t.Logf("%s: %d kB, %+d kB after a minute; %d and %d threads; %v of a processor", c.name, m.before.resident, grown, m.before.threads, m.after.threads, ran)
		require.LessOrEqual(t, grown, 1024, c.name)
		require.LessOrEqual(t, m.after.threads, m.before.threads+1, "%s: Go adds one when a call of the system takes long", c.name)
		require.LessOrEqual(t, m.after.resident, 50<<10, "%s: what an old machine can spare, in kB", c.name)
		if !c.heat {
			require.Less(t, ran, time.Minute/1000, "nothing is done while nothing is timed")
		}
		var said bytes.Buffer
		fresh := c.watched(t, &said)
		fresh.waitFor(c.words)
		first, last := goroutines(t, fresh, &said), goroutines(t, c.terminal, &c.said)
		t.Logf("%s: %d goroutines at first, %d in the end", c.name, first, last)
		require.LessOrEqual(t, last, first+2, "%s: one left behind by each second would make sixty", c.name)
	}
}

// vigilant is a screen that is watched for a minute, and what it shows.
type vigilant struct {
	program
	*terminal
	words  string
	minute chan minute
}

// BenchmarkSystemIdle is the processor time of a screen that shows a piece and times
// nothing, in a second, by the scheduler.
func BenchmarkSystemIdle(b *testing.B) {
	p := newProgram(b)
	p.must(b, "piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8")
	g := openGlass(b, p.path, "--record", p.record)
	time.Sleep(10 * time.Second) // what is looked into after a start is over
	before, begun := processorTime(b, g.cmd.Process.Pid), time.Now()
	for b.Loop() {
		time.Sleep(5 * time.Second)
	}
	used := processorTime(b, g.cmd.Process.Pid) - before
	b.ReportMetric(float64(used.Microseconds())/time.Since(begun).Seconds(), "µs/s")
	b.ReportMetric(0, "ns/op")
}
