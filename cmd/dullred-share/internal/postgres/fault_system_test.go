//go:build system && linux

package postgres_test

import (
	"bufio"
	"context"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/pgtest"
	"dullred/cmd/dullred-share/internal/postgres"
	"dullred/schedule/share"
	"dullred/schedule/share/sharetest"
)

// TestWhatGoesWrong opens a shared record in every wrong way. What is said is one line
// and holds no password.
func TestWhatGoesWrong(t *testing.T) {
	s := newSchool(t, pgtest.Common(t))
	right := s.Role(t, postgres.Reader)
	stranger := pgtest.Name("stranger")
	s.Exec(t, s.Name, `CREATE ROLE `+stranger+` LOGIN PASSWORD '`+pgtest.RolePassword+`'`)
	port := fmt.Sprintf(":%d", s.Port)
	to := func(url string) postgres.Config {
		return postgres.Config{URL: url, PasswordFile: right.PasswordFile, Timeout: 2 * time.Second}
	}
	cases := []struct {
		name   string
		config postgres.Config
		kind   error
		says   string
	}{
		{"wrong password", postgres.Config{URL: right.URL, PasswordFile: pgtest.Secret(t, "wrong "+pgtest.RolePassword)}, share.ErrPassword, "role \"" + pgRole(right)},
		{"no password", postgres.Config{URL: right.URL}, share.ErrPassword, "no password was given for \"" + pgRole(right)},
		{"no such role", to(s.URL("nobody", s.Name)), share.ErrPassword, "nobody"},
		{"a role without rights", to(s.URL(stranger, s.Name)), share.ErrRights, "role \"" + stranger},
		{"no such database", to(s.URL("nobody", "no_school")), share.ErrPassword, ""},
		{"no such database for who may log in", to(strings.Replace(right.URL, s.Name, "no_school", 1)), share.ErrNotShared, "no such database"},
		{"nobody listens", to(strings.Replace(right.URL, port, ":1", 1)), share.ErrUnreachable, "no server runs at 127.0.0.1:1"},
		{"no such machine", to("postgres://bench@db.invalid/school"), share.ErrUnreachable, "db.invalid"},
		{"no such socket", to("postgres://bench@/school?host=/nowhere"), share.ErrUnreachable, "/nowhere"},
		{"a server of another kind", to(strings.Replace(right.URL, port, stranded(t, "HTTP/1.1 400 Bad Request\r\n\r\n"), 1)), share.ErrUnreachable, "no PostgreSQL server"},
		{"a server that hangs up", to(strings.Replace(right.URL, port, stranded(t, ""), 1)), share.ErrUnreachable, "ended the connection"},
		{"a server that says nothing", to(strings.Replace(right.URL, port, silent(t), 1)), share.ErrUnreachable, "does not answer within 2s"},
		{"no TLS", to(right.URL + "?sslmode=verify-full"), share.ErrCertificate, "it has no TLS"},
	}
	t.Setenv("PGPASSFILE", filepath.Join(t.TempDir(), "none"))
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := postgres.Open(t.Context(), c.config)
			require.ErrorIs(t, err, c.kind)
			require.ErrorContains(t, err, c.says)
			require.NotContains(t, err.Error(), pgtest.RolePassword)
			require.NotContains(t, err.Error(), "\n")
		})
	}
}

// pgRole is the role of a way in.
func pgRole(c postgres.Config) string {
	name, _, _ := strings.Cut(strings.TrimPrefix(c.URL, "postgres://"), "@")
	return name
}

// listening gives each connection on a port of the loopback address to what serves it.
func listening(t *testing.T, serve func(net.Conn)) (port string) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	t.Cleanup(func() { l.Close() })
	go func() {
		for {
			conn, err := l.Accept()
			if err != nil {
				return
			}
			t.Cleanup(func() { conn.Close() })
			go serve(conn)
		}
	}()
	return fmt.Sprintf(":%d", l.Addr().(*net.TCPAddr).Port)
}

// stranded is a server that says something to whatever it hears, and hangs up.
func stranded(t *testing.T, says string) string {
	return listening(t, func(conn net.Conn) {
		_, _ = bufio.NewReader(conn).ReadByte()
		_, _ = conn.Write([]byte(says))
		conn.Close()
	})
}

// silent is a server that hears everything and says nothing.
func silent(t *testing.T) string { return listening(t, func(net.Conn) {}) }

