//go:build system && linux

package pgtest

import (
	"context"
	"fmt"
	"net"
	"net/url"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
)

// Owner is the superuser of a server. Its password is in Server.PasswordFile.
const Owner = "postgres"

// password is that of the owner.
const password = "owner of the anvil"

// Server is a PostgreSQL server that runs, or ran.
type Server struct {
	Dir          string // of its own; its data, its socket, its log
	Port         int    // on 127.0.0.1
	PasswordFile string // of the owner

	bin  string
	as   *syscall.Credential // nil where the tests are not run by root
	args []string
	cmd  *exec.Cmd
	over chan struct{} // closed when it has ended
}

// common is the server of the whole test program.
var common *Server

// Main runs the tests of a package with one server that Common gives.
func Main(m *testing.M) int {
	s, err := start(nil)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	defer blank.remove()
	defer s.end()
	common = s
	return m.Run()
}

// Common is the server that Main started. Nobody stops it.
func Common(testing.TB) *Server { return common }

// Start starts a server of the test's own, with further settings as in "ssl=on".
func Start(tb testing.TB, settings ...string) *Server {
	tb.Helper()
	s, err := start(settings)
	if err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(s.end)
	return s
}

func start(settings []string) (s *Server, err error) {
	s = &Server{}
	defer func() {
		if err != nil {
			s.end()
		}
	}()
	if s.bin, err = binaries(); err != nil {
		return s, err
	}
	if err := s.settle(); err != nil {
		return s, err
	}
	if err := s.initialise(); err != nil {
		return s, err
	}
	if s.Port, err = freePort(); err != nil {
		return s, err
	}
	s.args = []string{"-D", s.data(), "-k", s.Dir, "-p", strconv.Itoa(s.Port), "-c", "listen_addresses=127.0.0.1"}
	for _, setting := range settings {
		s.args = append(s.args, "-c", setting)
	}
	return s, s.run()
}

// binaries is the folder of the newest server that is installed.
func binaries() (string, error) {
	found, err := filepath.Glob("/usr/lib/postgresql/*/bin")
	if err != nil || len(found) == 0 {
		return "", fmt.Errorf("no PostgreSQL in /usr/lib/postgresql: apt-get install postgresql")
	}
	version := func(dir string) int {
		n, _ := strconv.Atoi(filepath.Base(filepath.Dir(dir)))
		return n
	}
	return slices.MaxFunc(found, func(a, b string) int { return version(a) - version(b) }), nil
}

// settle makes the folder, and gives it to the user that may run a server: root may not.
func (s *Server) settle() (err error) {
	if s.Dir, err = os.MkdirTemp("", "pgtest"); err != nil || os.Geteuid() != 0 {
		return err
	}
	u, err := user.Lookup("postgres")
	if err != nil {
		return err
	}
	uid, err := strconv.Atoi(u.Uid)
	if err != nil {
		return err
	}
	gid, err := strconv.Atoi(u.Gid)
	if err != nil {
		return err
	}
	s.as = &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}
	return os.Chown(s.Dir, uid, gid)
}

// Give makes a file or folder the server's own.
func (s *Server) Give(path string) error {
	if s.as == nil {
		return nil
	}
	return os.Chown(path, int(s.as.Uid), int(s.as.Gid))
}

func (s *Server) data() string { return filepath.Join(s.Dir, "data") }

// initialise makes the data of a server that lets nobody in without a password.
func (s *Server) initialise() error {
	s.PasswordFile = filepath.Join(s.Dir, "owner")
	if err := os.WriteFile(s.PasswordFile, []byte(password+"\n"), 0o600); err != nil {
		return err
	}
	if err := s.Give(s.PasswordFile); err != nil {
		return err
	}
	from, err := blank.made(s)
	if err != nil {
		return err
	}
	cp := exec.Command("cp", "-a", from, s.data())
	cp.SysProcAttr = &syscall.SysProcAttr{Credential: s.as}
	if out, err := cp.CombinedOutput(); err != nil {
		return fmt.Errorf("copy the data of a new server: %w: %s", err, out)
	}
	return nil
}

// command is a program of the server, run as its user. It dies with the tests.
func (s *Server) command(name string, args ...string) *exec.Cmd {
	cmd := exec.Command(filepath.Join(s.bin, name), args...)
	cmd.Dir = s.Dir
	cmd.Env = []string{"PATH=" + os.Getenv("PATH"), "LC_ALL=C.UTF-8"}
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: s.as, Pdeathsig: syscall.SIGQUIT}
	return cmd
}

// freePort is a port that nobody had a moment ago.
func freePort() (int, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return 0, err
	}
	defer l.Close()
	return l.Addr().(*net.TCPAddr).Port, nil
}

