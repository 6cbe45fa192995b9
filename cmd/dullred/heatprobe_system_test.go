//go:build system

package main

import (
	"bufio"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"

	"dullred/alloys/unit"
	"dullred/cmd/internal/built"
	"dullred/schedule/probe"
)

// plays sends a curve in steps of 20 K, some twenty times faster than a torch: a
// reading in every tick that a curve keeps.
func (th *thermometer) plays(from, to int) {
	th.t.Helper()
	step := 20
	if to < from {
		step = -20
	}
	for temp := from; (to-temp)*step >= 0; temp += step {
		th.says(strconv.Itoa(temp) + "\r\n")
		time.Sleep(probe.Tick)
	}
}

// ported is a serial port with nobody at it yet.
func ported(t *testing.T) (th *thermometer, slave *os.File) {
	t.Helper()
	th = &thermometer{t: t, name: filepath.Join(t.TempDir(), "port")}
	return th, th.plugIn()
}

// heatOnScreen is a screen with the spoon in the flame, and the thermocouple in it.
func (p program) heatOnScreen(t *testing.T) (*thermometer, *terminal) {
	t.Helper()
	p.spoon(t, "8x8")
	th, slave := ported(t)
	term := start(t, session{width: 120, height: 40, command: []string{p.path, "--record", p.record, "--probe", th.name}})
	th.opened(slave, unix.B9600)
	term.waitFor(carryOnAtNothing)
	term.press("h", "HEATING - ")
	th.says("\n")
	return th, term
}

// A heat by the screen with a thermocouple in it: the temperature is on the page, the
// heat is reached by itself, a lead that is pulled out is told and does no harm, and
// whoever quits finds the terminal and the record whole.
func TestSystemProbeOnTheScreen(t *testing.T) {
	t.Parallel()
	p := newProgram(t)
	th, term := p.heatOnScreen(t)
	th.plays(20, 580)
	term.waitFor("°C by the probe")
	require.Equal(t, []string{"piece started", "heat begun"}, p.acts(t, "spoon"), "not in the window yet")
	th.plays(600, 620)
	term.waitFor("SOAK - ")
	term.waitFor("620 °C")
	require.Equal(t, "heat reached: 600 °C", p.last(t, "spoon").Text)

	th.pullOut()
	term.waitFor("probe: unplugged")
	require.Contains(t, p.last(t, "spoon").Text, "probe trace: at most 620 °C", "what was read is kept at once")
	th.opened(th.plugIn(), unix.B9600)
	th.says("\n630\n")
	term.until("a probe that reads again", func(s string) bool {
		return strings.Contains(s, "630 °C") && !strings.Contains(s, "probe: unplugged")
	})
	term.press("o", "HOT - NOT GLOWING")
	th.plays(620, 380)
	term.until("the curve kept", func(string) bool { return strings.HasPrefix(p.last(t, "spoon").Text, "probe trace: at most 630 °C") })

	time.Sleep(apart)
	term.press("x", "spoon is HOT. Again: quit")
	time.Sleep(apart)
	term.keys("x")
	require.Zero(t, term.exitCode())
	term.givenBack()
	require.Contains(t, p.must(t, "record", "check"), "sound")
	require.Equal(t, []string{"piece started", "heat begun", "heat reached", "heat out", "probe trace"}, p.standing(t, "spoon"))
	th.pullOut()
}

// last is the newest entry of a piece that stands.
func (p program) last(t *testing.T, piece string) logged {
	t.Helper()
	entries := slices.DeleteFunc(p.log(t, piece), func(e logged) bool { return e.Void || e.Kind == "void" })
	return entries[len(entries)-1]
}

// standing are the acts on a piece that nobody took back.
func (p program) standing(t *testing.T, piece string) (kinds []string) {
	t.Helper()
	for _, e := range p.log(t, piece) {
		if !e.Void && !slices.Contains([]string{"void", "alert raised", "advice shown"}, e.Kind) {
			kinds = append(kinds, e.Kind)
		}
	}
	return kinds
}

// heatOf is dullred heat begin as a thermocouple drives it.
type heatOf struct {
	t     *testing.T
	cmd   *exec.Cmd
	lines chan heatLine
	ended chan struct{}
}

