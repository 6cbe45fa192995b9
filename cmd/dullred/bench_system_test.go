//go:build system

package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/built"
)

// The bench screen in a real terminal: an evening, signals, noise on the line,
// kills, and what it costs when nothing happens. Each case has a record and
// folders of its own.
func TestSystemBench(t *testing.T) {
	path := built.Program(t, "dullred/cmd/dullred")
	cases := []struct {
		name, reason string
		run          func(*testing.T, program)
	}{
		{"an evening", "every key of a course and a heat is one entry, in order", evening},
		{"a comma in a figure", "half of Europe types 6,00", commaFigure},
		{"quit while hot", "who leaves hot metal is asked once", quitWhileHot},
		{"demo", "what is invented is never recorded", demoKeepsNothing},
		{"two programs", "what another program logs is on the screen within a second", twoPrograms},
		{"sizes", "a window is drawn for the size it has, and survives any", sizes},
		{"SIGTERM", "the terminal is given back, the record is whole", func(t *testing.T, p program) { endedBy(t, p, syscall.SIGTERM) }},
		{"SIGHUP", "the same", func(t *testing.T, p program) { endedBy(t, p, syscall.SIGHUP) }},
		{"SIGINT", "the same", func(t *testing.T, p program) { endedBy(t, p, syscall.SIGINT) }},
		{"terminal lost", "a closed window ends the program", terminalLost},
		{"terminal lost without a signal", "a window behind a shell that ignores SIGHUP ends it too", terminalLostSilently},
		{"stopped by a key", "Ctrl-Z gives the shell back, fg the bench", func(t *testing.T, p program) { stoppedAndContinued(t, p, nil) }},
		{"stopped from outside", "so does SIGTSTP", func(t *testing.T, p program) { stoppedAndContinued(t, p, syscall.SIGTSTP) }},
		{"stopped without a shell", "nobody could say fg, so the bench goes on", stoppedWithoutShell},
		{"noise", "no byte that is not UTF-8 blocks the keys or keeps the processor busy", noise},
		{"killed in a soak", "the soak goes on from its entry", killedInSoak},
		{"idle", "nothing to show costs nothing", idle},
		{"soak traffic", "a second costs few bytes on a slow line", soakTraffic},
		{"few colours", "the page is right without true colour", fewColours},
		{"no terminal", "one sentence says what to do", noTerminal},
		{"bounces", "a worn switch counts once", bounces},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			require.NotEmpty(t, c.reason)
			c.run(t, program{path: path, record: filepath.Join(t.TempDir(), "record.db")})
		})
	}
}

// screen opens the bench on the record, in a terminal of 80 columns and 24 rows.
func (p program) screen(t *testing.T, env ...string) *terminal {
	t.Helper()
	return start(t, session{env: env, command: []string{p.path, "--record", p.record}})
}

// wide opens it in one of 120 columns and 40 rows.
func (p program) wide(t *testing.T) *terminal {
	t.Helper()
	return start(t, session{width: 120, height: 40, command: []string{p.path, "--record", p.record}})
}

// spoon begins a piece of sterling silver from the command line.
func (p program) spoon(t *testing.T, size string) {
	t.Helper()
	p.must(t, "piece", "new", "spoon", "--alloy", "sterling", "--size", size)
}

// logged is one entry as the log prints it.
type logged struct {
	Kind, Text, Written string
	Void                bool
}

func (p program) log(t *testing.T, piece string) (entries []logged) {
	t.Helper()
	require.NoError(t, json.Unmarshal([]byte(p.must(t, "log", piece, "--json")), &entries))
	return entries
}

// acts are the kinds of what was done, in order, without what the program adds.
func (p program) acts(t *testing.T, piece string) (kinds []string) {
	t.Helper()
	for _, e := range p.log(t, piece) {
		if e.Kind != "advice shown" && e.Kind != "alert raised" {
			kinds = append(kinds, e.Kind)
		}
	}
	return kinds
}