// run starts the server and waits until it answers.
func (s *Server) run() error {
	log, err := os.OpenFile(s.log(), os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	defer log.Close()
	s.cmd, s.over = s.command("postgres", s.args...), make(chan struct{})
	s.cmd.Stdout, s.cmd.Stderr = log, log
	if err := s.cmd.Start(); err != nil {
		close(s.over)
		return err
	}
	go func() {
		_ = s.cmd.Wait() // how it ended is in the log
		close(s.over)
	}()
	return s.answers()
}

func (s *Server) log() string { return filepath.Join(s.Dir, "log") }

// startLimit is how long a server may take to recover and answer.
const startLimit = time.Minute

// answers waits until the server says in its file that it is ready. To ask it would cost it
// a process each time.
func (s *Server) answers() error {
	late := time.After(startLimit)
	for {
		if s.ready() {
			return nil
		}
		select {
		case <-time.After(5 * time.Millisecond):
		case <-s.over:
			return fmt.Errorf("the server ended: %s", s.Log())
		case <-late:
			return fmt.Errorf("the server does not answer: %s", s.Log())
		}
	}
}

// ready reports whether the eighth line of postmaster.pid says so, of the server that runs
// now. The file of one that was killed stays.
func (s *Server) ready() bool {
	text, err := os.ReadFile(filepath.Join(s.data(), "postmaster.pid"))
	lines := strings.Split(string(text), "\n")
	return err == nil && len(lines) > 7 && lines[0] == strconv.Itoa(s.cmd.Process.Pid) && strings.TrimSpace(lines[7]) == "ready"
}

// Log is what the server wrote.
func (s *Server) Log() string {
	text, err := os.ReadFile(s.log())
	if err != nil {
		return err.Error()
	}
	return string(text)
}

// connect is a connection of the owner.
func (s *Server) connect(ctx context.Context, database string) (*pgx.Conn, error) {
	config, err := pgx.ParseConfig(s.URL(Owner, database))
	if err != nil {
		return nil, err
	}
	config.Password = password
	config.TLSConfig, config.Fallbacks = nil, nil // or it is first asked for TLS, with a process for that alone
	return pgx.ConnectConfig(ctx, config)
}

// URL is a database of the server, as a role reaches it on the loopback address.
func (s *Server) URL(role, database string) string {
	u := url.URL{Scheme: "postgres", User: url.User(role), Host: fmt.Sprintf("127.0.0.1:%d", s.Port), Path: database}
	return u.String()
}

// SocketURL is a database of the server, as a role reaches it by its Unix socket.
func (s *Server) SocketURL(role, database string) string {
	q := url.Values{"host": {s.Dir}, "port": {strconv.Itoa(s.Port)}}
	u := url.URL{Scheme: "postgres", User: url.User(role), Path: "/" + database, RawQuery: q.Encode()}
	return u.String()
}

// Stop ends the server in good order, as a machine that is shut down does.
func (s *Server) Stop() {
	_ = s.cmd.Process.Signal(os.Interrupt) // it may have ended by itself
	<-s.over
}

// Quit ends the server without good order, as "pg_ctl stop -m immediate" does: it throws
// out whoever is connected, and must recover when it is started again.
func (s *Server) Quit() {
	_ = s.cmd.Process.Signal(syscall.SIGQUIT) // it may have ended by itself
	<-s.over
}

// Kill ends the server and all that belongs to it at once, as a pulled plug does to the
// programs, though not to what the kernel has yet to write.
func (s *Server) Kill() {
	_ = s.cmd.Process.Signal(syscall.SIGSTOP) // so that it has no more children; it may have ended
	children := s.children()
	_ = s.cmd.Process.Kill()
	for _, pid := range children {
		_ = syscall.Kill(pid, syscall.SIGKILL)
	}
	<-s.over
	for _, pid := range children {
		for alive(pid) { // what it shared is free when they are gone
			time.Sleep(time.Millisecond)
		}
	}
}

// alive reports whether a process runs, and does not only wait to be counted.
func alive(pid int) bool {
	stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return false
	}
	_, state, _ := strings.Cut(string(stat), ") ")
	return !strings.HasPrefix(state, "Z")
}

// children are the processes of the server's connections and helpers.
func (s *Server) children() (pids []int) {
	pid := s.cmd.Process.Pid
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/task/%d/children", pid, pid))
	if err != nil {
		return nil
	}
	for _, field := range strings.Fields(string(text)) {
		if pid, err := strconv.Atoi(field); err == nil {
			pids = append(pids, pid)
		}
	}
	return pids
}

// Restart starts the server again, after it was stopped or killed.
func (s *Server) Restart(tb testing.TB) {
	tb.Helper()
	if err := s.run(); err != nil {
		tb.Fatal(err)
	}
}

// end stops the server, if it runs, and removes all of it.
func (s *Server) end() {
	if s.cmd != nil {
		s.Kill()
	}
	if s.Dir != "" {
		_ = os.RemoveAll(s.Dir) // in the folder for what may be lost
	}
}
