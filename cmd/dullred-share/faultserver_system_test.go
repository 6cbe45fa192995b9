//go:build system && linux

package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"
)

// holds has the owner hold some connections.
func (sc *scene) holds(n int) (leave func()) {
	done := make(chan struct{})
	var ready, held sync.WaitGroup
	for range n {
		ready.Add(1)
		held.Go(func() {
			sc.s.As(sc.t, sc.database, func(context.Context, *pgx.Conn) error {
				ready.Done()
				<-done
				return nil
			})
		})
	}
	ready.Wait()
	return func() { close(done); held.Wait() }
}

// postmaster is the process of the server.
func (sc *scene) postmaster() int {
	text, err := os.ReadFile(filepath.Join(sc.s.Dir, "data", "postmaster.pid"))
	require.NoError(sc.t, err)
	first, _, _ := strings.Cut(string(text), "\n")
	pid, err := strconv.Atoi(first)
	require.NoError(sc.t, err)
	return pid
}

// files are those of the entries and of their indexes.
func (sc *scene) files() (paths []string) {
	sc.s.As(sc.t, sc.database, func(ctx context.Context, conn *pgx.Conn) error {
		rows, err := conn.Query(ctx, `SELECT pg_relation_filepath(oid) FROM pg_class
			WHERE relnamespace = 'dullred'::regnamespace AND relname LIKE 'entry%' AND relkind IN ('r', 'i')`)
		if err != nil {
			return err
		}
		all, err := pgx.CollectRows(rows, pgx.RowTo[string])
		for _, path := range all {
			paths = append(paths, filepath.Join(sc.s.Dir, "data", path))
		}
		return err
	})
	require.NotEmpty(sc.t, paths)
	return paths
}

// full has a server find no room on its disk when it writes to some files, or with none
// when it makes a new file of the log that it writes ahead: strace answers the calls in
// the place of the kernel. It gives what makes room again.
func (sc *scene) full(paths []string) (empty func()) {
	calls := "pwritev"
	if len(paths) > 0 {
		calls = "pwrite64,pwritev,fallocate"
	}
	pid := sc.postmaster()
	args := []string{"-f", "-qq", "-o", "/dev/null", "-p", strconv.Itoa(pid), "-e", "trace=" + calls, "-e", "inject=" + calls + ":error=ENOSPC"}
	children, err := os.ReadFile(fmt.Sprintf("/proc/%d/task/%d/children", pid, pid))
	require.NoError(sc.t, err)
	for _, child := range strings.Fields(string(children)) {
		args = append(args, "-p", child)
	}
	for _, path := range paths {
		args = append(args, "-P", path)
	}
	cmd := exec.Command("strace", args...)
	cmd.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGTERM}
	require.NoError(sc.t, cmd.Start())
	require.Eventually(sc.t, func() bool {
		status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
		return err == nil && strings.Contains(string(status), fmt.Sprintf("\nTracerPid:\t%d\n", cmd.Process.Pid))
	}, 10*time.Second, 10*time.Millisecond)
	return func() {
		_ = cmd.Process.Signal(syscall.SIGTERM) // it lets go of the server; it may have ended with it
		_ = cmd.Wait()
	}
}