const carryOnAtNothing = "CARRY ON - 0 % of the limit spent"

// begin goes from an empty bench to the first page of a piece.
func begin(term *terminal) {
	term.t.Helper()
	term.waitFor("Nothing is recorded yet")
	term.press("b", "BEGIN A PIECE")
	term.keys("ster")
	term.press("\r", "The section in mm")
	term.keys("8x8")
	term.press("\r", "(y)_")
	term.press("\r", carryOnAtNothing)
}

func evening(t *testing.T, p program) {
	term := p.screen(t)
	term.waitFor("Nothing is recorded yet")
	for _, offer := range []string{"begin a piece", "look at an invented evening class"} {
		require.Contains(t, term.screen(), offer)
	}
	begin(term)
	term.slowly("   ")
	term.press("6.00\r", "measured")
	term.press("h", "HEATING - ")
	term.press("c", "SOAK - ")
	countsDown(term)
	term.press("o", "HOT - NOT GLOWING")
	term.press("q", "PROVE")
	term.press("p", "PICKLE - ")
	term.press("r", "PROVE")
	term.press("s", carryOnAtNothing)
	term.keys("x")
	require.Zero(t, term.exitCode())
	term.givenBack()
	require.Equal(t, []string{"piece started", "pass", "pass", "pass", "measured", "heat begun", "heat reached", "heat out",
		"quenched", "in the pickle", "out of the pickle", "proved soft"}, p.acts(t, "piece 1"))
	shown := 0
	for _, e := range p.log(t, "piece 1") {
		if e.Kind == "advice shown" {
			shown++
		}
		require.False(t, e.Void, e.Text)
	}
	require.Equal(t, 3, shown, "each course is kept with the advice that followed it")
}

// countsDown sees the block figures of a count-down change twice, each after
// about a second.
func countsDown(term *terminal) {
	term.t.Helper()
	require.Contains(term.t, term.screen(), "left of 1:")
	for range 2 {
		before := term.screen()
		from := time.Now()
		term.until("the next second", func(s string) bool { return s != before })
		require.Less(term.t, time.Since(from), 2*time.Second)
	}
}

func commaFigure(t *testing.T, p program) {
	term := p.screen(t)
	begin(term)
	term.press("6,00\r", "measured")
	require.NotContains(t, term.screen(), "NOT LOGGED")
	term.keys("x")
	require.Zero(t, term.exitCode())
	entries := p.log(t, "piece 1")
	require.Len(t, entries, 3, "the start, the reading, and the alert that it raises")
	require.Equal(t, "measured", entries[1].Kind)
	require.Contains(t, entries[1].Text, "6x8 mm")
}

func quitWhileHot(t *testing.T, p program) {
	const question = "spoon is HOT. Again: quit"
	p.spoon(t, "8x8")
	for _, step := range []string{"begin", "reach", "out"} {
		p.must(t, "heat", step, "spoon")
	}
	term := p.screen(t)
	term.waitFor("HOT - NOT GLOWING")
	term.press("xx", question) // the second is a bounce
	term.press("v", "worked: strain")
	require.NotContains(t, term.screen(), question)
	term.press("v", "HOT - NOT GLOWING")
	time.Sleep(apart)
	term.press("x", question)
	require.True(t, term.alive())
	time.Sleep(apart)
	term.keys("x")
	require.Zero(t, term.exitCode())
	term.givenBack()
}

func demoKeepsNothing(t *testing.T, p program) {
	for _, args := range [][]string{{"bench", "--demo"}, {"bench", "--demo", "--record", p.record}} {
		term := start(t, session{command: append([]string{p.path}, args...)})
		term.waitFor("DEMO")
		term.press("q", "logged: quenched") // the piece that burns is shown first
		term.press("v", "step 3 of 12 of the plan")
		time.Sleep(apart)
		term.press("v", "worked: strain")
		require.Contains(t, term.screen(), "DEMO")
		term.keys("x")
		time.Sleep(apart)
		if term.alive() {
			term.keys("x")
		}
		require.Zero(t, term.exitCode())
		require.Empty(t, files(t, term.folder))
	}
	require.Empty(t, files(t, filepath.Dir(p.record)))
}

