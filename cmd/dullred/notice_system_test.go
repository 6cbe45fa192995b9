//go:build system

package main

import (
	"bufio"
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/godbus/dbus/v5"
	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/built"
)

// noticeBus lets everybody on the bus do everything, and starts no service.
const noticeBus = `<busconfig><type>session</type><listen>unix:tmpdir=/tmp</listen>
<policy context="default"><allow send_destination="*" eavesdrop="true"/>
<allow eavesdrop="true"/><allow own="*"/></policy></busconfig>`

const (
	noticeName = "org.freedesktop.Notifications"
	saverName  = "org.freedesktop.ScreenSaver"
	noNotice   = "no desktop notice can be shown"
)

// noticed is a notice that the program gave to the desktop.
type noticed struct{ app, title, body string }

// witness is a desktop that writes down what it is asked, by the Desktop
// Notifications Specification and the Idle Inhibition Service Draft of
// freedesktop.org. It answers a notice after delay, or never if it is mute.
type witness struct {
	delay time.Duration
	mute  bool

	mutex    sync.Mutex
	notices  []noticed
	answered int           // notices
	kept     []dbus.Sender // who asked to stay awake
	freed    []uint32      // which of them took it back, from 1 on
}

// Notify writes a notice down.
func (w *witness) Notify(app string, _ uint32, _, title, body string, _ []string, _ map[string]dbus.Variant, _ int32) (uint32, *dbus.Error) {
	w.mutex.Lock()
	w.notices = append(w.notices, noticed{app, title, body})
	w.mutex.Unlock()
	if w.mute {
		select {}
	}
	time.Sleep(w.delay)
	w.mutex.Lock()
	defer w.mutex.Unlock()
	w.answered++
	return uint32(w.answered), nil
}

// Inhibit writes down who wants to stay awake.
func (w *witness) Inhibit(sender dbus.Sender, _, _ string) (uint32, *dbus.Error) {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	w.kept = append(w.kept, sender)
	return uint32(len(w.kept)), nil
}

// UnInhibit writes down which wish was taken back.
func (w *witness) UnInhibit(cookie uint32) *dbus.Error {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	w.freed = append(w.freed, cookie)
	return nil
}

// acts are the notices that call for an act.
func (w *witness) acts() (some []noticed) {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	for _, n := range w.notices {
		if strings.HasPrefix(n.title, "dullred: ACT") {
			some = append(some, n)
		}
	}
	return some
}

func (w *witness) wishes() (kept []dbus.Sender, freed []uint32) {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	return append(kept, w.kept...), append(freed, w.freed...)
}

// ownBus is a message bus of a test's own.
type ownBus struct {
	address string
	cmd     *exec.Cmd
}

func startOwnBus(t *testing.T) *ownBus {
	t.Helper()
	rules := filepath.Join(t.TempDir(), "bus.conf")
	require.NoError(t, os.WriteFile(rules, []byte(noticeBus), 0o600))
	d := &ownBus{cmd: exec.Command("dbus-daemon", "--config-file="+rules, "--nofork", "--print-address=1")}
	out, err := d.cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, d.cmd.Start())
	t.Cleanup(func() {
		_ = d.cmd.Process.Kill()
		_ = d.cmd.Wait() // says that it was killed
	})
	line, err := bufio.NewReader(out).ReadString('\n')
	require.NoError(t, err)
	d.address = strings.TrimSpace(line)
	return d
}

// serve puts the witness on the bus as the whole desktop.
func (d *ownBus) serve(t *testing.T, w *witness) {
	t.Helper()
	conn, err := dbus.Connect(d.address)
	require.NoError(t, err)
	t.Cleanup(func() { _ = conn.Close() }) // the bus may be gone
	for name, path := range map[string]dbus.ObjectPath{noticeName: "/org/freedesktop/Notifications", saverName: "/org/freedesktop/ScreenSaver"} {
		require.NoError(t, conn.Export(w, path, name))
		reply, err := conn.RequestName(name, dbus.NameFlagDoNotQueue)
		require.NoError(t, err)
		require.Equal(t, dbus.RequestNameReplyPrimaryOwner, reply)
	}
}

func (d *ownBus) env() string { return "DBUS_SESSION_BUS_ADDRESS=" + d.address }

