//go:build system

package main

import (
	"bytes"
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

// patience is how long a screen may take to show what it is waited for.
const patience = 10 * time.Second

// session is what runs in a terminal, and in which.
type session struct {
	width, height int // 80 and 24 when 0
	env           []string
	command       []string
	stdout        *os.File      // instead of the terminal
	stderr        *bytes.Buffer // instead of the terminal
}

// terminal is a pty with a program in it, and an emulator that shows what the
// program sends. The emulator is behind one lock, is never closed, and its
// answers go back to the program.
type terminal struct {
	t             *testing.T
	cmd           *exec.Cmd
	master, slave *os.File
	ended         chan struct{}
	folder        string // home and XDG folders

	mu       sync.Mutex
	emulator *vt.Emulator
	raw      []byte
	bursts   []burst
	shown    string // the text when the last drawing was whole
}

// burst is what one read of the terminal gave.
type burst struct {
	at    time.Time
	bytes int
}

// start runs a command in a terminal of its own, and in folders of its own.
func start(t *testing.T, s session) *terminal {
	t.Helper()
	if s.width == 0 {
		s.width, s.height = 80, 24
	}
	term := &terminal{t: t, ended: make(chan struct{}), folder: t.TempDir(), emulator: vt.NewEmulator(s.width, s.height)}
	term.master, term.slave = openPty(t)
	t.Cleanup(term.end)
	require.NoError(t, pty.Setsize(term.slave, sizeOf(s.width, s.height)))
	term.cmd = exec.Command(s.command[0], s.command[1:]...)
	term.cmd.Env = append(term.environment(), s.env...)
	term.cmd.Stdin, term.cmd.Stdout, term.cmd.Stderr = term.slave, term.slave, term.slave
	if s.stdout != nil {
		term.cmd.Stdout = s.stdout
	}
	if s.stderr != nil {
		term.cmd.Stderr = s.stderr
	}
	term.cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	go term.read()
	go func() { _, _ = io.Copy(term.master, term.emulator) }()
	require.NoError(t, term.cmd.Start())
	go func() { _ = term.cmd.Wait(); close(term.ended) }() // how it ended is read from its state
	return term
}

func sizeOf(w, h int) *pty.Winsize { return &pty.Winsize{Cols: uint16(w), Rows: uint16(h)} }

// openPty gives both ends of a pty. The master is opened anew for Go's poller,
// since closing a file that is read with blocking calls does not hang up.
func openPty(t testing.TB) (master, slave *os.File) {
	t.Helper()
	opened, slave, err := pty.Open()
	require.NoError(t, err)
	fd, err := unix.FcntlInt(opened.Fd(), unix.F_DUPFD_CLOEXEC, 0)
	require.NoError(t, err)
	require.NoError(t, opened.Close())
	require.NoError(t, unix.SetNonblock(fd, true))
	return os.NewFile(uintptr(fd), "master"), slave
}

func (term *terminal) environment() []string {
	env := []string{"PATH=" + os.Getenv("PATH"), "HOME=" + term.folder, "TERM=xterm-256color", "COLORTERM=truecolor", "LC_ALL=C.UTF-8"}
	for _, name := range []string{"DATA", "CONFIG", "STATE", "CACHE"} {
		env = append(env, "XDG_"+name+"_HOME="+filepath.Join(term.folder, strings.ToLower(name)))
	}
	return env
}

// read feeds the emulator until the master is closed.
func (term *terminal) read() {
	chunk := make([]byte, 64<<10)
	for {
		n, err := term.master.Read(chunk)
		if err != nil {
			return
		}
		term.mu.Lock()
		term.raw = append(term.raw, chunk[:n]...)
		term.bursts = append(term.bursts, burst{time.Now(), n})
		_, _ = term.emulator.Write(chunk[:n])
		if !drawing(term.raw) {
			term.shown = term.emulator.String()
		}
		term.mu.Unlock()
	}
}

// drawing reports whether the program is in the middle of a drawing, which it
// tells the terminal of (synchronized output, private mode 2026) where TERM
// names one that knows it.
func drawing(raw []byte) bool {
	return bytes.LastIndex(raw, []byte("\x1b[?2026h")) > bytes.LastIndex(raw, []byte("\x1b[?2026l"))
}

// end kills what still runs and closes the terminal.
func (term *terminal) end() {
	if term.cmd != nil && term.cmd.Process != nil {
		_ = term.cmd.Process.Kill() // it may have ended
		<-term.ended
	}
	_, _ = term.master.Close(), term.slave.Close()
}

func (term *terminal) keys(text string) {
	term.t.Helper()
	_, err := term.master.WriteString(text)
	require.NoError(term.t, err)
}

// apart is what lies between two presses of one key: longer than a bounce, by more than a
// busy machine takes to bring a key.
const apart = 600 * time.Millisecond

// slowly presses keys one by one, far enough apart that none is a bounce.
func (term *terminal) slowly(text string) {
	term.t.Helper()
	for _, r := range text {
		term.keys(string(r))
		time.Sleep(apart)
	}
}

// screen is the text that is shown, never half a drawing.
func (term *terminal) screen() string {
	term.mu.Lock()
	defer term.mu.Unlock()
	return term.shown
}

// until waits for a screen that is as it should be.
func (term *terminal) until(what string, ok func(screen string) bool) {
	term.t.Helper()
	for end := time.Now().Add(patience); ; time.Sleep(5 * time.Millisecond) {
		shown := term.screen()
		if ok(shown) {
			return
		}
		require.True(term.t, time.Now().Before(end), "%s does not come:\n%s", what, shown)
	}
}

func (term *terminal) waitFor(text string) {
	term.t.Helper()
	term.until(fmt.Sprintf("%q", text), func(s string) bool { return strings.Contains(s, text) })
}

// press sends a key and waits for what it brings.
func (term *terminal) press(key, text string) {
	term.t.Helper()
	term.keys(key)
	term.waitFor(text)
}

func (term *terminal) resize(w, h int) {
	term.t.Helper()
	term.mu.Lock()
	term.emulator.Resize(w, h)
	term.mu.Unlock()
	require.NoError(term.t, pty.Setsize(term.slave, sizeOf(w, h)))
}

func (term *terminal) signal(sig os.Signal) {
	term.t.Helper()
	require.NoError(term.t, term.cmd.Process.Signal(sig))
}

// exitCode waits for the end of the program, at most five seconds.
func (term *terminal) exitCode() int {
	term.t.Helper()
	select {
	case <-term.ended:
	case <-time.After(5 * time.Second):
		require.FailNow(term.t, "the program does not end", term.screen())
	}
	return term.cmd.ProcessState.ExitCode()
}

func (term *terminal) alive() bool {
	select {
	case <-term.ended:
		return false
	default:
		return true
	}
}

// output is every byte that was sent, from a place on.
func (term *terminal) output(from int) string {
	term.mu.Lock()
	defer term.mu.Unlock()
	return string(term.raw[from:])
}

// burstsSince are the reads after a moment.
func (term *terminal) burstsSince(at time.Time) (some []burst) {
	term.mu.Lock()
	defer term.mu.Unlock()
	for _, b := range term.bursts {
		if b.at.After(at) {
			some = append(some, b)
		}
	}
	return some
}

// cooked reports whether the terminal echoes and edits lines, as a shell needs it.
func (term *terminal) cooked() bool {
	term.t.Helper()
	state, err := unix.IoctlGetTermios(int(term.slave.Fd()), unix.TCGETS)
	require.NoError(term.t, err)
	return state.Lflag&unix.ECHO != 0 && state.Lflag&unix.ICANON != 0
}

// modes are the switches of an xterm that a program may leave on, by how the
// last one must stand: the second page, the cursor, the mouse, pasting.
var modes = map[string]byte{"?1049": 'l', "?25": 'h', "?1000": 'l', "?1002": 'l', "?1006": 'l', "?2004": 'l'}

// givenBack waits until the terminal is as a shell wants it.
func (term *terminal) givenBack() {
	term.t.Helper()
	require.Contains(term.t, term.output(0), "\x1b[?1049h", "the program was never on the second page")
	term.until("the terminal given back", func(string) bool { return term.cooked() && modesBack(term.output(0)) })
}

func modesBack(raw string) bool {
	for mode, want := range modes {
		on, off := strings.LastIndex(raw, "\x1b["+mode+"h"), strings.LastIndex(raw, "\x1b["+mode+"l")
		if on >= 0 && want == 'l' && off < on || off >= 0 && want == 'h' && on < off {
			return false
		}
	}
	return true
}

// processorTime is what all threads of a process ran, by the scheduler.
func processorTime(t testing.TB, pid int) time.Duration {
	t.Helper()
	total, err := ranFor(pid)
	require.NoError(t, err)
	return total
}

func ranFor(pid int) (total time.Duration, err error) {
	threads, err := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/schedstat", pid))
	if err != nil {
		return 0, err
	}
	for _, path := range threads {
		text, err := os.ReadFile(path)
		if os.IsNotExist(err) {
			continue // a thread that ended meanwhile
		}
		if err != nil {
			return 0, err
		}
		ran, err := strconv.ParseInt(strings.Fields(string(text))[0], 10, 64)
		if err != nil {
			return 0, err
		}
		total += time.Duration(ran)
	}
	if total == 0 {
		return 0, fmt.Errorf("process %d is gone, or the scheduler does not count", pid)
	}
	return total, nil
}

// stopped reports whether a process is stopped by job control.
func stopped(pid int) bool {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return false
	}
	_, state, found := strings.Cut(string(text), ") ")
	return found && strings.HasPrefix(state, "T")
}