// files are all files below a folder.
func files(t *testing.T, folder string) (paths []string) {
	t.Helper()
	require.NoError(t, filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		if err == nil && !entry.IsDir() {
			paths = append(paths, path)
		}
		return err
	}))
	return paths
}

func twoPrograms(t *testing.T, p program) {
	p.spoon(t, "8x8")
	term := p.wide(t)
	term.waitFor(carryOnAtNothing)
	term.press("v", "log, newest first")
	for _, size := range []string{"7.4x7.8", "7.1x7.7", "6.9x7.6"} {
		side, _, _ := strings.Cut(size, "x")
		require.NotContains(t, term.screen(), side)
		p.must(t, "pass", "spoon", size)
		from := time.Now()
		term.waitFor(side)
		took := time.Since(from)
		t.Logf("shown %v after the other program ended", took.Round(time.Millisecond))
		require.Less(t, took, 1500*time.Millisecond)
	}
	term.keys("x")
	require.Zero(t, term.exitCode())
}

func sizes(t *testing.T, p program) {
	p.spoon(t, "8x8")
	p.must(t, "pass", "spoon", "7x7.5")
	term := p.screen(t)
	term.waitFor("of the limit spent")
	time.Sleep(apart)
	first := term.screen()
	cases := []struct {
		w, h int
		text string
	}{
		{60, 20, "of the limit spent"}, {120, 40, "of the limit spent"}, {40, 10, "The screen is too small: 60 columns"},
		{1, 1, ""}, {2, 3, ""}, {80, 24, "of the limit spent"},
	}
	for _, c := range cases {
		from := len(term.output(0))
		term.resize(c.w, c.h)
		term.until("a drawing", func(string) bool { return len(term.output(from)) > 0 })
		term.waitFor(c.text)
		if c.w >= 60 {
			term.until("the whole page", func(s string) bool { return rightPage(s, c.h) })
		}
		require.True(t, term.alive(), "%d x %d", c.w, c.h)
	}
	term.until("the first page again", func(s string) bool { return s == first })
	term.keys("x")
	require.Zero(t, term.exitCode())
}

// rightPage reports whether a page begins with its title and ends with its keys.
func rightPage(screen string, height int) bool {
	lines := strings.Split(screen, "\n")
	return len(lines) == height && strings.HasPrefix(lines[0], " spoon - ") && strings.Contains(lines[height-1], " 0-9 ")
}

func endedBy(t *testing.T, p program, sig syscall.Signal) {
	p.spoon(t, "8x8")
	term := p.screen(t)
	term.waitFor(carryOnAtNothing)
	term.press(" ", "logged: ")
	term.signal(sig)
	require.Equal(t, 128+int(sig), term.exitCode())
	term.givenBack()
	require.Contains(t, p.must(t, "record", "check"), "sound")
	require.Equal(t, []string{"piece started", "pass"}, p.acts(t, "spoon"))
}

func terminalLost(t *testing.T, p program) {
	p.spoon(t, "8x8")
	term := p.screen(t)
	term.waitFor(carryOnAtNothing)
	term.press(" ", "logged: ")
	from := time.Now()
	require.NoError(t, term.master.Close())
	code := term.exitCode()
	took := time.Since(from)
	used := term.cmd.ProcessState.UserTime() + term.cmd.ProcessState.SystemTime()
	t.Logf("exit code %d after %v, processor time %v in all", code, took.Round(time.Millisecond), used)
	require.NotZero(t, code)
	require.Less(t, used, time.Second)
	require.Equal(t, []string{"piece started", "pass"}, p.acts(t, "spoon"))
}

