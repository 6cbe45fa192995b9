//go:build system

package term

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// startJob runs the pad as a job of an interactive shell, and types two keys.
func startJob(t *testing.T) *terminal {
	t.Helper()
	e := start(t, []string{asProgram + "=" + plain, "PAD=" + self(t)}, "bash", "--norc", "--noprofile", "-i")
	e.awaitText("ready$")
	e.send("$PAD\n")
	e.awaitText("keys 0.")
	e.send("ab")
	e.awaitText("typed ab|")
	return e
}

// requireShell checks that the job is stopped and that the shell can be used.
func (e *terminal) requireShell(pid int) {
	e.t.Helper()
	e.await("the job to stop", func() bool { return condition(pid) == "T" })
	e.send("clear; echo us''able; stty -a\n")
	e.awaitText("usable\n")
	e.await("the settings of the terminal", func() bool { return strings.Contains(e.text(), " icanon") })
	require.NotContains(e.t, e.text(), "-icanon")
	require.Contains(e.t, e.text(), " echo ")
	require.NotContains(e.t, e.text(), "-echo ")
}

// requireBack continues the job and checks that it shows all it showed, and
// takes keys.
func (e *terminal) requireBack() {
	e.t.Helper()
	e.send("fg\n")
	e.awaitText("typed ab|")
	e.await("raw keys", e.raw)
	time.Sleep(500 * time.Millisecond) // a key that comes while the terminal is handed over may be lost
	require.NotContains(e.t, e.text(), "usable", "nothing of the shell is left on the page")
	e.send("c")
	e.awaitText("typed abc|")
	e.awaitText("keys 3.")
	e.requireIdle(e.padProcess())
}

// requireLeaves ends the pad, and after it the shell.
func (e *terminal) requireLeaves() {
	e.t.Helper()
	e.send("q")
	e.await("the shell's page", func() bool { return !strings.Contains(e.text(), "process ") })
	e.send("echo co''de $?\n")
	e.awaitText("code 0\n")
	e.send("exit\n")
	require.Zero(e.t, e.awaitExit())
	e.requireRestored()
}

func TestSystemSuspends(t *testing.T) {
	cases := []struct {
		name   string
		stop   func(e *terminal, pid int)
		reason string
	}{
		{"Ctrl-Z", func(e *terminal, _ int) { e.send("\x1a") }, "it is a key of the program"},
		{"SIGTSTP", func(e *terminal, pid int) { require.NoError(e.t, unix.Kill(pid, unix.SIGTSTP)) }, "somebody else asks"},
		{"SIGTSTP to the job", func(e *terminal, pid int) { require.NoError(e.t, unix.Kill(-pid, unix.SIGTSTP)) }, "the system asks all of a job"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			e := startJob(t)
			pid := e.padProcess()
			c.stop(e, pid)
			e.requireShell(pid)
			e.mu.Lock()
			require.False(t, e.emu.IsAltScreen(), "the shell has its own page")
			require.False(t, e.emu.CursorHidden())
			e.mu.Unlock()
			e.requireBack()
			e.requireLeaves()
		})
	}
}

func TestSystemSuspendsAgain(t *testing.T) {
	e := startJob(t)
	pid := e.padProcess()
	for range 5 {
		e.send("\x1a")
		e.await("the job to stop", func() bool { return condition(pid) == "T" })
		e.awaitText("Stopped")
		e.send("clear; fg\n")
		e.awaitText("typed ab|")
	}
	e.send("c")
	e.awaitText("typed abc|")
	e.requireLeaves()
}

// A job that is continued in the background waits for the foreground.
func TestSystemContinuesInTheBackground(t *testing.T) {
	e := startJob(t)
	pid := e.padProcess()
	e.send("\x1a")
	e.requireShell(pid)
	e.send("clear; bg\n")
	e.await("the job to go on", func() bool { return condition(pid) != "T" })
	e.requireShell(pid)
	e.requireBack()
	e.requireLeaves()
}

// A stopped job that is told to end does so, without coming to the foreground.
func TestSystemEndsWhileStopped(t *testing.T) {
	e := startJob(t)
	pid := e.padProcess()
	e.send("\x1a")
	e.requireShell(pid)
	// A shell that has not yet heard that the job goes on gives the code of the stop.
	e.send("clear; kill %1; while wait %1; code=$?; [ $code = 149 ]; do sleep 0.05; done; echo co''de $code\n")
	e.awaitText("code 143\n")
	e.await("the end of the job", func() bool { return condition(pid) == "" })
	e.send("exit\n")
	require.Zero(t, e.awaitExit())
	e.requireRestored()
}

// SIGSTOP cannot be caught: after it the terminal may show and be anything.
func TestSystemRefreshes(t *testing.T) {
	e := startPad(t, plain)
	e.send("ab")
	e.awaitText("typed ab|")
	e.signal(unix.SIGSTOP)
	e.await("the stop", func() bool { return condition(e.cmd.Process.Pid) == "T" })
	_, err := e.slave.WriteString("\x1b[2J\x1b[Hsomething else")
	require.NoError(t, err)
	e.awaitText("something else")
	require.NotContains(t, e.text(), "typed")
	require.NoError(t, unix.IoctlSetTermios(int(e.slave.Fd()), unix.TCSETS, &e.before))
	e.signal(unix.SIGCONT)
	e.awaitText("typed ab|")
	e.awaitText("keys 2.")
	require.NotContains(t, e.text(), "something else")
	e.await("raw keys", e.raw)
	e.send("c")
	e.awaitText("typed abc|")
	e.send("q")
	require.Zero(t, e.awaitExit())
	e.requireRestored()
}

// The same under a shell, which takes the terminal meanwhile.
func TestSystemRefreshesAJob(t *testing.T) {
	e := startJob(t)
	pid := e.padProcess()
	require.NoError(t, unix.Kill(pid, unix.SIGSTOP))
	e.requireShell(pid)
	e.requireBack()
	e.requireLeaves()
}

// Without a shell that could continue it, Ctrl-Z shows the screen again.
func TestSystemDoesNotStopAlone(t *testing.T) {
	e := startPad(t, plain)
	e.send("a\x1ab")
	e.awaitText("typed ab|")
	e.signal(unix.SIGTSTP)
	time.Sleep(time.Second) // a key that comes while the terminal is let go of is lost
	e.send("c")
	e.awaitText("typed abc|")
	e.send("q")
	require.Zero(t, e.awaitExit())
	e.requireRestored()
}
