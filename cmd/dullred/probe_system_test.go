//go:build system

package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"

	"dullred/cmd/internal/built"
)

// thermometer is a serial port that a test speaks by: a pty behind a name that
// stays when another is plugged in.
type thermometer struct {
	t      *testing.T
	name   string
	master *os.File
}

// plugIn puts a new pty behind the name; the other end of it is to be closed.
func (th *thermometer) plugIn() (slave *os.File) {
	th.t.Helper()
	th.master, slave = openPty(th.t)
	next := th.name + ".next"
	require.NoError(th.t, os.Symlink(slave.Name(), next))
	require.NoError(th.t, os.Rename(next, th.name))
	return slave
}

// opened waits until somebody reads the port as a serial port at a speed, which the
// opening sets last, and lets go of it.
func (th *thermometer) opened(slave *os.File, speed uint32) {
	th.t.Helper()
	for end := time.Now().Add(patience); ; time.Sleep(5 * time.Millisecond) {
		state, err := unix.IoctlGetTermios(int(slave.Fd()), unix.TCGETS)
		require.NoError(th.t, err)
		if state.Lflag&unix.ICANON == 0 && state.Cflag&unix.CBAUD == speed {
			time.Sleep(50 * time.Millisecond) // the rest of the opening
			require.NoError(th.t, slave.Close())
			return
		}
		require.True(th.t, time.Now().Before(end), "nobody opens the port at speed %d: %d", speed, state.Cflag&unix.CBAUD)
	}
}

func (th *thermometer) says(text string) {
	th.t.Helper()
	_, err := th.master.WriteString(text)
	require.NoError(th.t, err)
}

func (th *thermometer) pullOut() { require.NoError(th.t, th.master.Close()) }

// toldOf is one line of dullred probe --json.
type toldOf struct {
	At    time.Time
	Temp  *float64 `json:"temp_c"`
	Event string
	Text  string
}

func (o toldOf) word() string {
	if o.Temp != nil {
		return fmt.Sprint(*o.Temp)
	}
	return o.Event
}

// probing is dullred probe as it runs.
type probing struct {
	t     *testing.T
	cmd   *exec.Cmd
	told  chan toldOf
	ended chan int
}

func probeOf(t *testing.T, path, device string) *probing {
	t.Helper()
	p := &probing{t: t, cmd: exec.Command(path, "probe", device, "--json"), told: make(chan toldOf, 1000), ended: make(chan int, 1)}
	out, err := p.cmd.StdoutPipe()
	require.NoError(t, err)
	p.cmd.Stderr = os.Stderr
	require.NoError(t, p.cmd.Start())
	t.Cleanup(func() { _ = p.cmd.Process.Kill() }) // it may have ended
	go func() {
		for s := bufio.NewScanner(out); s.Scan(); {
			var o toldOf
			if err := json.Unmarshal(s.Bytes(), &o); err != nil || strings.ContainsAny(o.Text, "\x1b\x00\x07") {
				o.Event = "bad line " + s.Text()
			}
			p.told <- o
		}
		_ = p.cmd.Wait() // how it ended is read from its state
		p.ended <- p.cmd.ProcessState.ExitCode()
	}()
	return p
}

// next is the next thing told.
func (p *probing) next() string {
	p.t.Helper()
	select {
	case o := <-p.told:
		require.False(p.t, o.At.IsZero())
		return o.word()
	case <-time.After(patience):
		require.FailNow(p.t, "nothing is told")
	}
	return ""
}

func (p *probing) tells(words ...string) {
	p.t.Helper()
	for i, w := range words {
		require.Equal(p.t, w, p.next(), "%d of %d", i+1, len(words))
	}
}

func (p *probing) ends(sig syscall.Signal) {
	p.t.Helper()
	require.NoError(p.t, p.cmd.Process.Signal(sig))
	select {
	case code := <-p.ended:
		require.Equal(p.t, 128+int(sig), code)
	case <-time.After(patience):
		require.FailNow(p.t, "it does not end")
	}
	require.Empty(p.t, p.told, "more was told")
}

// heatCurve is 20 to 650 °C and what a device would send of it.
func heatCurve(format string) (sent string, temps []string) {
	for i := range 253 {
		sent += fmt.Sprintf(format, 20+2.5*float64(i))
		temps = append(temps, fmt.Sprint(20+2.5*float64(i)))
	}
	return sent, temps
}

// A lead is pulled out in the middle of a heat and plugged in again: nothing that
// was sent before is lost, noise is not taken for heat, and the rest comes.
func TestSystemProbeIsUnplugged(t *testing.T) {
	th := &thermometer{t: t, name: filepath.Join(t.TempDir(), "port")}
	slave := th.plugIn()
	p := probeOf(t, built.Program(t, "dullred/cmd/dullred"), th.name+"@115200")
	th.opened(slave, unix.B115200)
	sent, temps := heatCurve("T=%.1f C\r\n")
	th.says("50.5\r\n" + sent) // the end of 650.5
	p.tells(temps...)
	th.says("\x1b[31mnoise\x07\n\x00\xff\xfe\n6")
	p.tells("noise")
	th.pullOut()
	for word := p.next(); word != "lost"; word = p.next() {
		require.Equal(t, "noise", word, "at most what was counted since")
	}
	slave = th.plugIn()
	th.opened(slave, unix.B115200)
	th.says("\n" + sent)
	p.tells("back")
	p.tells(temps...)
	p.ends(syscall.SIGINT)
	th.pullOut()
}

// A thousand lines of noise each second are a few lines told.
func TestSystemProbeIsFlooded(t *testing.T) {
	th := &thermometer{t: t, name: filepath.Join(t.TempDir(), "port")}
	slave := th.plugIn()
	p := probeOf(t, built.Program(t, "dullred/cmd/dullred"), th.name)
	th.opened(slave, unix.B9600) // the usual speed
	th.says("\n650\n")
	p.tells("650")
	for i := range 30 {
		th.says(strings.Repeat("\x1b[2Jnoise of a wrong speed\xff\n", 100))
		if i == 0 {
			p.tells("noise")
		}
		th.says("651\n")
		p.tells("651")
	}
	p.ends(syscall.SIGTERM)
	th.pullOut()
}

// A named pipe has many writers, one after the other, and does not end with one.
func TestSystemProbeOfANamedPipe(t *testing.T) {
	name := filepath.Join(t.TempDir(), "pipe")
	require.NoError(t, unix.Mkfifo(name, 0o600))
	p := probeOf(t, built.Program(t, "dullred/cmd/dullred"), name)
	for range 3 {
		require.NoError(t, os.WriteFile(name, []byte("650\n651\n"), 0o600))
		p.tells("650", "651")
	}
	p.ends(syscall.SIGHUP)
}

// The terminal in which somebody types is no probe: it would be left without echo.
func TestSystemProbeLeavesTheTerminalAlone(t *testing.T) {
	path := built.Program(t, "dullred/cmd/dullred")
	for _, name := range []string{"/dev/tty", "/dev/stdin"} {
		term := start(t, session{command: []string{path, "probe", name}})
		require.Equal(t, exitRefused, term.exitCode())
		term.waitFor("is the terminal of this program")
		require.True(t, term.cooked())
	}
}
