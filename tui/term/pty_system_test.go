//go:build system

package term

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/charmbracelet/x/vt"
	"github.com/creack/pty"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// soon is how long anything may take that a person waits for.
const soon = 5 * time.Second

// terminal is a pseudo-terminal of 80 by 24 with an emulator behind it, and a
// program that runs in it.
type terminal struct {
	t             *testing.T
	master, slave *os.File
	cmd           *exec.Cmd
	exited        chan struct{}
	both          sync.WaitGroup // show and reply
	before        unix.Termios

	mu  sync.Mutex // of the emulator and the log
	emu *vt.Emulator
	log bytes.Buffer // all that the program wrote
}

// start runs a command in a new terminal, as the leader of its session.
func start(t *testing.T, env []string, command ...string) *terminal {
	t.Helper()
	master, slave, err := pty.Open()
	require.NoError(t, err)
	require.NoError(t, pty.Setsize(master, &pty.Winsize{Rows: 24, Cols: 80}))
	// The pty package makes it blocking; its Close would then wait for a Read that waits.
	require.NoError(t, unix.SetNonblock(int(master.Fd()), true))
	e := &terminal{t: t, master: master, slave: slave, emu: vt.NewEmulator(80, 24), exited: make(chan struct{})}
	e.before = e.termios()
	e.cmd = exec.Command(command[0], command[1:]...)
	e.cmd.Env = append(environment(), env...)
	e.cmd.Stdin, e.cmd.Stdout, e.cmd.Stderr = slave, slave, slave
	e.cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	require.NoError(t, e.cmd.Start())
	t.Cleanup(e.end)
	e.both.Go(e.show)
	e.both.Go(e.reply)
	go func() { _ = e.cmd.Wait(); close(e.exited) }()
	return e
}

// startPad runs the small program and waits until it shows.
func startPad(t *testing.T, how string) *terminal {
	t.Helper()
	e := start(t, []string{asProgram + "=" + how}, self(t))
	e.awaitText("keys 0.")
	return e
}

// self is the test binary.
func self(t *testing.T) string {
	t.Helper()
	path, err := os.Executable()
	require.NoError(t, err)
	return path
}

// environment is what the program sees: nothing of the terminal the tests run in.
func environment() []string {
	return []string{"TERM=xterm-256color", "LC_ALL=C.UTF-8", "PATH=" + os.Getenv("PATH"), "HOME=" + os.Getenv("HOME"), "PS1=ready$ "}
}

// end kills what is left and closes the terminal. The emulator's own Close races
// with its Read; the end of the pipe between them does not.
func (e *terminal) end() {
	_ = e.cmd.Process.Kill()
	_ = e.slave.Close()
	_ = e.master.Close()
	<-e.exited
	_ = e.emu.InputPipe().(io.Closer).Close()
	e.both.Wait()
}

// show draws on the emulator what the program writes.
func (e *terminal) show() {
	var p [4096]byte
	for {
		n, err := e.master.Read(p[:])
		e.draw(p[:n])
		if err != nil {
			return
		}
	}
}

func (e *terminal) draw(p []byte) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.log.Write(p)
	_, _ = e.emu.Write(p)
}

// reply sends the emulator's answers to the program. Read has a pipe of its own,
// and must not hold the lock: Write waits for it.
func (e *terminal) reply() {
	var p [256]byte
	for {
		n, err := e.emu.Read(p[:])
		if err != nil {
			return
		}
		_, _ = e.master.Write(p[:n])
	}
}

// text is what the emulator shows.
func (e *terminal) text() string {
	e.mu.Lock()
	defer e.mu.Unlock()
	return e.emu.String()
}

// wrote is all that the program wrote.
func (e *terminal) wrote() string {
	e.mu.Lock()
	defer e.mu.Unlock()
	return e.log.String()
}

// send types.
func (e *terminal) send(keys string) {
	e.t.Helper()
	_, err := e.master.WriteString(keys)
	require.NoError(e.t, err)
}

// await polls until something is so.
func (e *terminal) await(what string, so func() bool) {
	e.t.Helper()
	for end := time.Now().Add(soon); !so(); time.Sleep(time.Millisecond) {
		if time.Now().After(end) {
			require.FailNow(e.t, "waited in vain for "+what, "screen:\n%s\nlast bytes: %q", e.text(), tail(e.wrote()))
		}
	}
}

func tail(s string) string { return s[max(0, len(s)-400):] }

func (e *terminal) awaitText(text string) {
	e.t.Helper()
	e.await(text, func() bool { return strings.Contains(e.text(), text) })
}

// awaitExit returns the code a shell would see, after all output arrived.
func (e *terminal) awaitExit() int {
	e.t.Helper()
	select {
	case <-e.exited:
	case <-time.After(soon):
		require.FailNow(e.t, "the program did not end", "screen:\n%s\n%s", e.text(), tail(e.wrote()))
	}
	const mark = "\x1b]0;over\a"
	_, err := e.slave.WriteString(mark)
	require.NoError(e.t, err)
	e.await("the end of the output", func() bool { return strings.Contains(e.wrote(), mark) })
	return e.code()
}

// code is the exit code of a program that ended.
func (e *terminal) code() int {
	status := e.cmd.ProcessState.Sys().(syscall.WaitStatus)
	if status.Signaled() {
		return 128 + int(status.Signal())
	}
	return status.ExitStatus()
}

// termios is the state of the terminal.
func (e *terminal) termios() unix.Termios {
	e.t.Helper()
	state, err := unix.IoctlGetTermios(int(e.slave.Fd()), unix.TCGETS)
	require.NoError(e.t, err)
	return *state
}

// raw is true while keys are neither echoed nor kept until a line is full.
func (e *terminal) raw() bool {
	e.t.Helper()
	return e.termios().Lflag&(unix.ECHO|unix.ICANON) == 0
}

// signal sends one to the process, which one before may have ended already.
func (e *terminal) signal(sig syscall.Signal) {
	e.t.Helper()
	if err := e.cmd.Process.Signal(sig); !errors.Is(err, os.ErrProcessDone) {
		require.NoError(e.t, err)
	}
}

// padProcess is the number of the process that the pad shows.
func (e *terminal) padProcess() int {
	e.t.Helper()
	_, after, found := strings.Cut(e.text(), "process ")
	require.True(e.t, found, e.text())
	number, _, _ := strings.Cut(after, ".")
	pid, err := strconv.Atoi(number)
	require.NoError(e.t, err)
	return pid
}

// condition is the letter the system gives the state of a process: T if it is stopped.
func condition(pid int) string {
	data, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return ""
	}
	_, after, _ := strings.Cut(string(data), ") ")
	return after[:1]
}

// processor is the processor time all threads of a process have used.
func processor(t *testing.T, pid int) time.Duration {
	t.Helper()
	threads, err := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/schedstat", pid))
	require.NoError(t, err)
	require.NotEmpty(t, threads)
	var sum time.Duration
	for _, path := range threads {
		var used int64
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		_, err = fmt.Sscan(string(data), &used)
		require.NoError(t, err)
		sum += time.Duration(used)
	}
	return sum
}