func terminalLostSilently(t *testing.T, p program) {
	p.spoon(t, "8x8")
	code := filepath.Join(t.TempDir(), "code")
	term := start(t, session{command: []string{"sh", "-c", `trap "" HUP; "$@"; echo $? >"$0"`, code, p.path, "--record", p.record}})
	term.waitFor(carryOnAtNothing)
	term.press(" ", "logged: ")
	require.NoError(t, term.master.Close())
	_ = term.exitCode() // of the shell
	used := term.cmd.ProcessState.UserTime() + term.cmd.ProcessState.SystemTime()
	text, err := os.ReadFile(code)
	require.NoError(t, err)
	t.Logf("exit code %s, processor time %v in all", strings.TrimSpace(string(text)), used)
	require.Less(t, used, time.Second)
	require.Equal(t, []string{"piece started", "pass"}, p.acts(t, "spoon"))
}

// stoppedAndContinued stops the bench under a shell with job control, by a key
// or by a signal, and takes it up again.
func stoppedAndContinued(t *testing.T, p program, sig os.Signal) {
	p.spoon(t, "7x7")
	p.must(t, "heat", "begin", "spoon")
	p.must(t, "heat", "reach", "spoon")
	pidFile := filepath.Join(t.TempDir(), "pid")
	term := start(t, session{width: 120, height: 40, command: []string{"sh", "-i"},
		env: []string{"PS1=ready> ", "PIDFILE=" + pidFile, "BENCH=" + p.path, "RECORD=" + p.record}})
	term.waitFor("ready>")
	term.keys(`sh -c 'echo $$ >"$PIDFILE"; exec "$BENCH" --record "$RECORD"'` + "\r")
	term.waitFor("SOAK - ")
	term.press("v", "log, newest first")
	pid := pidIn(t, pidFile)
	if sig == nil {
		term.keys("\x1a")
	} else {
		process, err := os.FindProcess(pid)
		require.NoError(t, err)
		require.NoError(t, process.Signal(sig))
	}
	term.until("a stopped program", func(string) bool { return stopped(pid) })
	term.press("echo usable-$((40+2))\r", "usable-42")
	term.givenBack()
	time.Sleep(2500 * time.Millisecond)
	term.press("fg\r", "log, newest first")
	time.Sleep(apart) // the page as it was comes first
	requireSoak(term, p, 70*time.Second)
	term.until("the next second", changes(term.screen()))
	term.press("v", "mark  piece") // the board
	time.Sleep(apart)
	term.press("v", "SOAK - ")
	term.press("x", "Again: quit")
	time.Sleep(apart)
	term.press("x", "ready>")
	term.press("echo code-$?\r", "code-0")
	term.givenBack()
}

// stoppedWithoutShell has the bench lead its session, as in a window of its own.
func stoppedWithoutShell(t *testing.T, p program) {
	p.spoon(t, "8x8")
	term := p.screen(t)
	term.waitFor(carryOnAtNothing)
	term.keys("\x1a")
	term.until("the page left and taken again", func(string) bool {
		return strings.Count(term.output(0), "\x1b[?1049h") == 2
	})
	term.waitFor(carryOnAtNothing)
	require.False(t, stopped(term.cmd.Process.Pid))
	term.press("?", "under the hammer")
	term.keys("x")
	require.Zero(t, term.exitCode())
	term.givenBack()
}

func changes(before string) func(string) bool { return func(now string) bool { return now != before } }

func pidIn(t *testing.T, path string) int {
	t.Helper()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	pid, err := strconv.Atoi(strings.TrimSpace(string(text)))
	require.NoError(t, err)
	return pid
}

var soakLeft = regexp.MustCompile(`soak (\d+):(\d\d) left`)