// Notices of the desktop and the wish to stay awake, with the real program in a
// terminal and a desktop that is there, slow, silent or missing.
func TestSystemNotices(t *testing.T) {
	path := built.Program(t, "dullred/cmd/dullred")
	cases := []struct {
		name, reason string
		run          func(*testing.T, program)
	}{
		{"told once", "one alert is one notice, and another after a restart", toldOnce},
		{"awake while hot", "who watches hot metal does not touch the keys", awakeWhileHot},
		{"awake until the end", "a program that ends takes its wish with it", awakeUntilTheEnd},
		{"awake until killed", "one that is killed cannot take it back", awakeUntilKilled},
		{"awake on a bus that stops", "a desktop that hangs must not hold up the quench", awakeOnAStoppedBus},
		{"no bus", "a console has none", func(t *testing.T, p program) { troubled(t, p, trouble{atOnce: true}) }},
		{"dead socket", "the session has ended behind a tmux", func(t *testing.T, p program) {
			troubled(t, p, trouble{address: "unix:path=" + filepath.Join(t.TempDir(), "none"), atOnce: true})
		}},
		{"slow desktop", "two seconds are within its patience", func(t *testing.T, p program) {
			troubled(t, p, trouble{desktop: &witness{delay: 2 * time.Second}, well: true})
		}},
		{"silent desktop", "it never answers", func(t *testing.T, p program) { troubled(t, p, trouble{desktop: &witness{mute: true}}) }},
		{"stopped bus", "not even to a new connection", func(t *testing.T, p program) { troubled(t, p, trouble{stopped: true}) }},
	}
	var all sync.WaitGroup
	for _, c := range cases {
		all.Go(func() { // most of the time of each is waiting
			t.Run(c.name, func(t *testing.T) {
				require.NotEmpty(t, c.reason)
				c.run(t, program{path: path, record: filepath.Join(t.TempDir(), "record.db")})
			})
		})
	}
	all.Wait()
}

// ends quits a bench on which nothing is hot.
func ends(term *terminal) {
	term.t.Helper()
	term.keys("x")
	require.Zero(term.t, term.exitCode())
	term.givenBack()
}

func toldOnce(t *testing.T, p program) {
	bus, w := startOwnBus(t), &witness{}
	bus.serve(t, w)
	p.spoon(t, "8x8")
	p.must(t, "pass", "spoon", "7.2x7.2")
	term := p.screen(t, bus.env())
	term.waitFor("of the limit spent")
	require.Empty(t, w.acts())
	for courses := 0; !strings.Contains(term.screen(), "ACT: ANNEAL NOW"); courses++ {
		require.Less(t, courses, 10, "the limit is never spent")
		term.slowly(" ")
	}
	require.Eventually(t, func() bool { return len(w.acts()) == 1 }, patience, time.Millisecond)
	told := w.acts()[0]
	require.Equal(t, "dullred", told.app)
	require.Equal(t, "dullred: ACT", told.title)
	require.Contains(t, told.body, "ANNEAL NOW")
	require.Contains(t, told.body, "spoon")
	ends(term)

	again := p.screen(t, bus.env())
	again.waitFor("ACT: ANNEAL NOW")
	require.Eventually(t, func() bool { return len(w.acts()) == 2 }, patience, time.Millisecond, "a restart tells it again")
	again.press("a", "seen: ANNEAL NOW")
	again.slowly("  ")
	time.Sleep(time.Second)
	require.Len(t, w.acts(), 2, "what was seen is not told")
	ends(again)
}

// untilAwake begins a heat and waits for the wish to stay awake.
func untilAwake(t *testing.T, p program, bus *ownBus, w *witness) *terminal {
	t.Helper()
	p.spoon(t, "8x8")
	term := p.screen(t, bus.env())
	term.waitFor(carryOnAtNothing)
	time.Sleep(apart)
	kept, _ := w.wishes()
	require.Empty(t, kept, "nothing is timing")
	pressed := time.Now()
	term.press("h", "HEATING - ")
	require.Eventually(t, func() bool { kept, _ = w.wishes(); return len(kept) == 1 }, patience, time.Millisecond)
	t.Logf("asked to stay awake %v after the key", time.Since(pressed).Round(time.Millisecond))
	return term
}

