//go:build system && linux

package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"slices"
	"strconv"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/built"
	"dullred/cmd/internal/years"
)

// old is a record of years with one piece under way, by a hand that made many of them,
// and the program.
type old struct {
	program
	other string // another bench's copy of the record, which goes on by itself
	runs  runs
}

// runs are what the program took each time.
type runs struct {
	took []time.Duration
	ran  time.Duration // of a processor, all of them
	peak int64         // the largest, bytes
}

const (
	oldHand  = "s1"
	oldPiece = "spoon 0"
	inWork   = "spoon in work"
)

func newOld(b *testing.B, w years.Workshop) *old {
	b.Helper()
	b.Setenv("DULLRED_HAND", oldHand)
	o := &old{program: newProgram(b), other: filepath.Join(b.TempDir(), "other.db")}
	o.record = grown(b, w)
	o.evening(b, inWork)
	whole, err := os.ReadFile(o.record) // it is closed, and its log is empty
	require.NoError(b, err)
	require.NoError(b, os.WriteFile(o.other, whole, 0o600))
	forgetPeak(b)
	return o
}

// forgetPeak gives back what making the record took, and has the kernel forget it: a
// program begins with the peak of the one that started it (proc(5), clear_refs).
func forgetPeak(b testing.TB) {
	b.Helper()
	debug.FreeOSMemory()
	require.NoError(b, os.WriteFile("/proc/self/clear_refs", []byte("5"), 0))
}

// report prints the median and the longest of the times, what a run took of a processor,
// by which runs on a machine that does other work can be compared too, and its memory.
func (o *old) report(b *testing.B) {
	slices.Sort(o.runs.took)
	b.ReportMetric(float64(o.runs.took[len(o.runs.took)/2].Nanoseconds()), "median-ns")
	b.ReportMetric(float64(o.runs.took[len(o.runs.took)-1].Nanoseconds()), "longest-ns")
	b.ReportMetric(float64(o.runs.ran.Nanoseconds())/float64(len(o.runs.took)), "processor-ns")
	b.ReportMetric(float64(o.runs.peak), "peak-bytes")
	b.ReportMetric(0, "ns/op")
	o.runs = runs{}
}

// each runs a command of the program until the benchmark is done, after something that
// does not count.
func (o *old) each(b *testing.B, prepare func(), want string, args ...string) {
	o.eachOf(b, prepare, want, func() *exec.Cmd { return o.command(args...) })
}

func (o *old) eachOf(b *testing.B, prepare func(), want string, made func() *exec.Cmd) {
	for b.Loop() {
		b.StopTimer()
		prepare()
		b.StartTimer()
		cmd := made()
		begun := time.Now()
		out, err := cmd.Output()
		o.runs.took = append(o.runs.took, time.Since(begun))
		require.NoError(b, err)
		require.Contains(b, string(out), want)
		o.ended(cmd)
	}
	o.report(b)
}

// ended adds what a program took that has ended.
func (o *old) ended(cmd *exec.Cmd) {
	o.runs.ran += cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	o.runs.peak = max(o.runs.peak, cmd.ProcessState.SysUsage().(*syscall.Rusage).Maxrss<<10)
}

func nothing() {}

// frame is from the start of the program to its first page.
func (o *old) frame(b *testing.B) {
	for b.Loop() {
		cmd := o.command("bench", "--hand", oldHand)
		o.runs.took = append(o.runs.took, firstFrame(b, cmd))
		o.ended(cmd)
	}
	o.report(b)
}

// key is from a key to the first byte that it brings.
func (o *old) key(b *testing.B) {
	g := openGlass(b, o.path, "--record", o.record, "--hand", oldHand)
	for b.Loop() {
		o.runs.took = append(o.runs.took, g.key(b))
	}
	o.taken(b, g)
	o.report(b)
}

var mostResident = regexp.MustCompile(`(?m)^VmHWM:\s+(\d+) kB`)

// taken adds what a program that still runs took.
func (o *old) taken(b *testing.B, g *glass) {
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", g.cmd.Process.Pid))
	require.NoError(b, err)
	kB, err := strconv.ParseInt(string(mostResident.FindSubmatch(status)[1]), 10, 64)
	require.NoError(b, err)
	o.runs.peak = max(o.runs.peak, kB<<10)
	o.runs.ran += processorTime(b, g.cmd.Process.Pid)
}

// goesOn has the other bench say one thing more.
func (o *old) goesOn(b *testing.B) {
	program{record: o.other}.must(b, "note", inWork, "the edge is warm")
}

// complete is a press of the key that completes a name. What stands before it is the
// name that was begun, so that the record is named first.
func (o *old) complete(b *testing.B) {
	o.eachOf(b, nothing, inWork, func() *exec.Cmd {
		return exec.Command(o.path, "--record", o.record, "__complete", "pass", "spoon in")
	})
}

// begins takes away what was recorded.
func (o *old) begins(b *testing.B) {
	if err := os.Remove(o.record); !os.IsNotExist(err) {
		require.NoError(b, err)
	}
}

// A merge holds no more of a long record in memory than of a short one.
func TestSystemMergeMemory(t *testing.T) {
	path := built.Program(t, "dullred/cmd/dullred")
	peak := func(entries int) int64 {
		other := grown(t, years.SchoolOf(entries))
		forgetPeak(t)
		cmd := program{path: path, record: filepath.Join(t.TempDir(), "record.db")}.command("merge", other)
		out, err := cmd.CombinedOutput()
		require.NoError(t, err, string(out))
		return cmd.ProcessState.SysUsage().(*syscall.Rusage).Maxrss << 10
	}
	short, long := peak(4_000), peak(40_000)
	t.Logf("4000 entries %d MB, 40000 entries %d MB", short>>20, long>>20)
	require.Less(t, long-short, int64(32<<20), "800 bytes an entry")
}

// BenchmarkSystemYears runs the program on records of a thousand to a million entries of
// thirty benches, and on that of one shop after ten years. Each time is that of the whole
// process, but for a key.
func BenchmarkSystemYears(b *testing.B) {
	for _, c := range []struct {
		name string
		years.Workshop
	}{{"1000", years.SchoolOf(1_000)}, {"10000", years.SchoolOf(10_000)}, {"100000", years.SchoolOf(100_000)},
		{"shop", years.Shop()}, {"1000000", years.School()}} {
		b.Run(c.name, func(b *testing.B) {
			begun := time.Now()
			o := newOld(b, c.Workshop)
			b.Logf("to make it took %v", time.Since(begun))
			b.Run("frame", o.frame)
			b.Run("key", o.key)
			b.Run("advise", func(b *testing.B) { o.each(b, nothing, "limit", "advise", inWork) })
			b.Run("search", func(b *testing.B) { o.each(b, nothing, "", "log", "--text", "slipped", "--limit", "20") })
			b.Run("hits", func(b *testing.B) { o.each(b, nothing, "edge", "log", "--text", "edge", "--limit", "20") })
			b.Run("sheet", func(b *testing.B) { o.each(b, nothing, oldPiece, "sheet", oldPiece) })
			b.Run("totals", func(b *testing.B) { o.each(b, nothing, "2016", "totals") })
			b.Run("merge", func(b *testing.B) { o.each(b, func() { o.goesOn(b) }, "", "merge", o.other) })
			b.Run("complete", o.complete)
			o.record = filepath.Join(b.TempDir(), "empty.db")
			b.Run("merge_all", func(b *testing.B) { o.each(b, func() { o.begins(b) }, "", "merge", o.other) })
		})
	}
}