// TestPasswordsAreNotInTheLogOfTheServer, which writes statements that failed.
func TestPasswordsAreNotInTheLogOfTheServer(t *testing.T) {
	s := newSchool(t, pgtest.Start(t, "log_statement=all", "log_min_messages=info"))
	s.Role(t, postgres.Writer)
	err := postgres.AddRole(t.Context(), s.Owner(), postgres.Login{Name: "twice", As: postgres.Reader, Password: pgtest.RolePassword})
	require.NoError(t, err)
	err = postgres.AddRole(t.Context(), s.Owner(), postgres.Login{Name: "twice", As: postgres.Reader, Password: pgtest.RolePassword})
	require.ErrorIs(t, err, postgres.ErrLogin)
	require.NotContains(t, err.Error(), pgtest.RolePassword)
	require.Contains(t, s.Log(), "CREATE ROLE", "the log has the statements")
	require.NotContains(t, s.Log(), pgtest.RolePassword)
}

func TestSocket(t *testing.T) {
	s := newSchool(t, pgtest.Common(t))
	c := s.Role(t, postgres.Reader)
	c.URL = s.SocketURL(pgRole(c), s.Name)
	_, err := pgtest.Opened(t, c).Sums(t.Context())
	require.NoError(t, err)
}

// TestServerThatFallsSilent: the connection stands, and nothing comes any more, as when
// a cable is pulled at the other end.
func TestServerThatFallsSilent(t *testing.T) {
	s := newSchool(t, pgtest.Common(t))
	way := &proxy{to: fmt.Sprintf("127.0.0.1:%d", s.Port)}
	port := listening(t, way.serve)
	c := s.Role(t, postgres.Reader)
	c.URL = strings.Replace(c.URL, fmt.Sprintf(":%d", s.Port), port, 1)
	c.Timeout, c.Poll = time.Second, 100*time.Millisecond
	st := pgtest.Opened(t, c)
	heard := make(chan error, 1)
	go func() { heard <- st.Wait(t.Context(), 0) }()
	_, err := st.Sums(t.Context())
	require.NoError(t, err)
	way.drop.Store(true)
	require.ErrorIs(t, <-heard, share.ErrUnreachable)
	_, err = st.Sums(t.Context())
	require.ErrorIs(t, err, share.ErrUnreachable)
	way.drop.Store(false)
	_, err = st.Sums(t.Context())
	require.NoError(t, err, "and it heals")
}

// TestNewsComesByItself: where there is LISTEN, nobody waits for the next question.
func TestNewsComesByItself(t *testing.T) {
	s := newSchool(t, pgtest.Common(t))
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	c, bench := s.Role(t, postgres.Reader), sharetest.NewID()
	c.Poll = time.Hour
	reader, writer := pgtest.Opened(t, c), s.bench(t, bench)
	heard := make(chan error, 1)
	go func() { heard <- reader.Wait(ctx, 0) }()
	s.As(t, s.Name, func(ctx context.Context, conn *pgx.Conn) error {
		for waits := false; !waits; {
			err := conn.QueryRow(ctx, `SELECT EXISTS (SELECT FROM pg_stat_activity
				WHERE datname = current_database() AND state = 'idle' AND query = 'SELECT seq FROM dullred.head')`).Scan(&waits)
			if err != nil {
				return err
			}
		}
		return nil
	})
	_, err := writer.Send(ctx, share.Batch{Rows: sharetest.Notes(1, bench, bench)})
	require.NoError(t, err)
	require.NoError(t, <-heard)
}

// TestWithoutListen: then Wait asks.
func TestWithoutListen(t *testing.T) {
	s := newSchool(t, pgtest.Common(t))
	bench := sharetest.NewID()
	c := s.Role(t, postgres.Reader)
	c.Poll = 20 * time.Millisecond
	reader := pgtest.Opened(t, c)
	reader.Deafen()
	heard := make(chan error, 1)
	go func() { heard <- reader.Wait(t.Context(), 0) }()
	_, err := s.bench(t, bench).Send(t.Context(), share.Batch{Rows: sharetest.Notes(1, bench, bench)})
	require.NoError(t, err)
	require.NoError(t, <-heard)
}

