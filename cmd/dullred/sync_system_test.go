//go:build system

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A course is told to be logged only once it is on disk: strace sees the record
// written, then synced, and only then the acknowledgement go out.
//
// Outside check (reference): strace: the record is synced before a pass is acknowledged.
func TestSystemSyncBeforeAcknowledgement(t *testing.T) {
	p := newProgram(t)
	p.must(t, "piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8")
	trace := filepath.Join(t.TempDir(), "trace")
	out, err := exec.Command("strace", "-f", "-y", "-qq", "-s", "64", "-o", trace,
		"-e", "trace=write,writev,pwrite64,pwritev,fsync,fdatasync",
		p.path, "pass", "spoon", "7.2x7.8", "--record", p.record).CombinedOutput()
	require.NoError(t, err, string(out))
	require.Contains(t, string(out), "logged  pass: lengthen to 7.2x7.8 mm")
	text, err := os.ReadFile(trace)
	require.NoError(t, err)
	require.Empty(t, unsynced(string(text), p.record), "%s", text)
}

var (
	calls   = regexp.MustCompile(`^\d+\s+(\w+)\((\d+)<([^>]*)>(.*)$`)
	syncing = []string{"fsync", "fdatasync"}
)

// unsynced says what is wrong with the order of calls in a trace; empty is right.
// A call that another thread interrupts is taken where it ended, unless it wrote.
func unsynced(trace, record string) string {
	dirty, wrote := false, false
	pending := map[string]string{} // thread -> sync that has not ended
	for line := range strings.Lines(trace) {
		thread, _, _ := strings.Cut(line, " ")
		if strings.Contains(line, "resumed>") && pending[thread] != "" {
			delete(pending, thread)
			dirty = false
			continue
		}
		m := calls.FindStringSubmatch(strings.TrimSpace(line))
		if m == nil {
			continue
		}
		call, descriptor, file, rest := m[1], m[2], m[3], m[4]
		ours := file == record || strings.HasPrefix(file, record+"-wal")
		switch {
		case slices.Contains(syncing, call) && ours && strings.Contains(rest, "unfinished"):
			pending[thread] = call
		case slices.Contains(syncing, call) && ours && strings.Contains(rest, "= 0"):
			dirty = false
		case ours:
			dirty, wrote = true, true
		case descriptor == "1" && call == "write" && strings.Contains(rest, "logged"):
			return verdictOn(wrote, dirty)
		}
	}
	return "nothing was acknowledged"
}

func verdictOn(wrote, dirty bool) string {
	switch {
	case !wrote:
		return "acknowledged before the record was written"
	case dirty:
		return "acknowledged before the record was synced"
	}
	return ""
}

func TestSystemUnsyncedCanFail(t *testing.T) {
	const (
		write  = "7 pwrite64(5</r.db-wal>, \"x\", 1, 0) = 1\n"
		flush  = "7 fdatasync(5</r.db-wal>) = 0\n"
		begun  = "7 fdatasync(5</r.db-wal> <unfinished ...>\n"
		ended  = "7 <... fdatasync resumed>) = 0\n"
		answer = "8 write(1<pipe:[3]>, \"logged  pass\", 12) = 12\n"
		other  = "7 fdatasync(6</other.db>) = 0\n"
	)
	cases := []struct{ name, trace, want, reason string }{
		{"in order", write + flush + answer, "", "written, synced, told"},
		{"interrupted sync", write + begun + ended + answer, "", "it ended before the answer"},
		{"sync too late", write + answer + flush, "acknowledged before the record was synced", "a power cut between the two loses it"},
		{"sync still running", write + begun + answer + ended, "acknowledged before the record was synced", "begun is not done"},
		{"written again", write + flush + write + answer, "acknowledged before the record was synced", "the second write is not covered"},
		{"another file", write + other + answer, "acknowledged before the record was synced", "the record itself must be synced"},
		{"told first", answer + write + flush, "acknowledged before the record was written", "told before anything"},
		{"never told", write + flush, "nothing was acknowledged", "the answer was not seen"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, c.want, unsynced(c.trace, "/r.db"), c.reason)
		})
	}
}
