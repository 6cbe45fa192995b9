//go:build system

package main

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/built"
)

// everyUsually is which of the faults are tried: one of so many, so that the ways to fail
// take turns. DULLRED_FAULTS=1 tries all.
const everyUsually = 7

// faulty are the calls that are made to fail, and how.
var faulty = []struct {
	calls string
	fails []string
	most  int // calls that a session makes of it, at most
}{
	{"pwrite64", []string{"ENOSPC", "EIO"}, 60},
	{"write", []string{"ENOSPC", "EIO"}, 12},
	{"fsync", []string{"EIO", "ENOSPC"}, 12},
	{"fdatasync", []string{"EIO", "ENOSPC"}, 24},
	{"ftruncate", []string{"EIO", "ENOSPC"}, 8},
	{"openat", []string{"EROFS", "EACCES"}, 40},
	{"mkdirat", []string{"EROFS", "ENOSPC"}, 8},
	{"linkat", []string{"EIO", "EROFS"}, 4},
	{"renameat", []string{"EIO", "EROFS"}, 4},
	{"unlink", []string{"EIO", "EROFS"}, 8},
	{"unlinkat", []string{"EIO", "EROFS"}, 8},
}

// sessionOf is a command on a record, and what stands after it ended well.
type sessionOf struct {
	name, reason string
	begin        func(*testing.T, program, string) // fills a folder with what is there before
	args         []string                          // names in it
	does         func(before, after stored) error  // what is recorded when it ended well
	made         string                            // file that it writes; empty for none
}

var sessions = []sessionOf{
	{name: "log a course", reason: "the commonest write", begin: aSpoon, args: []string{"pass", "spoon", "7.2x7.8"}, does: adds("pass", "advice shown")},
	{name: "log it for a program", reason: "the answer comes after the entry", begin: aSpoon, args: []string{"pass", "spoon", "7.2x7.8", "--json"}, does: adds("pass", "advice shown")},
	{name: "begin a heat", reason: "a timer starts with it", begin: aSpoon, args: []string{"heat", "begin", "spoon"}, does: adds("heat begun")},
	{name: "first start", reason: "folder and record are made", begin: noRecord, args: []string{"piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8"}, does: adds("piece started")},
	{name: "move an old record forward", reason: "the file is made over", begin: anOldOne, args: []string{"pass", "spoon"}, does: adds("pass", "advice shown")},
	{name: "back up", reason: "a file is written", begin: anEvening, args: []string{"record", "backup", "copy.db"}, does: adds(), made: "copy.db"},
	{name: "export", reason: "a file is written", begin: anEvening, args: []string{"export", "copy.jsonl"}, does: adds(), made: "copy.jsonl"},
	{name: "print an export", reason: "who sends it on must hear of it", begin: anEvening, args: []string{"export"}, does: adds(), made: "stdout.jsonl"},
	{name: "write a sheet", reason: "a folder and a file are made", begin: anEvening, args: []string{"sheet", "spoon", "--format", "json", "--into", "sheets"}, does: adds(), made: "sheets/spoon.json"},
	{name: "merge", reason: "all or nothing", begin: aSpoonAndAnother, args: []string{"merge", "other.db"}, does: joins},
	{name: "import", reason: "all or nothing", begin: aSpoonAndAnother, args: []string{"import", "other.jsonl"}, does: joins},
}

func noRecord(*testing.T, program, string) {}

func aSpoon(t *testing.T, p program, _ string) { p.spoon(t, "8x8") }

func anEvening(t *testing.T, p program, _ string) { p.evening(t, "spoon") }

func anOldOne(t *testing.T, p program, _ string) {
	p.evening(t, "spoon")
	(&struck{program: p}).sql(t, toVersion1)
}

func aSpoonAndAnother(t *testing.T, p program, folder string) {
	p.spoon(t, "8x8")
	other := program{path: p.path, record: filepath.Join(folder, "other.db")}
	other.evening(t, "ladle")
	other.must(t, "export", filepath.Join(folder, "other.jsonl"))
}

