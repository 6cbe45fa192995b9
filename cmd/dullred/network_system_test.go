//go:build system

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// sockets are the calls by which a program could come to a network. The address family is
// the first argument of socket and socketpair, and stands in what is dialled.
var sockets = regexp.MustCompile(`\b(socket|socketpair|connect|bind|sendto|sendmsg|sendmmsg|listen|accept4?)\(.*`)

// dialled are the calls of a trace that are not of this machine's own message bus, and
// how many were.
func dialled(trace string) (strange []string, own int) {
	for line := range strings.Lines(trace) {
		call := sockets.FindString(line)
		switch {
		case call == "":
		case strings.Contains(call, "AF_UNIX") || strings.Contains(call, "AF_LOCAL") || !strings.Contains(call, "AF_") && !strings.Contains(call, "listen("):
			own++
		default:
			strange = append(strange, line)
		}
	}
	return strange, own
}

// networkTrace is what strace saw of a run of a program on the network.
func networkTrace(t *testing.T, path string, env []string, args ...string) string {
	trace := filepath.Join(t.TempDir(), "trace")
	cmd := exec.Command("strace", append([]string{"-f", "-qq", "-o", trace, "-e", "trace=%network", path}, args...)...)
	cmd.Env = append(os.Environ(), env...)
	_, err := cmd.CombinedOutput()
	_, failed := err.(*exec.ExitError)
	require.True(t, err == nil || failed, err)
	text, err := os.ReadFile(trace)
	require.NoError(t, err)
	return string(text)
}

// No command opens a socket but to the message bus of this machine, whatever else it does.
//
// Outside check (reference): strace: no call of a session reaches a network.
func TestSystemNoNetwork(t *testing.T) {
	p := newProgram(t)
	folder := t.TempDir()
	p.evening(t, "spoon")
	bus := []string{"DBUS_SESSION_BUS_ADDRESS=unix:path=" + filepath.Join(folder, "nobody"), "http_proxy=http://192.0.2.1:1", "PGHOST=192.0.2.1"}
	for _, words := range []string{"advise", "advise spoon --why", "piece list", "log", "log --text rings", "pass spoon 4.4x6.6", "note spoon x", "sheet spoon --format pdf", "sheet spoon --format html --pictures",
		"picture spoon --format svg", "card sterling --format html", "plan --alloy sterling --cast --bar 10x10x74 --shape 0:6x3_95:18x3_190:6x3", "stock --alloy sterling --shape 0:6x3_95:18x3", "batch", "class", "totals",
		"export " + filepath.Join(folder, "a.jsonl"), "import " + filepath.Join(folder, "a.jsonl"), "record check", "record backup " + filepath.Join(folder, "b.db"), "merge " + filepath.Join(folder, "b.db"),
		"watch --once", "hand", "alloys", "alloys solders", "glow --temp 650 --surface oxidised --light lamp", "mix 60g:925ag", "safety", "config", "forget nobody", "--help", "no-such-command"} {
		args := strings.Fields(words)
		for i := range args {
			args[i] = strings.ReplaceAll(args[i], "_", " ")
		}
		strange, _ := dialled(networkTrace(t, p.path, bus, append(args, "--record", p.record)...))
		require.Empty(t, strange, words)
	}
}

// The screen of an evening in which a notice is due asks for the message bus, and for
// nothing else.
func TestSystemNoNetworkOfTheScreen(t *testing.T) {
	t.Parallel()
	p := newProgram(t)
	trace := filepath.Join(t.TempDir(), "trace")
	term := start(t, session{command: []string{"strace", "-f", "-qq", "-o", trace, "-e", "trace=%network", p.path, "bench", "--demo", "--record", p.record},
		env: []string{"DBUS_SESSION_BUS_ADDRESS=unix:path=/nowhere/bus"}})
	term.until("a page", func(screen string) bool { return strings.Contains(screen, "%") })
	term.slowly("nvvva")
	time.Sleep(time.Second)
	term.slowly("\x03\x03")
	term.exitCode()
	text, err := os.ReadFile(trace)
	require.NoError(t, err)
	strange, _ := dialled(string(text))
	require.Empty(t, strange)
}

// What the tests above look for is found where it is: a program that dials is seen.
func TestSystemDiallingIsSeen(t *testing.T) {
	strange, _ := dialled(networkTrace(t, "/bin/bash", nil, "-c", "exec 3<>/dev/tcp/127.0.0.1/9"))
	require.NotEmpty(t, strange)
}
