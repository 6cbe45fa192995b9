package main

import (
	"encoding/json"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// netUsers are the packages of others through which the standard library's net comes
// into dullred, and what they do with it. Dials is for those that open a connection.
var netUsers = map[string]struct {
	dials  bool
	reason string
}{
	"github.com/google/uuid":    {false, "lists the network cards for ids of version 1, which are not made here"},
	"github.com/spf13/pflag":    {false, "reads flags that are addresses, of which there are none here"},
	"golang.org/x/sys/windows":  {false, "a type in a signature"},
	"github.com/godbus/dbus/v5": {true, "the message bus of the desktop, at the address that the session gives"},
	"golang.org/x/sys/unix":     {false, "names the calls of the system; who makes them is looked for by name"},
}

// outward are the packages that talk to others, and that nothing of dullred may hold.
var outward = []string{"net/http", "net/rpc", "net/smtp", "crypto/tls", "log/syslog", "github.com/jackc/pgx", "golang.org/x/net"}

// dialling is how a Go program opens a connection, or waits for one: by net, or past it.
var dialling = regexp.MustCompile(`\bnet\.(Dial|Listen|Lookup|Resolve)|\b(unix|syscall|windows)\.(Connect|Socket|Sendto|Bind|WSA\w+)\(`)

// dep is a package as go list tells of it.
type dep struct {
	ImportPath, Dir string
	Standard        bool
	Imports         []string
	GoFiles         []string
	ImportMap       map[string]string // names in its files that stand for others
}

// Nothing in dullred dials but the library that talks to the desktop, and nothing of ours
// does at all: what is compiled in is looked through, on each system.
func TestDullredDialsNobody(t *testing.T) {
	for _, system := range []string{"linux", "windows", "darwin"} {
		t.Run(system, func(t *testing.T) {
			all := depsOf(t, system, "./cmd/dullred")
			require.Greater(t, len(all), 100, "the list is read")
			for _, d := range all {
				require.Empty(t, goesOut(t, d), d.ImportPath)
			}
		})
	}
}

// The same look finds what dullred-share holds, or it would find nothing anywhere.
func TestDiallingIsFound(t *testing.T) {
	found := map[string]bool{}
	for _, d := range depsOf(t, "linux", "./cmd/dullred-share") {
		found[d.ImportPath] = goesOut(t, d) != ""
	}
	for _, name := range []string{"crypto/tls", "github.com/jackc/pgx/v5", "github.com/jackc/pgx/v5/pgconn"} {
		require.True(t, found[name], name)
	}
	for _, call := range []string{`c, err := net.Dial("tcp", a)`, `net.DialTimeout(`, `var d net.Dialer`, `net.Listen("tcp"`, `unix.Connect(fd, sa)`, `syscall.Socket(2, 1, 0)`} {
		require.Regexp(t, dialling, call)
	}
	require.NotRegexp(t, dialling, `net.ParseIP(s) net.Interfaces() unix.Close(fd)`)
}

// goesOut says how a package goes out, "" if it does not.
func goesOut(t *testing.T, d dep) string {
	t.Helper()
	for _, never := range outward {
		if under(d.ImportPath, never) {
			return "it is " + never
		}
	}
	user, listed := netUsers[d.ImportPath]
	for _, i := range d.Imports {
		if !d.Standard && i == "net" && !listed {
			return "it imports net"
		}
	}
	if d.Standard || user.dials {
		return ""
	}
	for _, name := range d.GoFiles {
		text, err := os.ReadFile(filepath.Join(d.Dir, name))
		require.NoError(t, err)
		if call := dialling.Find(text); call != nil && d.ImportPath != "golang.org/x/sys/unix" {
			return name + " holds " + string(call)
		}
	}
	return ""
}

// depsOf is everything that is compiled into a program on a system.
func depsOf(t *testing.T, system, program string) (all []dep) {
	t.Helper()
	cmd := exec.Command("go", "list", "-deps", "-json=ImportPath,Dir,Standard,Imports,GoFiles,ImportMap", program)
	cmd.Dir = moduleRoot(t)
	cmd.Env = append(os.Environ(), "CGO_ENABLED=0", "GOFLAGS=-buildvcs=false", "GOARCH=amd64", "GOOS="+system)
	var said strings.Builder
	cmd.Stderr = &said
	out, err := cmd.Output()
	require.NoError(t, err, said.String())
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var one dep
		err := d.Decode(&one)
		if errors.Is(err, io.EOF) {
			return all
		}
		require.NoError(t, err)
		all = append(all, one)
	}
}

func TestNetUsersHaveAReason(t *testing.T) {
	for name, user := range netUsers {
		require.NotEmpty(t, user.reason, name)
	}
}