// adds wants one more entry of each kind, and no other.
func adds(kinds ...string) func(before, after stored) error {
	return func(before, after stored) error {
		var fresh []string
		for _, row := range after.rows {
			if before.counts[row.ID] == 0 {
				fresh = append(fresh, row.Kind)
			}
		}
		if fmt.Sprint(fresh) != fmt.Sprint(kinds) {
			return fmt.Errorf("recorded %q, expected %q", fresh, kinds)
		}
		return nil
	}
}

func joins(before, after stored) error {
	if len(after.rows) <= len(before.rows)+10 {
		return fmt.Errorf("of another's evening only %d entries were brought in", len(after.rows)-len(before.rows))
	}
	return nil
}

// faultTotals is what came of all faults.
type faultTotals struct {
	mutex                          sync.Mutex
	injected, refused, well, wrong int
	calls                          map[string]bool // of our files and our output that were hit
}

func (f *faultTotals) String() string {
	return fmt.Sprintf("faults: %d injected at %d different calls, %d refused, %d ended well, %d wrongly", f.injected, len(f.calls), f.refused, f.well, f.wrong)
}

// Whatever call of a session fails, what was recorded before is there, a command that
// ends well has done what it says, one that does not says in a sentence what was kept and
// what to do, and no file is half made under its name.
func TestSystemFaultsAtEveryCall(t *testing.T) {
	t.Parallel()
	every, err := strconv.Atoi(cmp.Or(os.Getenv("DULLRED_FAULTS"), strconv.Itoa(everyUsually)))
	require.NoError(t, err)
	path := built.Program(t, "dullred/cmd/dullred")
	totals := &faultTotals{calls: map[string]bool{}}
	t.Run("in", func(t *testing.T) {
		for i, s := range sessions {
			t.Run(s.name, func(t *testing.T) {
				t.Parallel()
				require.NotEmpty(t, s.reason)
				s.withFaults(t, path, every, i, totals)
			})
		}
	})
	t.Log(totals)
	require.Positive(t, totals.refused)
	require.Zero(t, totals.wrong)
}

// withFaults lets the first call of a kind fail, the second and so on, until the session
// makes no more of them.
func (s sessionOf) withFaults(t *testing.T, path string, every, from int, totals *faultTotals) {
	template := t.TempDir()
	s.begin(t, program{path: path, record: filepath.Join(template, "record.db")}, template)
	tried := from // so that the sessions begin with different calls
	for _, kind := range faulty {
		missed := 0
		for n := 1; n <= kind.most && missed < 2; n++ {
			for _, fails := range kind.fails {
				for _, on := range []string{"", "+"} {
					if tried++; tried%every != 0 {
						continue
					}
					hit := s.withFault(t, path, template, fmt.Sprintf("inject=%s:error=%s:when=%d%s", kind.calls, fails, n, on), totals)
					if hit == "" {
						missed++
					} else {
						missed = 0
					}
				}
			}
		}
	}
}

// withFault runs the session once, and gives the call that failed; "" if none did.
func (s sessionOf) withFault(t *testing.T, path, template, inject string, totals *faultTotals) (hit string) {
	t.Helper()
	run := &faultRun{sessionOf: s, program: program{path: path}, folder: t.TempDir()}
	run.record = filepath.Join(run.folder, "record.db")
	require.NoError(t, os.CopyFS(run.folder, os.DirFS(template)))
	before := run.stored(t)
	run.strace(t, inject)
	if hit = run.hit(t); hit == "" {
		return ""
	}
	wrong := run.verdict(t, before)
	totals.mutex.Lock()
	defer totals.mutex.Unlock()
	totals.injected++
	totals.calls[s.name+" "+hit] = true
	switch {
	case wrong != nil:
		totals.wrong++
		t.Errorf("%s, %s: exit code %d: %v\n%s", inject, hit, run.code, wrong, run.complaint.String())
	case run.code == exitOK:
		totals.well++
	default:
		totals.refused++
	}
	return hit
}

// faultRun is one run of a session with a fault in it.
type faultRun struct {
	sessionOf
	program
	folder    string
	code      int
	complaint bytes.Buffer
	muted     bool // what it complained was among what failed
}