// onBus reports whether a connection is still there.
func (d *ownBus) onBus(t *testing.T, sender dbus.Sender) (there bool) {
	t.Helper()
	conn, err := dbus.Connect(d.address)
	require.NoError(t, err)
	defer func() { require.NoError(t, conn.Close()) }()
	require.NoError(t, conn.BusObject().Call("org.freedesktop.DBus.NameHasOwner", 0, string(sender)).Store(&there))
	return there
}

func awakeWhileHot(t *testing.T, p program) {
	bus, w := startOwnBus(t), &witness{}
	bus.serve(t, w)
	term := untilAwake(t, p, bus, w)
	term.press("c", "SOAK - ")
	term.press("o", "HOT - NOT GLOWING")
	_, freed := w.wishes()
	require.Empty(t, freed, "it is hot")
	term.press("q", "PROVE")
	require.Eventually(t, func() bool { _, freed = w.wishes(); return len(freed) == 1 }, patience, time.Millisecond)
	require.Equal(t, []uint32{1}, freed, "the wish that was made")
	ends(term)
	kept, freed := w.wishes()
	require.Len(t, kept, 1)
	require.Len(t, freed, 1)
}

func awakeUntilTheEnd(t *testing.T, p program) {
	bus, w := startOwnBus(t), &witness{}
	bus.serve(t, w)
	term := untilAwake(t, p, bus, w)
	term.press("x", "Again: quit")
	time.Sleep(apart)
	ends(term)
	_, freed := w.wishes()
	require.Equal(t, []uint32{1}, freed)
}

func awakeUntilKilled(t *testing.T, p program) {
	bus, w := startOwnBus(t), &witness{}
	bus.serve(t, w)
	term := untilAwake(t, p, bus, w)
	kept, _ := w.wishes()
	require.True(t, bus.onBus(t, kept[0]), "the wish lives as long as its connection")
	term.signal(syscall.SIGKILL)
	require.Eventually(t, func() bool { return !bus.onBus(t, kept[0]) }, patience, 5*time.Millisecond)
}

func awakeOnAStoppedBus(t *testing.T, p program) {
	bus, w := startOwnBus(t), &witness{}
	bus.serve(t, w)
	term := untilAwake(t, p, bus, w)
	term.press("c", "SOAK - ")
	term.press("o", "HOT - NOT GLOWING")
	require.NoError(t, bus.cmd.Process.Signal(syscall.SIGSTOP))
	slowest := term.answers([]keyAnswer{{"q", "PROVE"}, {"?", "under the hammer"}})
	t.Logf("the slowest answer took %v", slowest.Round(time.Millisecond))
	ends(term)
}

// answersWithin is how soon a key must show: sooner than a smith looks again.
const answersWithin = 250 * time.Millisecond

// keyAnswer is a key with what it brings to the screen; empty is another figure in
// block letters.
type keyAnswer struct{ key, text string }

// shows reports whether the answer is on the screen that came after another.
func (k keyAnswer) shows(before, now string) bool {
	if k.text == "" {
		return blocks(before) != blocks(now)
	}
	return strings.Contains(now, k.text)
}

// blocks are the lines with block letters. No bar that flashes is among them.
func blocks(screen string) (lines string) {
	for line := range strings.Lines(screen) {
		if strings.Contains(line, "█") {
			lines += line
		}
	}
	return lines
}

// answers presses keys and gives how long the slowest answer took.
func (term *terminal) answers(keys []keyAnswer) (slowest time.Duration) {
	term.t.Helper()
	for _, k := range keys {
		before, from := term.screen(), time.Now()
		require.False(term.t, k.shows(before, before), "%q before the key %q:\n%s", k.text, k.key, before)
		term.keys(k.key)
		for !k.shows(before, term.screen()) && time.Since(from) < patience {
			time.Sleep(time.Millisecond)
		}
		took := time.Since(from)
		slowest = max(slowest, took)
		require.Less(term.t, took, answersWithin, "the answer to %q:\n%s", k.key, term.screen())
	}
	return slowest
}

// trouble is a desktop that does not do as it should.
type trouble struct {
	address string   // of a bus; empty for none, or for that of the desktop
	desktop *witness // on a bus of its own
	stopped bool     // a bus that does not run
	atOnce  bool     // it is known with the first notice
	well    bool     // nothing is to be said of it
}