// heatBy begins a heat of the spoon; it waits for what the thermocouple says.
func (p program) heatBy(t *testing.T) (*thermometer, *heatOf) {
	t.Helper()
	p.spoon(t, "8x8")
	th, slave := ported(t)
	h := &heatOf{t: t, cmd: p.command("heat", "begin", "spoon", "--json", "--probe", th.name), lines: make(chan heatLine, 100), ended: make(chan struct{})}
	out, err := h.cmd.StdoutPipe()
	require.NoError(t, err)
	h.cmd.Stderr = os.Stderr
	require.NoError(t, h.cmd.Start())
	t.Cleanup(func() { _ = h.cmd.Process.Kill() }) // it may have ended
	go func() {
		for s := bufio.NewScanner(out); s.Scan(); {
			l := heatLine{Kind: "bad line " + s.Text()}
			_ = json.Unmarshal(s.Bytes(), &l) // one that cannot be read is told as it is
			h.lines <- l
		}
		_ = h.cmd.Wait() // how it ended is read from its state
		close(h.ended)
	}()
	th.opened(slave, unix.B9600)
	th.says("\n")
	return th, h
}

// tells waits for the next line, which is of a kind.
func (h *heatOf) tells(kind string) (temp unit.Celsius) {
	h.t.Helper()
	select {
	case l := <-h.lines:
		require.Equal(h.t, kind, l.Kind)
		require.False(h.t, l.At.IsZero())
		if l.Temp == nil {
			return 0
		}
		return unit.Celsius(*l.Temp)
	case <-time.After(patience):
		require.FailNow(h.t, "nothing is told", "expected %s", kind)
	}
	return 0
}

// code waits for the end, after which nothing more is told.
func (h *heatOf) code() int {
	h.t.Helper()
	select {
	case <-h.ended:
	case <-time.After(patience):
		require.FailNow(h.t, "it does not end")
	}
	require.Empty(h.t, h.lines, "more was told")
	return h.cmd.ProcessState.ExitCode()
}

// The lead is pulled out of a heat that no screen shows, and plugged in again: the
// heat goes on where it was, and its one curve has both parts.
func TestSystemHeatByAProbe(t *testing.T) {
	p := newProgram(t)
	th, h := p.heatBy(t)
	h.tells("heat begun")
	th.plays(20, 400)
	th.pullOut()
	h.tells("lost")
	th.opened(th.plugIn(), unix.B9600)
	th.says("\n")
	th.plays(420, 620)
	h.tells("back")
	require.Equal(t, unit.Celsius(600), h.tells("heat reached"))
	th.plays(640, 740)
	require.Equal(t, unit.Celsius(740), h.tells("too hot"))
	th.plays(740, 680)
	require.Equal(t, unit.Celsius(680), h.tells("heat out"))
	require.Equal(t, unit.Celsius(740), h.tells("probe trace"))
	require.Zero(t, h.code())
	th.pullOut()
	require.Equal(t, []string{"piece started", "heat begun", "heat reached", "heat out", "probe trace"}, p.acts(t, "spoon"))
}

// A signal is the end of the heat: what was reached is out, and the curve is kept.
func TestSystemHeatByAProbeIsEnded(t *testing.T) {
	path := built.Program(t, "dullred/cmd/dullred")
	cases := []struct {
		name, reason string
		signal       syscall.Signal
		to           int
		acts         []string
	}{
		{"Ctrl-C at heat", "the smith has seen enough", syscall.SIGINT, 620, []string{"heat begun", "heat reached", "heat out", "probe trace"}},
		{"SIGTERM at heat", "the machine is shut down", syscall.SIGTERM, 620, []string{"heat begun", "heat reached", "heat out", "probe trace"}},
		{"Ctrl-C on the way", "what was not reached is not out", syscall.SIGINT, 400, []string{"heat begun", "probe trace"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			require.NotEmpty(t, c.reason)
			p := program{path: path, record: filepath.Join(t.TempDir(), "record.db")}
			th, h := p.heatBy(t)
			h.tells("heat begun")
			th.plays(20, c.to)
			if c.to > 600 {
				h.tells("heat reached")
			}
			time.Sleep(100 * time.Millisecond) // the last reading is taken
			require.NoError(t, h.cmd.Process.Signal(c.signal))
			for _, kind := range c.acts[min(2, len(c.acts)-1):] {
				h.tells(kind)
			}
			if c.to < 600 {
				h.tells("not reached")
			}
			require.Equal(t, 128+int(c.signal), h.code())
			require.Equal(t, c.acts, p.acts(t, "spoon")[1:])
		})
	}
}

