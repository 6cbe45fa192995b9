//go:build system && linux

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/pgtest"
	"dullred/cmd/internal/built"
	"dullred/schedule/record"
)

// newScene is a bench with entries at a server that is as it should be.
func newScene(t *testing.T, entries int) *scene {
	at := preparedServer(t, pgtest.Common(t))
	f := newFar(t, at.Server, at.database, entries)
	return &scene{far: f, t: t, all: t, s: at.Server, program: built.Program(t, "dullred/cmd/dullred-share"), url: f.address(), printed: &lockedBuffer{},
		usual: filepath.Join(t.TempDir(), "pgpass"), expected: entries}
}

// teaches makes a teacher and gives how one runs a command.
func (sc *scene) teaches() func(args ...string) string {
	teacher := pgtest.Name("teacher")
	code, _, errOut := did(sc.t, strings.NewReader(rolePassword+"\n"), "role", teacher, "--as", "teacher", "--to", sc.s.URL(pgtest.Owner, sc.database), "--password-file", sc.s.PasswordFile)
	require.Equal(sc.t, exitOK, code, errOut)
	secret := pgtest.Secret(sc.t, rolePassword)
	return func(args ...string) string {
		code, out, errOut := sc.finished(exec.Command(sc.program, append(args, "--to", sc.s.URL(teacher, sc.database), "--password-file", secret)...))
		require.Equal(sc.t, exitOK, code, errOut)
		return out
	}
}

// TestSystemBrokenLaptop: the record of a bench is lost with it, and the bench begins anew
// with its role.
func TestSystemBrokenLaptop(t *testing.T) {
	sc := newScene(t, 3)
	code, _, errOut := sc.ran("send")
	require.Equal(t, exitOK, code, errOut)
	teach := sc.teaches()
	require.Contains(t, teach("benches"), "role "+sc.role+"; 3 entries, last 2024-03-05 ")

	sc.bench = newBenchCalled(t, "the new laptop", 2)
	code, _, errOut = sc.ran("send")
	require.Equal(t, exitShared, code)
	require.Contains(t, errOut, "or have the teacher release the bench")
	require.Contains(t, teach("release", sc.role, "--yes"), "from the role "+sc.role)
	code, out, errOut := sc.ran("send")
	require.Equal(t, exitOK, code, errOut)
	require.Contains(t, out, "sent      2 entries")
	_, out, _ = sc.ran("collect")
	require.Contains(t, out, "came in   3 entries")
	benches := teach("benches")
	require.Contains(t, benches, "free: no role has it; 3 entries")
	require.Contains(t, benches, "role "+sc.role+"; 2 entries")
}

// TestSystemForgottenHand: a name that was erased comes back from no bench, and a bench
// that has it keeps it.
func TestSystemForgottenHand(t *testing.T) {
	sc := newScene(t, 0)
	hand := record.Label{ID: id("hand"), Class: record.HandClass, Text: "Anna O"}
	sc.append([]record.Label{hand}, record.Row(note("by a hand", sc.id)))
	code, _, errOut := sc.ran("send")
	require.Equal(t, exitOK, code, errOut)
	teach := sc.teaches()
	require.Contains(t, teach("forget", "hand", "anna o", "--yes"), "next      at each bench: dullred forget 'Anna O'")

	sc.append([]record.Label{{ID: hand.ID, Class: hand.Class, Text: "Anna Ott"}}, record.Row(note("by the same", sc.id)))
	code, _, errOut = sc.ran("send")
	require.Equal(t, exitOK, code, errOut)
	there := newFar(t, sc.s, sc.database, 0)
	code, out, errOut := did(t, nil, "collect", "--to", there.address(), "--password-file", there.password, "--record", there.record)
	require.Equal(t, exitOK, code, errOut)
	require.Contains(t, out, "came in   2 entries")
	require.Empty(t, handsOf(t, there.record), "a bench that comes later does not get it")
	require.Equal(t, []string{"Anna Ott"}, handsOf(t, sc.record), "the bench that has it keeps it")
}

func handsOf(t *testing.T, path string) (names []string) {
	r, err := record.Open(path)
	require.NoError(t, err)
	defer r.Close()
	labels, err := r.Labels(record.HandClass)
	require.NoError(t, err)
	for _, l := range labels {
		names = append(names, l.Text)
	}
	return names
}

// TestSystemRunEnds: by Ctrl-C, by the machine and by a kill, and nothing of it keeps the
// next one away.
func TestSystemRunEnds(t *testing.T) {
	sc := newScene(t, 3)
	for _, by := range []syscall.Signal{syscall.SIGINT, syscall.SIGTERM} {
		r := sc.runs("run")
		sc.says(r, "with the shared record since", patience)
		if by == syscall.SIGINT {
			sc.says(r, "shared 3 entries at", patience)
		}
		sc.logs(by.String())
		sc.says(r, "shared 1 entry at", patience)
		require.Equal(t, exitOK, sc.ends(r, by))
		require.Regexp(t, `\nended at \d\d:\d\d; nothing of this bench waits\n$`, r.out.String())
	}
	r := sc.runs("run")
	sc.says(r, "with the shared record since", patience)
	code, _, errOut := sc.ran("run")
	require.Equal(t, exitRefused, code)
	require.Equal(t, "dullred-share: another dullred-share carries the entries of this record; it goes on, and this one did nothing; end that one first.\n", errOut)
	require.Equal(t, -1, sc.ends(r, syscall.SIGKILL))
	r = sc.runs("run")
	sc.says(r, "with the shared record since", patience)
	require.Equal(t, exitOK, sc.ends(r, syscall.SIGINT))
	require.Equal(t, sc.expected, sc.arrived())
}

// TestSystemSilentWhileSending: an entry is on its way when the other end falls silent.
func TestSystemSilentWhileSending(t *testing.T) {
	sc := newScene(t, 3)
	r := sc.runs("run")
	sc.says(r, "shared 3 entries", patience)
	sc.set(lost)
	begun := time.Now()
	sc.logs("into silence")
	sc.says(r, "alone since", patience)
	t.Logf("noticed after %v", time.Since(begun).Round(100*time.Millisecond))
	require.Contains(t, r.words(), "there was no answer for 5s; ", "the limit of a batch that was sent")
	sc.set(whole)
	sc.says(r, "with the others again", patience)
	require.Equal(t, sc.expected, sc.arrived())
	require.Equal(t, exitOK, sc.ends(r, os.Interrupt))
}
