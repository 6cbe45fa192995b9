//go:build system && linux

package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/pgtest"
	"dullred/cmd/internal/built"
	"dullred/schedule/record"
)

func TestMain(m *testing.M) {
	code := pgtest.Main(m)
	built.Remove()
	os.Exit(code)
}

// rolePassword is the password of every role in these tests.
const rolePassword = pgtest.RolePassword

// far is a bench whose carrier reaches a server by a cable.
type far struct {
	*bench
	*cable
	password string // file
	role     string
	database string
}

func (f *far) address() string {
	return fmt.Sprintf("postgres://%s@%s/%s", f.role, f.listen.Addr(), f.database)
}

// did runs a command against a real server.
func did(t *testing.T, in io.Reader, args ...string) (code int, out, errOut string) {
	t.Helper()
	var o, e bytes.Buffer
	a := &app{in: in, out: &o, now: time.Now, open: openPostgres}
	code = a.run(t.Context(), args, &e)
	return code, o.String(), e.String()
}

// newFar makes a role and a bench of its own.
func newFar(t *testing.T, s *pgtest.Server, database string, entries int) *far {
	t.Helper()
	name := pgtest.Name("bench")
	code, out, errOut := did(t, strings.NewReader(rolePassword+"\n"), "role", name, "--as", "writer", "--to", s.URL(pgtest.Owner, database), "--password-file", s.PasswordFile)
	require.Equal(t, exitOK, code, errOut)
	require.Equal(t, "made      the role "+name+", a writer\n", out)
	f := &far{bench: newBenchCalled(t, name, entries), cable: newCable(t, s.Port), password: pgtest.Secret(t, rolePassword), role: name, database: database}
	return f
}

func (f *far) beside() (out *lockedBuffer, end func()) {
	out = &lockedBuffer{}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan int, 1)
	var errOut bytes.Buffer
	a := &app{out: out, now: time.Now, open: openPostgres}
	go func() {
		ended <- a.run(ctx, []string{"run", "--to", f.address(), "--password-file", f.password, "--record", f.record}, &errOut)
	}()
	return out, func() {
		cancel()
		require.Equal(f.bench.t, exitOK, <-ended, errOut.String())
	}
}

// has waits until the record holds some entries, and gives how long that took.
func (f *far) has(n int) time.Duration {
	begun := time.Now()
	r, err := record.Open(f.record)
	require.NoError(f.bench.t, err)
	require.Eventually(f.bench.t, func() bool { got, err := r.Count(); return err == nil && got == n }, 30*time.Second, 5*time.Millisecond, "%d entries", n)
	require.NoError(f.bench.t, r.Close())
	return time.Since(begun)
}

func (f *far) equal() {
	t := f.bench.t
	_, out, errOut := did(t, nil, "compare", "--to", f.address(), "--password-file", f.password, "--record", f.record)
	require.Contains(t, out, "equal ", errOut)
}

// Two benches share through a real server, whose links are pulled and frozen and which is
// killed; in the end all have everything.
func TestSystemSharing(t *testing.T) {
	s := pgtest.Start(t)
	database := s.Database(t)
	owner := []string{"prepare", "--to", s.URL(pgtest.Owner, database), "--password-file", s.PasswordFile}
	_, out, errOut := did(t, nil, owner...)
	require.Contains(t, out, "ready     at version ", errOut)
	_, out, _ = did(t, nil, owner...)
	require.Contains(t, out, "ready     it was")

	a, b := newFar(t, s, database, 40), newFar(t, s, database, 30)
	outA, endA := a.beside()
	outB, endB := b.beside()
	until(t, outA, "shared 40 entries")
	until(t, outB, "shared 30 entries")
	a.has(70)
	b.has(70)

	a.append(nil, record.Row(note("a moment", a.id)))
	t.Logf("from the disk of one bench to that of the other: %v", b.has(71))

	a.set(frozen)
	begun := time.Now()
	a.append(nil, record.Row(note("into a frozen link", a.id)))
	until(t, outA, "alone since")
	t.Logf("a frozen link was noticed after %v", time.Since(begun))
	a.set(pulled)
	a.append(nil, record.Row(note("without a link", a.id)))
	time.Sleep(time.Second)
	a.set(whole)
	t.Logf("a link that was pulled healed after %v", b.has(73))

	s.Kill()
	until(t, outB, "alone since")
	a.append(nil, record.Row(note("without a server", a.id)))
	b.append(nil, record.Row(note("without a server either", b.id)))
	s.Restart(t)
	t.Logf("after a kill of the server all was there after %v", max(a.has(75), b.has(75)))
	a.equal()
	b.equal()
	endA()
	endB()
	require.NotContains(t, outA.String()+outB.String(), rolePassword)
}

// What goes wrong with a real server is one sentence, without the password.
func TestSystemFaults(t *testing.T) {
	s := pgtest.Common(t)
	database := s.Database(t)
	code, _, errOut := did(t, nil, "prepare", "--to", s.URL(pgtest.Owner, database), "--password-file", s.PasswordFile)
	require.Equal(t, exitOK, code, errOut)
	f := newFar(t, s, database, 1)
	wrong := pgtest.Secret(t, "not "+rolePassword)
	empty := s.Database(t)
	cases := []struct {
		name, to, password, says, reason string
	}{
		{"a wrong password", f.address(), wrong, "does not accept the role or its password", "it is said what"},
		{"no such database", s.URL(f.role, "nowhere"), f.password, "no such database", "it is said what"},
		{"not prepared", s.URL(f.role, empty), f.password, "not prepared", "it is said what"},
		{"no server", fmt.Sprintf("postgres://%s@127.0.0.1:1/%s", f.role, database), f.password, "cannot be reached", "it is said where"},
		{"beyond this machine without TLS", "postgres://" + f.role + "@192.0.2.1/school?sslmode=disable", f.password, "sslmode must be verify-full", "nobody listens in"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			code, out, errOut := did(t, nil, "send", "--to", c.to, "--password-file", c.password, "--record", f.record)
			require.NotEqual(t, exitOK, code)
			require.Contains(t, errOut, c.says, c.reason)
			require.Regexp(t, `^dullred-share: [^\n]+\.\n$`, errOut)
			require.NotContains(t, out+errOut, rolePassword)
		})
	}
	f.equalAfter()
}

// equalAfter sends what there is and compares.
func (f *far) equalAfter() {
	t := f.bench.t
	code, out, errOut := did(t, nil, "send", "--to", f.address(), "--password-file", f.password, "--record", f.record)
	require.Equal(t, exitOK, code, errOut)
	require.Contains(t, out, "sent      1 entry\n")
	f.equal()
}