func (r *faultRun) strace(t *testing.T, inject string) {
	t.Helper()
	calls := strings.SplitN(strings.TrimPrefix(inject, "inject="), ":", 2)[0]
	args := append([]string{"-f", "-y", "-qq", "--seccomp-bpf", "-o", filepath.Join(r.folder, "trace"), "-e", "trace=" + calls, "-e", inject, r.path}, r.args...)
	cmd := exec.Command("strace", append(args, "--record", r.record)...)
	out, err := os.Create(filepath.Join(r.folder, "stdout.jsonl"))
	require.NoError(t, err)
	defer out.Close()
	cmd.Dir, cmd.Stdout, cmd.Stderr = r.folder, out, &r.complaint
	cmd.Env = append(os.Environ(), "TMPDIR="+r.folder)
	if err := cmd.Run(); err != nil {
		_, ended := errors.AsType[*exec.ExitError](err)
		require.True(t, ended, "%v", err)
	}
	r.code = cmd.ProcessState.ExitCode()
}

var (
	injected = regexp.MustCompile(`(\w+)\((.*)\) = -1 \w+ .*\(INJECTED\)`)
	randomly = regexp.MustCompile(`dullred-[a-z-]*\d+`)
)

// hit gives the first call on our files or our output that failed.
func (r *faultRun) hit(t *testing.T) string {
	t.Helper()
	trace, err := os.ReadFile(filepath.Join(r.folder, "trace"))
	require.NoError(t, err)
	r.muted = strings.Contains(string(trace), "dullred: ")
	for line := range strings.Lines(string(trace)) {
		m := injected.FindStringSubmatch(line)
		if m != nil && strings.Contains(m[2], r.folder) {
			name := randomly.ReplaceAllString(strings.ReplaceAll(m[2], r.folder, ""), "dullred-N")
			return m[1] + " " + name
		}
	}
	return ""
}

// stored is what the record holds; nothing where there is none, or one that was never
// completed.
func (r *faultRun) stored(t *testing.T) stored {
	t.Helper()
	if _, err := os.Stat(r.record); errors.Is(err, fs.ErrNotExist) {
		return stored{}
	}
	return storedIn(t, r.record)
}

// verdict says what is wrong with how the session ended; nil for nothing.
func (r *faultRun) verdict(t *testing.T, before stored) error {
	t.Helper()
	after := r.stored(t)
	for id := range before.counts {
		if after.counts[id] != 1 {
			return fmt.Errorf("entry %s is there %d times", id, after.counts[id])
		}
	}
	if err := r.halfMade(t); err != nil {
		return err
	}
	if r.code == exitOK {
		return r.does(before, after)
	}
	return r.toldWell(len(after.rows) - len(before.rows))
}

// toldWell wants one sentence with what was kept and what to do, which is true. Where
// nothing can be told, since that write failed too, the exit code is all.
func (r *faultRun) toldWell(more int) error {
	said := r.complaint.String()
	switch {
	case said == "" && r.muted:
		return nil
	case strings.Count(said, "\n") != 1 || !strings.HasPrefix(said, "dullred: ") || !strings.HasSuffix(said, ".\n"):
		return errors.New("it is not one sentence")
	case strings.Count(said, "; ") < 2:
		return errors.New("it does not say what was kept and what to do")
	case more > 0 && (strings.Contains(said, "nothing was recorded") || strings.Contains(said, "as it was")):
		return fmt.Errorf("%d entries were recorded all the same", more)
	}
	return nil
}

// halfMade reads the file that was to be written. It has to be there if that was told.
func (r *faultRun) halfMade(t *testing.T) error {
	t.Helper()
	path := filepath.Join(r.folder, r.made)
	printed := r.made == "stdout.jsonl"
	_, err := os.Stat(path)
	switch {
	case r.made == "" || printed && r.code != exitOK:
		return nil
	case err != nil && r.code != exitOK:
		return nil
	case err != nil:
		return err
	}
	return (&struck{program: r.program, folder: r.folder, made: path, totals: &killTotals{}}).readable(t)
}