// requireSoak compares the soak on the page read close with the entry that began
// it: whole seconds, rounded up, one of them for the time since the last drawing.
func requireSoak(term *terminal, p program, target time.Duration) {
	term.t.Helper()
	var shown, left time.Duration
	entries := p.log(term.t, "spoon")
	began, err := time.Parse(time.RFC3339, entries[len(entries)-1].Written)
	require.NoError(term.t, err)
	require.Equal(term.t, "heat reached", entries[len(entries)-1].Kind)
	term.until("a soak that runs", func(s string) bool {
		found := soakLeft.FindStringSubmatch(s)
		if found == nil {
			return false
		}
		left = target - time.Since(began)
		shown, err = time.ParseDuration(found[1] + "m" + found[2] + "s")
		return err == nil
	})
	term.t.Logf("%v left, %v shown", left, shown)
	require.InDelta(term.t, left.Seconds(), shown.Seconds()-0.5, 1)
}

func noise(t *testing.T, p program) {
	const f1 = "\x1bOP"
	p.spoon(t, "8x8")
	term := p.screen(t)
	term.waitFor(carryOnAtNothing)
	for b := 0x80; b <= 0xff; b++ {
		for _, gap := range []time.Duration{0, 3 * time.Millisecond} {
			if gap > 0 {
				term.keys(string([]byte{byte(b)}))
				time.Sleep(gap)
				term.keys("?")
			} else {
				term.keys(string([]byte{byte(b), '?'}))
			}
			term.waitFor("under the hammer")
			term.press(f1, carryOnAtNothing)
		}
	}
	before := processorTime(t, term.cmd.Process.Pid)
	time.Sleep(2 * time.Second)
	used := processorTime(t, term.cmd.Process.Pid) - before
	t.Logf("%v of processor time in 2 s", used)
	require.Less(t, used, 50*time.Millisecond)
	term.keys("x")
	require.Zero(t, term.exitCode())
	require.Equal(t, []string{"piece started"}, p.acts(t, "spoon"))
}

func killedInSoak(t *testing.T, p program) {
	p.spoon(t, "7x7")
	term := p.wide(t)
	term.waitFor(carryOnAtNothing)
	term.press("h", "HEATING - ")
	term.press("c", "SOAK - ")
	term.signal(syscall.SIGKILL)
	require.Equal(t, -1, term.exitCode())
	time.Sleep(2300 * time.Millisecond)
	again := p.wide(t)
	again.waitFor("SOAK - ")
	again.press("v", "log, newest first")
	requireSoak(again, p, 70*time.Second)
	require.Contains(t, p.must(t, "record", "check"), "sound")
}

func idle(t *testing.T, p program) {
	p.spoon(t, "8x8")
	term := p.screen(t)
	term.waitFor(carryOnAtNothing)
	time.Sleep(time.Second)
	pid, from := term.cmd.Process.Pid, time.Now()
	before := processorTime(t, pid)
	time.Sleep(5 * time.Second)
	used := processorTime(t, pid) - before
	t.Logf("%v of processor time in 5 s", used)
	require.Empty(t, term.burstsSince(from))
	require.LessOrEqual(t, used, 10*time.Millisecond)
}

func soakTraffic(t *testing.T, p program) {
	const ticks, gap = 13, 300 * time.Millisecond
	p.spoon(t, "7x7") // 70 s: with 1:00 to 0:59 in it
	p.must(t, "heat", "begin", "spoon")
	p.must(t, "heat", "reach", "spoon")
	term := p.wide(t)
	term.waitFor("SOAK - ")
	time.Sleep(1500 * time.Millisecond)
	from := time.Now()
	time.Sleep((ticks + 1) * time.Second)
	sums := perTick(term.burstsSince(from), gap)
	require.GreaterOrEqual(t, len(sums), ticks-1)
	slices.Sort(sums)
	t.Logf("%d ticks, %d bytes in the middle, %d at most", len(sums), sums[len(sums)/2], sums[len(sums)-1])
	require.LessOrEqual(t, sums[len(sums)/2], 200)
	require.LessOrEqual(t, sums[len(sums)-1], 600)
}

