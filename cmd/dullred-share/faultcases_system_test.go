//go:build system && linux

package main

import (
	"context"
	"fmt"
	"net"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/pgtest"
)

// wrongPassword is not that of any role.
const wrongPassword = "two blows and no anneal"

// mishap is something that goes wrong.
type mishap struct {
	name, reason string
	own          bool     // it happens to a server of its own
	settings     []string // of that one
	alone        bool     // it happens to a database of its own
	happens      func(*scene) (mend func())
	mend         func() // nil is mended with the usual address
	code         int
	words        string // that every command says which fails: a pattern
	fine         string // the commands that do not fail
	either       string // the commands that may fail or not
	prepare      string // as whom prepare is tried: owner, role, or "" for nobody
}

var mishaps = []mishap{
	{name: "nobody listens", reason: "the server does not run", own: true, code: exitShared, words: "no server runs at 127.0.0.1:", prepare: "owner",
		happens: func(sc *scene) func() {
			sc.url = sc.s.URL(sc.role, sc.database)
			sc.s.Stop()
			return func() { sc.s.Restart(sc.t) }
		}},
	{name: "no such machine", reason: "a mistyped name (.invalid is nobody's, RFC 2606)", code: exitShared, words: "db.invalid", prepare: "owner",
		happens: func(sc *scene) func() {
			sc.url = "postgres://" + sc.role + "@db.invalid/" + sc.database
			return nil
		}},
	{name: "a web server", reason: "the port of another service", code: exitShared, words: "is no PostgreSQL server", prepare: "owner",
		happens: func(sc *scene) func() {
			right := sc.to
			sc.leadTo(web(sc.all))
			return func() { sc.leadTo(right) }
		}},
	{name: "not prepared", reason: "the owner has yet to", code: exitShared, words: "there is no shared record: the database was not prepared",
		happens: func(sc *scene) func() {
			sc.database = sc.s.Database(sc.t)
			sc.url = sc.address()
			return func() {
				code, _, errOut := did(sc.t, nil, "prepare", "--to", sc.s.URL(pgtest.Owner, sc.database), "--password-file", sc.s.PasswordFile)
				require.Equal(sc.t, exitOK, code, errOut)
			}
		}},
	{name: "no such database", reason: "a mistyped name", code: exitShared, words: "there is no shared record: the server has no such database", prepare: "owner",
		happens: func(sc *scene) func() {
			sc.url = strings.Replace(sc.url, sc.database, "scholl", 1)
			return nil
		}},
	{name: "a newer version", reason: "this program was left behind", alone: true, code: exitShared, words: "is of a newer version of dullred-share", prepare: "owner",
		happens: func(sc *scene) func() { return sc.version("n + 98", "n - 98") }},
	{name: "an older version", reason: "the owner has yet to bring it up to date", alone: true, code: exitShared, words: "is of an older version of dullred-share",
		happens: func(sc *scene) func() { return sc.version("n - 1", "n + 1") }},
	{name: "a wrong password", reason: "mistyped, or changed", code: exitShared, words: "does not accept the role or its password: role",
		happens: func(sc *scene) func() {
			sc.writes(sc.password, wrongPassword, 0o600)
			return func() { sc.writes(sc.password, rolePassword, 0o600) }
		}},
	{name: "no password", reason: "it was forgotten", code: exitShared, words: "does not accept the role or its password: no password was given for",
		happens: func(sc *scene) func() {
			sc.password = ""
			return func() { sc.writes(sc.usual, "*:*:*:*:"+rolePassword, 0o600) }
		}},
	{name: "a password file for all to read", reason: "an editor made it so", code: exitRefused, words: "the password file cannot be used: others may read it; close it to them with chmod 600", prepare: "role",
		happens: func(sc *scene) func() {
			require.NoError(sc.t, os.Chmod(sc.password, 0o644))
			return func() { require.NoError(sc.t, os.Chmod(sc.password, 0o600)) }
		}},
	{name: "the usual password file for all to read", reason: "other programs pass it over", code: exitRefused, words: "the password file cannot be used: others may read it; close it to them with chmod 600", prepare: "role",
		happens: func(sc *scene) func() {
			sc.password = ""
			sc.writes(sc.usual, "*:*:*:*:"+rolePassword, 0o644)
			return func() { require.NoError(sc.t, os.Chmod(sc.usual, 0o600)) }
		}},
	{name: "a certificate of another name", reason: "it may be another server", own: true, code: exitShared, words: "its certificate is for another name than 127.0.0.1", prepare: "owner",
		happens: func(sc *scene) func() {
			return sc.certified("127.0.0.1", func(c *certificate) { c.names, c.addresses = []string{"db.example"}, nil })
		}},
	{name: "a certificate of somebody unknown", reason: "anybody could have made it", own: true, code: exitShared, words: "its certificate was not signed by anybody who is trusted here", prepare: "owner",
		happens: func(sc *scene) func() {
			return sc.certified("127.0.0.1", func(c *certificate) { c.by = newAuthority(sc.all) })
		}},
	{name: "a certificate that has expired", reason: "nobody renewed it", own: true, code: exitShared, words: "its certificate has expired, or a clock is wrong", prepare: "owner",
		happens: func(sc *scene) func() {
			return sc.certified("127.0.0.1", func(c *certificate) { c.until = time.Now().Add(-time.Minute) })
		}},
	{name: "no TLS beyond this machine", reason: "anybody on the way would read along", own: true, code: exitShared, words: "it has no TLS", prepare: "owner",
		// What is dialled as 0.0.0.0 is this machine on Linux, and no loopback address.
		happens: func(sc *scene) func() { return sc.certified("0.0.0.0", nil) }},
	{name: "TLS without proof", reason: "anybody on the way could be the server", code: exitRefused, words: "sslmode must be verify-full or verify-ca there", prepare: "owner",
		happens: func(sc *scene) func() {
			sc.url = "postgres://" + sc.role + "@192.0.2.7/school?sslmode=require" // leads nowhere, RFC 5737
			return nil
		}},
	{name: "a reader that sends", reason: "the role of the board", code: exitShared, words: "the role has no right to do that", fine: "collect compare board",
		happens: func(sc *scene) func() {
			sc.may("reader")
			return func() { sc.s.Exec(sc.t, "postgres", `GRANT dullred_writer TO `+sc.role) }
		}},
	{name: "a role without rights", reason: "made by hand", code: exitShared, words: "the role has no right to do that", prepare: "role",
		happens: func(sc *scene) func() {
			sc.may("")
			return func() { sc.s.Exec(sc.t, "postgres", `GRANT dullred_writer TO `+sc.role) }
		}},
	{name: "the role of another bench", reason: "nobody writes in the name of another", alone: true, code: exitShared, words: "that is of another bench", fine: "collect compare board",
		happens: func(sc *scene) func() {
			another, far := *sc, *sc.far
			far.bench = newBenchCalled(sc.all, "another", 2)
			another.far = &far
			code, _, errOut := another.ran("send")
			require.Equal(sc.t, exitOK, code, errOut)
			return func() { sc.released() }
		}},
	{name: "a full disk", reason: "the file of the entries cannot grow", own: true, code: exitShared, words: "the disk of the server is full: nothing of this was stored", fine: "collect compare board",
		happens: func(sc *scene) func() {
			code, _, errOut := sc.ran("send")
			require.Equal(sc.t, exitOK, code, errOut)
			for n := range 300 {
				sc.logs(fmt.Sprint("before ", n))
			}
			return sc.full(sc.files())
		}},
	{name: "a full disk of the log", reason: "the server cannot write ahead, and refuses or ends itself, as the moment has it", own: true, code: exitShared, words: "the shared record cannot be reached|the disk of the server is full", either: "collect compare board",
		happens: func(sc *scene) func() {
			empty := sc.full(nil)
			sc.s.As(sc.t, "postgres", func(ctx context.Context, conn *pgx.Conn) error {
				for range 5 { // a file or two may have been made before
					_, _ = conn.Exec(ctx, `SELECT pg_logical_emit_message(true, 'dullred', 'full')`) // it may not outlive that
					_, _ = conn.Exec(ctx, `SELECT pg_switch_wal()`)
				}
				return nil
			})
			return func() {
				empty()
				sc.s.Kill()
				sc.s.Restart(sc.t)
			}
		}},
	{name: "a server that goes down", reason: "in good order, while others are still on it", own: true, code: exitShared, words: "the server is going down or coming up", prepare: "owner",
		happens: func(sc *scene) func() {
			leave := sc.holds(1)
			require.NoError(sc.t, syscall.Kill(sc.postmaster(), syscall.SIGTERM))
			return func() {
				leave()
				sc.s.Stop()
				sc.s.Restart(sc.t)
			}
		}},
	{name: "too many connections", reason: "a server that is too small", own: true, settings: []string{"max_connections=8", "superuser_reserved_connections=1"},
		code: exitShared, words: "the server takes no more connections",
		happens: func(sc *scene) func() { return sc.holds(7) }},
	{name: "a server that is silent", reason: "the connection stands, and nothing comes", code: exitShared, words: "answer",
		happens: func(sc *scene) func() {
			sc.set(frozen)
			return func() { sc.set(whole) }
		}},
}