// env is the session that the program finds. Whoever wants a bus to be started
// comes upon a stand-in that writes it down.
func (x trouble) env(t *testing.T, trace string) []string {
	t.Helper()
	folder := t.TempDir()
	script := "#!/bin/sh\necho run >>'" + trace + "'\nexit 1\n"
	for _, name := range []string{"dbus-launch", "dbus-daemon", "dbus-run-session"} {
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), []byte(script), 0o700))
	}
	env := []string{"XDG_RUNTIME_DIR=" + folder, "PATH=" + folder + ":" + os.Getenv("PATH")}
	if x.desktop != nil || x.stopped {
		bus := startOwnBus(t)
		x.address = bus.address
		if x.desktop != nil {
			bus.serve(t, x.desktop)
		}
		if x.stopped {
			require.NoError(t, bus.cmd.Process.Signal(syscall.SIGSTOP))
		}
	}
	if x.address != "" {
		env = append(env, "DBUS_SESSION_BUS_ADDRESS="+x.address)
	}
	return env
}

// troubled spends the limit, presses ten keys while the notice of it is under way,
// and looks at what is said and at what stays behind.
func troubled(t *testing.T, p program, x trouble) {
	trace := filepath.Join(t.TempDir(), "launched")
	p.must(t, "piece", "new", "bowl", "--alloy", "copper", "--size", "8x8")
	p.spoon(t, "8x8")
	p.must(t, "pass", "spoon", "6x6")
	p.must(t, "pass", "spoon", "4.9x5.5")
	env := x.env(t, trace)
	term := p.screen(t, env...)
	term.waitFor("ACT: ANNEAL NOW")
	if x.desktop != nil {
		require.Eventually(t, func() bool { return x.desktop.underWay() }, patience, time.Millisecond)
	}
	if x.atOnce {
		term.waitFor(noNotice)
	}
	term.press(" ", "ACT: ANNEAL NOW")
	slowest := term.answers([]keyAnswer{{"5", "MEASURE spoon"}, {".", ""}, {"5", ""}, {"0", ""}, {"\x7f", ""}, {"\x7f", ""},
		{"5", ""}, {"\r", "measured"}, {" ", "logged: pass"}, {"?", "under the hammer"}})
	t.Logf("the slowest of ten answers took %v", slowest.Round(time.Millisecond))
	if x.desktop != nil {
		require.True(t, x.desktop.underWay(), "the notice is under way all the while")
	}
	term.press("?", "ACT: ANNEAL NOW")
	saidOnce(term, !x.well && !x.atOnce)
	own := withHome(t, term.folder)
	require.Equal(t, []int{term.cmd.Process.Pid}, own, "it runs alone")
	from := time.Now()
	ends(term)
	t.Logf("ended within %v", time.Since(from).Round(time.Millisecond))
	require.Empty(t, withHome(t, term.folder), "nothing stays behind")
	require.NoFileExists(t, trace, "nobody wants a bus to be started")
}

// underWay reports whether a notice waits for its answer.
func (w *witness) underWay() bool {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	return len(w.notices) > w.answered
}

// saidOnce goes to another piece, which makes room for what waits to be said, sees
// whether that is the failure, and has a further notice fail after it.
func saidOnce(term *terminal, wanted bool) {
	term.t.Helper()
	time.Sleep(4 * time.Second) // longer than the patience with the desktop
	term.keys("n")
	if wanted {
		term.waitFor(noNotice)
	}
	time.Sleep(400 * time.Millisecond)
	require.Equal(term.t, wanted, strings.Contains(term.screen(), noNotice), term.screen())
	term.slowly("nk") // a crack is a notice of its own
	time.Sleep(4 * time.Second)
	term.slowly("n")
	require.NotContains(term.t, term.screen(), noNotice, "it was said before")
}

// withHome are the processes whose home is that folder.
func withHome(t *testing.T, folder string) (pids []int) {
	t.Helper()
	paths, err := filepath.Glob("/proc/[0-9]*/environ")
	require.NoError(t, err)
	for _, path := range paths {
		env, err := os.ReadFile(path)
		if err == nil && bytes.Contains(env, []byte("HOME="+folder+"\x00")) { // else it has ended, or is another's
			pids = append(pids, pidOf(t, path))
		}
	}
	return pids
}

func pidOf(t *testing.T, path string) int {
	t.Helper()
	pid, err := strconv.Atoi(filepath.Base(filepath.Dir(path)))
	require.NoError(t, err)
	return pid
}