// perTick adds up the bytes of reads that came close together.
func perTick(bursts []burst, gap time.Duration) (sums []int) {
	var last time.Time
	for _, b := range bursts {
		if b.at.Sub(last) > gap {
			sums = append(sums, 0)
		}
		sums[len(sums)-1] += b.bytes
		last = b.at
	}
	return sums
}

func fewColours(t *testing.T, p program) {
	p.spoon(t, "8x8")
	p.must(t, "pass", "spoon", "7x7.5")
	rich := p.screen(t)
	rich.waitFor("of the limit spent")
	rich.until("true colour", func(string) bool { return strings.Contains(rich.output(0), "38;2;") })
	for _, env := range [][]string{{"TERM=vt100", "COLORTERM="}, {"NO_COLOR=1"}, {"TERM=linux", "COLORTERM="}} {
		term := p.screen(t, env...)
		term.until(fmt.Sprint("the page of ", env), func(s string) bool { return sameWords(s, rich.screen()) })
		term.press("?", "under the hammer")
		for _, sequence := range []string{"38;2", "48;2"} {
			require.NotContains(t, term.output(0), sequence, "%v", env)
		}
		term.keys("x")
		require.Zero(t, term.exitCode())
		term.until("the terminal given back", func(string) bool { return term.cooked() })
	}
}

// sameWords reports whether the lines with words are the same on two screens:
// blocks may be drawn otherwise.
func sameWords(x, y string) bool {
	words := func(s string) (lines []string) {
		for line := range strings.Lines(s) {
			if strings.ContainsAny(line, "abcdefghijklmnopqrstuvwxyz") {
				lines = append(lines, strings.TrimSpace(line))
			}
		}
		return lines
	}
	return len(words(x)) > 4 && slices.Equal(words(x), words(y))
}

func noTerminal(t *testing.T, p program) {
	null, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0)
	require.NoError(t, err)
	t.Cleanup(func() { _ = null.Close() })
	cases := []struct {
		name string
		session
	}{
		{"dumb", session{env: []string{"TERM=dumb", "COLORTERM="}}},
		{"no type", session{env: []string{"TERM=", "COLORTERM="}}},
		{"an unknown type", session{env: []string{"TERM=no-such-terminal", "COLORTERM="}}},
		{"an old character set", session{env: []string{"LC_ALL=en_US.ISO-8859-1"}}},
		{"output away from the terminal", session{stdout: null}},
	}
	for _, c := range cases {
		var errOut bytes.Buffer
		c.stderr, c.command = &errOut, []string{p.path, "--record", p.record}
		term := start(t, c.session)
		require.NotZero(t, term.exitCode(), c.name)
		requireAdvice(t, errOut.String())
		require.Empty(t, term.output(0), c.name)
		require.True(t, term.cooked(), c.name)
	}
	out, err := p.command().CombinedOutput()
	require.Error(t, err, "no terminal at either end")
	requireAdvice(t, string(out))
}

// requireAdvice wants one sentence that sends to plain lines.
func requireAdvice(t *testing.T, text string) {
	t.Helper()
	require.Equal(t, 1, strings.Count(text, "\n"), text)
	require.True(t, strings.HasPrefix(text, "dullred: ") && strings.HasSuffix(text, ".\n"), text)
	require.Contains(t, text, "dullred watch, which prints plain lines")
}

// bounces presses the space bar 40 times, each seen one to three times within
// 60 ms, with quiet between presses.
func bounces(t *testing.T, p program) {
	const presses = 40
	p.spoon(t, "8x8")
	term := p.screen(t)
	term.waitFor(carryOnAtNothing)
	for i := range presses {
		for range i%3 + 1 {
			term.keys(" ")
			time.Sleep(20 * time.Millisecond)
		}
		time.Sleep(apart)
	}
	term.waitFor("logged: ")
	term.signal(syscall.SIGTERM)
	require.Equal(t, 128+int(syscall.SIGTERM), term.exitCode())
	passes := slices.DeleteFunc(p.acts(t, "spoon"), func(kind string) bool { return kind != "pass" })
	require.Len(t, passes, presses)
}