// leadTo leads the cable elsewhere.
func (sc *scene) leadTo(to string) {
	sc.mu.Lock()
	defer sc.mu.Unlock()
	sc.to = to
}

// web is a web server, which answers whatever it is asked.
func web(t *testing.T) string {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	t.Cleanup(func() { _ = l.Close() })
	go func() {
		for {
			conn, err := l.Accept()
			if err != nil {
				return
			}
			_, _ = conn.Write([]byte("HTTP/1.1 400 Bad Request\r\nContent-Type: text/plain\r\nConnection: close\r\n\r\n400 Bad Request"))
			_ = conn.Close()
		}
	}()
	return l.Addr().String()
}

// version changes the version of the database.
func (sc *scene) version(now, then string) func() {
	set := func(n string) { sc.s.Exec(sc.t, sc.database, `UPDATE dullred.version SET n = `+n) }
	set(now)
	return func() { set(then) }
}

func (sc *scene) writes(path, text string, mode os.FileMode) {
	require.NoError(sc.t, os.WriteFile(path, []byte(text+"\n"), 0o600))
	require.NoError(sc.t, os.Chmod(path, mode))
}

// may takes another role, of one group or of none.
func (sc *scene) may(group string) {
	sc.role = pgtest.Name("hand")
	in := ""
	if group != "" {
		in = ` IN ROLE dullred_` + group
	}
	sc.s.Exec(sc.t, "postgres", `CREATE ROLE `+sc.role+` LOGIN PASSWORD '`+rolePassword+`'`+in)
	sc.url = sc.address()
}

// released has a teacher release the bench of the role.
func (sc *scene) released() {
	teacher := pgtest.Name("teacher")
	code, _, errOut := did(sc.t, strings.NewReader(rolePassword+"\n"), "role", teacher, "--as", "teacher", "--to", sc.s.URL(pgtest.Owner, sc.database), "--password-file", sc.s.PasswordFile)
	require.Equal(sc.t, exitOK, code, errOut)
	cmd := exec.Command(sc.program, "release", sc.role, "--yes", "--to", sc.s.URL(teacher, sc.database), "--password-file", pgtest.Secret(sc.t, rolePassword))
	code, out, errOut := sc.finished(cmd)
	require.Equal(sc.t, exitOK, code, errOut)
	sc.t.Logf("release: %s", strings.TrimSpace(out))
}