// Killed in the middle of a heat, whatever was told is in the record, which is whole;
// the smith goes on by hand.
func TestSystemHeatByAProbeIsKilled(t *testing.T) {
	path := built.Program(t, "dullred/cmd/dullred")
	cases := []struct {
		name, reason string
		to           int
		acts         []string
	}{
		{"on the way", "begun is told and stands", 400, []string{"heat begun"}},
		{"at heat", "reached is told and stands", 620, []string{"heat begun", "heat reached"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			require.NotEmpty(t, c.reason)
			p := program{path: path, record: filepath.Join(t.TempDir(), "record.db")}
			th, h := p.heatBy(t)
			th.plays(20, c.to)
			for _, kind := range c.acts {
				h.tells(kind)
			}
			require.NoError(t, h.cmd.Process.Kill())
			require.Equal(t, -1, h.code(), "by a signal")
			require.Contains(t, p.must(t, "record", "check"), "sound")
			require.Equal(t, c.acts, p.acts(t, "spoon")[1:])
			p.must(t, "heat", "out", "spoon")
			require.Equal(t, "heat out", p.last(t, "spoon").Kind)
		})
	}
}

// What another program logs of the heat counts: it is reached once, and out once.
func TestSystemHeatByAProbeBesideTheHand(t *testing.T) {
	p := newProgram(t)
	th, h := p.heatBy(t)
	h.tells("heat begun")
	th.plays(20, 580)
	p.must(t, "heat", "reach", "spoon")
	th.plays(600, 620)
	p.must(t, "heat", "out", "spoon")
	th.plays(600, 540)
	h.tells("probe trace")
	require.Zero(t, h.code())
	require.Equal(t, []string{"piece started", "heat begun", "heat reached", "heat out", "probe trace"}, p.acts(t, "spoon"))
}

// Readings by standard input leave the keys to the terminal, also after the readings
// have ended.
func TestSystemProbeBesideTheKeys(t *testing.T) {
	t.Parallel()
	p := newProgram(t)
	p.spoon(t, "8x8")
	term := start(t, session{width: 120, height: 40, command: []string{"sh", "-c",
		`(sleep 2; for t in 20 200 400 580 600 620; do echo $t; sleep 0.3; done; sleep 2) | "$0" --record "$1" --probe -; echo code-$?`, p.path, p.record}})
	term.waitFor(carryOnAtNothing)
	term.press("h", "HEATING - ")
	term.waitFor("SOAK - ")
	term.waitFor("its readings have ended")
	term.press("o", "HOT - NOT GLOWING")
	term.press("q", "PROVE")
	time.Sleep(apart)
	term.press("x", "code-0")
	term.givenBack()
	require.Equal(t, []string{"piece started", "heat begun", "heat reached", "probe trace", "heat out", "quenched"}, p.standing(t, "spoon"))
}

// Without a terminal for the keys, or with one for the readings, one sentence says so
// and nothing hangs.
func TestSystemProbeWithoutKeys(t *testing.T) {
	p := newProgram(t)
	p.spoon(t, "8x8")
	cases := []struct{ name, shell, said, reason string }{
		{"no terminal", `echo 20 | setsid -w "$0" --record "$1" --probe -`, "there is no terminal for the keys", "a job of its own"},
		{"the same terminal", `"$0" --record "$1" --probe -`, "standard input is the terminal", "a key is no reading"},
		{"output elsewhere", `echo 20 | "$0" --record "$1" --probe - | cat; exit 1`, "standard output is not a terminal", "nobody would see the page"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			term := start(t, session{command: []string{"sh", "-c", c.shell, p.path, p.record}})
			require.NotZero(t, term.exitCode())
			term.waitFor(c.said)
			require.True(t, term.cooked())
			require.NotContains(t, term.output(0), "\x1b[?1049h", "the screen was never taken")
		})
	}
}

// Who quits in the middle of a heat keeps its curve.
func TestSystemQuitKeepsTheCurve(t *testing.T) {
	t.Parallel()
	p := newProgram(t)
	th, term := p.heatOnScreen(t)
	th.plays(20, 620)
	term.waitFor("SOAK - ")
	term.signal(syscall.SIGTERM)
	require.Equal(t, 128+int(syscall.SIGTERM), term.exitCode())
	term.givenBack()
	require.Equal(t, []string{"piece started", "heat begun", "heat reached", "probe trace"}, p.acts(t, "spoon"))
	th.pullOut()
}