// TestFullDisk fills the disk of a server, which then says 53100, disk_full: a disk of
// its own of 24 MiB (tmpfs) where a test may mount one, as in a virtual machine, and
// everywhere the answer "no space" (ENOSPC) to what it writes, by strace.
func TestFullDisk(t *testing.T) {
	t.Run("a small disk", func(t *testing.T) {
		s := pgtest.Start(t)
		disk := filepath.Join(s.Dir, "disk")
		require.NoError(t, os.Mkdir(disk, 0o700))
		if err := syscall.Mount("tmpfs", disk, "tmpfs", 0, "size=24m"); err != nil {
			require.ErrorIs(t, err, os.ErrPermission, "what a container says")
			t.Log("no disk can be mounted here: the other way alone")
			return
		}
		t.Cleanup(func() { s.Stop(); require.NoError(t, syscall.Unmount(disk, 0)) })
		require.NoError(t, s.Give(disk))
		s.Exec(t, "postgres", `CREATE TABLESPACE small LOCATION '`+disk+`'`)
		s.Exec(t, "postgres", `CREATE DATABASE school TABLESPACE small`)
		fills(t, s, func(school) {}, func() {
			require.NoError(t, syscall.Mount("tmpfs", disk, "tmpfs", syscall.MS_REMOUNT, "size=64m"))
		})
	})
	t.Run("no space for a write", func(t *testing.T) {
		s := pgtest.Start(t)
		s.Exec(t, "postgres", `CREATE DATABASE school`)
		var empty func()
		fills(t, s, func(sc school) { empty = sc.noSpace(t) }, func() { empty() })
	})
}

// fills sends to a school until its disk is full, which it is at the latest after full,
// and again when there is more room.
func fills(t *testing.T, s *pgtest.Server, full func(school), room func()) {
	sc := school{pgtest.School{Server: s, Name: "school"}}
	_, _, err := postgres.Prepare(t.Context(), sc.Owner())
	require.NoError(t, err)
	bench := sharetest.NewID()
	c := sc.Role(t, postgres.Writer)
	c.Bench, c.Timeout = bench, time.Minute
	st := pgtest.Opened(t, c)

	var stored share.Sum
	send := func() error {
		rows := sharetest.Notes(500, bench, bench)
		if _, err := st.Send(t.Context(), share.Batch{Rows: rows}); err != nil {
			return err
		}
		for _, r := range rows {
			stored = stored.Add(r)
		}
		return nil
	}
	for range 3 {
		require.NoError(t, send(), "it was not full from the beginning")
	}
	full(sc)
	for err == nil {
		err = send()
	}
	require.ErrorIs(t, err, share.ErrFull)
	require.NotContains(t, err.Error(), "\n")
	total, err := st.Total(t.Context())
	require.NoError(t, err, "what it has can be read")
	require.Equal(t, stored, total, "and nothing of the batch that found no room")
	room()
	require.NoError(t, send(), "with more room it goes on")
	total, err = st.Total(t.Context())
	require.NoError(t, err)
	require.Equal(t, stored, total)
}

// noSpace has the server of a school find no space when the files of the entries are to
// grow: strace answers in the place of the kernel. It gives what makes room again.
func (s school) noSpace(t *testing.T) (empty func()) {
	const calls = "pwrite64,pwritev,fallocate"
	args := []string{"-f", "-qq", "-o", "/dev/null", "-e", "trace=" + calls, "-e", "inject=" + calls + ":error=ENOSPC"}
	var pids []int
	s.As(t, s.Name, func(ctx context.Context, conn *pgx.Conn) error {
		rows, err := conn.Query(ctx, `SELECT pid FROM pg_stat_activity WHERE backend_type = 'client backend' AND datname = 'school'`)
		if err != nil {
			return err
		}
		if pids, err = pgx.CollectRows(rows, pgx.RowTo[int]); err != nil {
			return err
		}
		if rows, err = conn.Query(ctx, `SELECT pg_relation_filepath(oid) FROM pg_class
			WHERE relnamespace = 'dullred'::regnamespace AND relname LIKE 'entry%' AND relkind IN ('r', 'i')`); err != nil {
			return err
		}
		paths, err := pgx.CollectRows(rows, pgx.RowTo[string])
		for _, path := range paths {
			args = append(args, "-P", filepath.Join(s.Dir, "data", path))
		}
		return err
	})
	for _, pid := range pids {
		args = append(args, "-p", fmt.Sprint(pid))
	}
	cmd := exec.Command("strace", args...)
	cmd.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGTERM}
	require.NoError(t, cmd.Start())
	for _, pid := range pids {
		require.Eventually(t, func() bool {
			status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
			return err != nil || strings.Contains(string(status), fmt.Sprintf("\nTracerPid:\t%d\n", cmd.Process.Pid))
		}, time.Minute, 10*time.Millisecond)
	}
	return func() {
		require.NoError(t, cmd.Process.Signal(syscall.SIGTERM))
		_ = cmd.Wait() // it ends by the signal
	}
}
