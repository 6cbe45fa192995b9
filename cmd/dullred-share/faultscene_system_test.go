//go:build system && linux

package main

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/pgtest"
	"dullred/schedule/record"
)

// scene is a bench to whose shared record something happens, and the program as it is
// installed.
type scene struct {
	*far
	t        *testing.T // of the case
	s        *pgtest.Server
	program  string
	url      string // of the shared record
	usual    string // the file of passwords that is looked into when none is named
	printed  *lockedBuffer
	all      *testing.T // of all cases; what is needed later is kept for it
	expected int        // entries that are to arrive
}

// command is dullred-share as a bench runs it. It finds no password but those of the scene.
func (sc *scene) command(args ...string) *exec.Cmd {
	args = append(args, "--to", sc.url)
	if sc.password != "" {
		args = append(args, "--password-file", sc.password)
	}
	if args[0] != "board" && args[0] != "prepare" {
		args = append(args, "--record", sc.record)
	}
	cmd := exec.Command(sc.program, args...)
	cmd.Env = append(os.Environ(), "PGPASSFILE="+sc.usual, "TERM=dumb")
	cmd.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGKILL}
	return cmd
}

// ran runs a command to its end.
func (sc *scene) ran(args ...string) (code int, out, errOut string) {
	return sc.finished(sc.command(args...))
}

func (sc *scene) finished(cmd *exec.Cmd) (code int, out, errOut string) {
	var o, e strings.Builder
	cmd.Stdout, cmd.Stderr = &o, &e
	if err := cmd.Run(); err != nil {
		exit, ended := errors.AsType[*exec.ExitError](err)
		require.True(sc.t, ended, "%v", err)
		code = exit.ExitCode()
	}
	_, _ = sc.printed.Write([]byte(o.String() + e.String()))
	return code, o.String(), e.String()
}

// running is a command that goes on until it is ended.
type running struct {
	cmd *exec.Cmd
	out lockedBuffer // both of its outputs
}

func (sc *scene) runs(args ...string) *running {
	r := &running{cmd: sc.command(args...)}
	r.cmd.Stdout, r.cmd.Stderr = &r.out, &r.out
	require.NoError(sc.t, r.cmd.Start())
	return r
}

// words are what it printed, whatever the width of its lines.
func (r *running) words() string { return strings.Join(strings.Fields(r.out.String()), " ") }

// says waits until it has said something, which is a pattern.
func (sc *scene) says(r *running, words string, limit time.Duration) {
	sc.t.Helper()
	pattern := regexp.MustCompile(words)
	require.Eventually(sc.t, func() bool { return pattern.MatchString(r.words()) }, limit, 20*time.Millisecond, "%q, it said: %v", words, &r.out)
}

// ends ends it as Ctrl-C or the machine does, and gives its exit code.
func (sc *scene) ends(r *running, by os.Signal) int {
	require.NoError(sc.t, r.cmd.Process.Signal(by))
	_ = r.cmd.Wait() // the code says how
	_, _ = sc.printed.Write([]byte(r.out.String()))
	return r.cmd.ProcessState.ExitCode()
}

// rows are all entries of the record that the bench wrote.
func (sc *scene) rows() []record.Row {
	r, err := record.Open(sc.record)
	require.NoError(sc.t, err)
	defer r.Close()
	ids, err := r.IDs("", 10000)
	require.NoError(sc.t, err)
	rows, err := r.Rows(ids...)
	require.NoError(sc.t, err)
	return slices.DeleteFunc(rows, func(r record.Row) bool { return r.Bench != sc.id })
}

// logs writes an entry at the bench.
func (sc *scene) logs(name string) {
	sc.append(nil, record.Row(note(sc.role+" "+name, sc.id)))
	sc.expected++
}

// arrived is how many entries of the bench the shared record has.
func (sc *scene) arrived() (n int) {
	sc.s.As(sc.t, sc.database, func(ctx context.Context, conn *pgx.Conn) error {
		return conn.QueryRow(ctx, `SELECT count(*) FROM dullred.entry WHERE bench = $1`, sc.id).Scan(&n)
	})
	return n
}
