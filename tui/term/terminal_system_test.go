//go:build system

package term

import (
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

const (
	enterPage = "\x1b[?1049h" // xterm's second page
	leavePage = "\x1b[?1049l"
)

// requireRestored checks that the terminal is as a shell wants it.
func (e *terminal) requireRestored() {
	e.t.Helper()
	wrote := e.wrote()
	require.Contains(e.t, wrote, enterPage, "it had another page to leave")
	require.Greater(e.t, strings.LastIndex(wrote, leavePage), strings.LastIndex(wrote, enterPage), "the second page was left last")
	for _, mode := range []string{"1000", "1002", "1006", "2004"} {
		on, off := strings.LastIndex(wrote, "\x1b[?"+mode+"h"), strings.LastIndex(wrote, "\x1b[?"+mode+"l")
		require.Greater(e.t, off, on, "mouse and paste are off again: %s", mode)
	}
	e.mu.Lock()
	require.False(e.t, e.emu.IsAltScreen())
	require.False(e.t, e.emu.CursorHidden())
	e.mu.Unlock()
	require.NotZero(e.t, e.termios().Lflag&unix.ECHO, "keys are echoed")
	require.NotZero(e.t, e.termios().Lflag&unix.ICANON, "keys are kept until Enter")
	require.Equal(e.t, e.before, e.termios(), "nothing else of the terminal changed either")
}

// Whatever ends the program, the shell gets its terminal back.
func TestSystemGivesBack(t *testing.T) {
	send := func(keys string) func(*terminal) { return func(e *terminal) { e.send(keys) } }
	kill := func(signals ...syscall.Signal) func(*terminal) {
		return func(e *terminal) {
			for _, sig := range signals {
				e.signal(sig)
			}
		}
	}
	cases := []struct {
		name   string
		do     func(e *terminal)
		codes  []int
		reason string
	}{
		{"the quit key", send("q"), []int{0}, "the plain way"},
		{"Ctrl-C", send("\x03"), []int{0}, "tview stops by itself"},
		{"a panic in the loop", send("p"), []int{codePanic}, "tview ends the screen and lets the panic go on"},
		{"a panic in a goroutine", send("g"), []int{codePanic}, "Go would end the program as it is"},
		{"panics in both", send("gp"), []int{codePanic}, "one is told"},
		{"SIGTERM", kill(unix.SIGTERM), []int{143}, "128 and 15"},
		{"SIGHUP", kill(unix.SIGHUP), []int{129}, "128 and 1"},
		{"SIGINT", kill(unix.SIGINT), []int{130}, "128 and 2"},
		{"SIGPIPE", kill(unix.SIGPIPE), []int{141}, "128 and 13"},
		{"SIGTERM twice", kill(unix.SIGTERM, unix.SIGTERM), []int{143}, "the second meets a program on its way out"},
		{"SIGTERM and SIGINT", kill(unix.SIGTERM, unix.SIGINT), []int{143, 130}, "the system does not keep their order"},
		{"many signals", kill(unix.SIGHUP, unix.SIGTERM, unix.SIGHUP, unix.SIGTERM, unix.SIGHUP), []int{129, 143}, "nor which come through"},
		{"SIGTERM and a panic", func(e *terminal) { e.send("g"); e.signal(unix.SIGTERM) }, []int{codePanic, 143}, "whichever is first"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			e := startPad(t, plain)
			require.True(t, e.raw(), "keys come one by one")
			c.do(e)
			require.Contains(t, c.codes, e.awaitExit(), c.reason)
			e.requireRestored()
			// tview's own: as a panic leaves Run, it reads the screen without a lock.
			if !slices.Contains(c.codes, codePanic) {
				require.NotContains(t, e.wrote(), "DATA RACE")
			}
		})
	}
}

// A panic is told where it can be read: on the shell's page.
func TestSystemTellsThePanicLast(t *testing.T) {
	for key, text := range map[string]string{"p": "panic: the loop cracked", "g": "panic: the goroutine cracked"} {
		e := startPad(t, plain)
		e.send(key)
		require.Equal(t, codePanic, e.awaitExit())
		wrote := e.wrote()
		require.Equal(t, 1, strings.Count(wrote, text))
		require.Greater(t, strings.Index(wrote, text), strings.LastIndex(wrote, leavePage))
		require.Contains(t, wrote, "term.(*pad).press", "the stack names the function")
		require.NotContains(t, stairs(wrote), "\n", "every line begins at the left edge")
		e.requireRestored()
	}
}

// stairs is the text after the second page was left, without its proper ends of lines.
func stairs(wrote string) string {
	return strings.ReplaceAll(wrote[strings.LastIndex(wrote, leavePage):], "\r\n", "")
}

// Somebody pastes 5,000 characters while the program ends.
func TestSystemEndsUnderAFlood(t *testing.T) {
	flood := strings.Repeat("anneal ", 715)[:5000]
	few, rest := flood[:500], flood[500:]
	cases := []struct {
		name, keys string
		sig        syscall.Signal
		code       int
		reason     string
	}{
		{"the quit key in the middle", few + "q" + rest, 0, 0, "what comes after it is not waited for"},
		{"SIGTERM", flood, unix.SIGTERM, 143, "the loop is busy"},
		{"SIGTERM in a bracketed paste", "\x1b[200~" + flood + "\x1b[201~", unix.SIGTERM, 143, "tview collects what is pasted"},
		{"a paste without an end", "\x1b[200~" + flood, unix.SIGTERM, 143, "the end may never come"},
		{"a panic in the middle", few + "p" + rest, 0, codePanic, "nobody reads any more"},
		{"a panic beside it", "g" + flood, 0, codePanic, "the loop is busy"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			e := startPad(t, plain)
			go func() { _, _ = e.master.WriteString(c.keys) }()
			if c.sig != 0 {
				time.Sleep(5 * time.Millisecond) // so that it comes into the middle of the flood
				e.signal(c.sig)
			}
			require.Equal(t, c.code, e.awaitExit(), c.reason)
			e.requireRestored()
		})
	}
}

// The window is closed: there is no terminal to give back, and the program ends.
func TestSystemEndsWithItsTerminal(t *testing.T) {
	cases := []struct {
		name, how, keys string
		codes           []int
		reason          string
	}{
		{"idle", plain, "", []int{129, codeError}, "SIGHUP or the failed reading is first"},
		{"without SIGHUP", deaf, "", []int{codeError}, "the failed reading is enough"},
		{"in a flood", plain, strings.Repeat("anneal ", 500), []int{129, codeError}, "the loop is busy"},
		{"in a flood without SIGHUP", deaf, strings.Repeat("anneal ", 500), []int{codeError}, "the same"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			e := startPad(t, c.how)
			e.send(c.keys)
			require.NoError(t, e.slave.Close())
			require.NoError(t, e.master.Close())
			select {
			case <-e.exited:
			case <-time.After(soon):
				require.FailNow(t, "the program outlived its terminal")
			}
			require.Contains(t, c.codes, e.code(), c.reason)
		})
	}
}
