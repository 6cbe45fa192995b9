//go:build system

package main

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
)

const (
	killers = 20 // at a time; each waits most of its time

	ahead    = 2 * time.Second        // from the first entry of a kill to its due moment
	before   = 50 * time.Millisecond  // from the first moment of a kill to the due moment
	within   = 400 * time.Millisecond // from the first moment of a kill to the last
	absent   = 11 * time.Second       // after the due moment every fourth bench comes back: late enough to say so
	limitFor = "30 s"                 // of all that is left too long
	toStand  = 5 * time.Second        // until an alert must stand on a bench that came back
)

// dueSoon is a story that makes one alert become due at a moment.
type dueSoon struct {
	name  string
	bar   string                       // how the alert bar begins
	entry string                       // how the record tells of it
	tell  func(*testing.T, *aboutToBe) // logs what makes it due
	key   string                       // pressed at the moment; empty for what time alone brings
}

var duesSoon = []dueSoon{
	{"hot piece left", "DANGER: HOT PIECE LEFT - spoon", "hot piece left", func(t *testing.T, a *aboutToBe) {
		a.act(t, 40, "heat", "begin", "spoon")
		a.act(t, 30, "heat", "out", "spoon")
	}, ""},
	{"pickle overdue", "NOTE: PICKLE OVERDUE - spoon", "pickle overdue", func(t *testing.T, a *aboutToBe) {
		a.act(t, 30, "pickle", "in", "spoon")
	}, ""},
	{"torch left lit", "DANGER: TORCH LEFT LIT", "torch left lit", func(t *testing.T, a *aboutToBe) {
		a.act(t, 30, "torch", "lit")
	}, ""},
	{"too long in the flame", "DANGER: HEAT OVERRUN - spoon", "heat overrun", func(t *testing.T, a *aboutToBe) {
		a.act(t, 30, "heat", "begin", "spoon")
	}, ""},
	{"too long at heat", "DANGER: HEAT OVERRUN - spoon", "heat overrun", func(t *testing.T, a *aboutToBe) {
		a.act(t, 40, "heat", "begin", "spoon")
		a.act(t, 30, "heat", "reach", "spoon")
	}, ""},
	{"the course that spends the limit", "ACT: ANNEAL NOW - spoon", "anneal now", func(t *testing.T, a *aboutToBe) {
		a.act(t, 40, "pass", "spoon", "6x6")
	}, " "},
}

// aboutToBe is a bench with a record of its own in which an alert becomes due.
type aboutToBe struct {
	program
	dueSoon
	due     time.Time
	brought time.Time // by the key, which a machine that does other work takes late; zero without one
	env     []string
}

// act logs an act some seconds before the due moment.
func (a *aboutToBe) act(t *testing.T, seconds int, args ...string) {
	t.Helper()
	at := a.due.Add(-time.Duration(seconds) * time.Second)
	a.must(t, append(args, "--at", at.UTC().Format(time.RFC3339Nano))...)
}

// alertTotals is how far alerts had come when they were killed, and how the bench that
// came back told of them.
type alertTotals struct {
	shown, written, unwritten, not int
	late, slow                     int
	slowest                        time.Duration // from a start to the alert on the screen
}

func (a *alertTotals) String() string {
	return fmt.Sprintf("alerts: %d killed with the alert on the screen, %d with it written only, %d before it was written, %d before what brings it was; "+
		"late beyond a second %d, slower than %v %d, the slowest stood %v after its start",
		a.shown, a.written, a.unwritten, a.not, a.late, toStand, a.slow, a.slowest.Round(time.Millisecond))
}

// killAlerts kills benches around the moment when an alert becomes due. One that was on
// the screen is in the record, and a bench that is started again shows it, once and with
// how late it is.
func killAlerts(t *testing.T, path string, totals *killTotals, kills int) {
	numbers := make(chan int)
	var crew sync.WaitGroup
	for range killers {
		crew.Go(func() {
			for i := range numbers {
				d := duesSoon[i%len(duesSoon)]
				t.Run(fmt.Sprintf("%s %d %s", alertKills, i, d.name), func(t *testing.T) { killAround(t, path, d, i, totals) })
			}
		})
	}
	for i := range kills {
		numbers <- i
	}
	close(numbers)
	crew.Wait()
}

// killAround kills a bench around a due moment and looks at what came of it.
func killAround(t *testing.T, path string, d dueSoon, i int, totals *killTotals) {
	a := &aboutToBe{program: program{path: path, record: filepath.Join(t.TempDir(), "record.db")}, dueSoon: d,
		due: time.Now().Add(ahead).Truncate(time.Microsecond), env: quietConfig(t)}
	a.act(t, 60, "piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8")
	a.tell(t, a)
	killed := a.killed(t, spread(i))
	totals.killed(alertKills)
	entries := a.all(t)
	kept := a.raised(entries)
	switch {
	case killed && kept == 0:
		totals.add(&totals.alertsLost, 1)
		t.Errorf("it was on the screen and is not in the record")
	case killed:
		totals.add(&totals.alerts.shown, 1)
	case !a.came(entries):
		require.Zero(t, kept, "raised without a cause")
		totals.add(&totals.alerts.not, 1)
		return
	case kept > 0:
		totals.add(&totals.alerts.written, 1)
	default:
		totals.add(&totals.alerts.unwritten, 1)
	}
	if (i/len(duesSoon))%4 == 1 {
		time.Sleep(time.Until(a.due.Add(absent)))
	}
	a.comesBack(t, totals)
}

// spread is how long after the first moment of a kill the last one is: for half of
// them so short that some fall between writing and showing.
func spread(i int) time.Duration {
	if (i/(2*len(duesSoon)))%2 == 0 {
		return within
	}
	return 2 * before
}

// quietConfig is a folder of settings with short limits, and with nothing that
// reaches beyond the screen.
func quietConfig(t *testing.T) (env []string) {
	t.Helper()
	text := "[channels]\nbell = false\ndesktop = false\nawake = false\n[thresholds]\n"
	for _, key := range []string{"torch_left", "hot_left", "flame_overrun", "heat_overrun", "pickle_overdue"} {
		text += fmt.Sprintf("%s = %q\n", key, limitFor)
	}
	folder := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(folder, "dullred"), 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "dullred", "config.toml"), []byte(text), 0o600))
	return []string{"XDG_CONFIG_HOME=" + folder}
}

// killed runs the bench until around the due moment, and reports whether the
// alert was on the screen when it was killed, in half a drawing even.
func (a *aboutToBe) killed(t *testing.T, spread time.Duration) (shown bool) {
	t.Helper()
	term := a.screen(t, a.env...)
	term.waitFor("spoon")
	if a.key != "" {
		time.Sleep(time.Until(a.due))
		a.due = time.Now()
		term.keys(a.key)
	}
	time.Sleep(time.Until(a.due.Add(rand.N(spread) - before)))
	term.signal(syscall.SIGKILL)
	<-term.ended
	for n := -1; n != len(term.output(0)); time.Sleep(50 * time.Millisecond) {
		n = len(term.output(0)) // what it sent before it died still comes
	}
	term.mu.Lock()
	defer term.mu.Unlock()
	return strings.Contains(term.emulator.String(), a.bar)
}

// all are the entries of the record, those of the bench too.
func (a *aboutToBe) all(t *testing.T) (entries []logged) {
	t.Helper()
	require.NoError(t, json.Unmarshal([]byte(a.must(t, "log", "--json")), &entries))
	return entries
}

// raised counts the alerts of the cause.
func (a *aboutToBe) raised(entries []logged) (n int) {
	for _, e := range entries {
		if e.Kind == "alert raised" && strings.HasPrefix(e.Text, "alert raised: "+a.entry) {
			n++
		}
	}
	return n
}

// came reports whether what brings the alert is in the record: a key may be
// pressed too late to be heard. The due moment is then that of its entry.
func (a *aboutToBe) came(entries []logged) bool {
	if a.key == "" {
		return true
	}
	passes := 0
	for _, e := range entries {
		if e.Kind == "pass" {
			passes++
			a.brought, _ = time.Parse(time.RFC3339Nano, e.Written)
		}
	}
	return passes == 2
}

var lateBy = regexp.MustCompile(`, late by ([^.(]+?)( \(over now\))?\.`)

// comesBack starts the bench again, and wants the alert on it soon, once in the
// record, and with how late it is.
func (a *aboutToBe) comesBack(t *testing.T, totals *killTotals) {
	t.Helper()
	started := time.Now()
	term := a.screen(t, a.env...)
	bar := ""
	for bar == "" && time.Since(started) < toStand {
		time.Sleep(2 * time.Millisecond)
		bar = lineWith(term.screen(), a.bar)
	}
	seen := time.Now()
	t.Logf("it stood %v after the start", seen.Sub(started).Round(time.Millisecond))
	if bar == "" {
		totals.add(&totals.alertsLost, 1)
		t.Errorf("%s does not stand after %v:\n%s", a.bar, toStand, term.screen())
		return
	}
	if seen.Sub(started) > toStand {
		totals.add(&totals.alerts.slow, 1)
		t.Errorf("it stood only %v after the start", seen.Sub(started))
	}
	totals.mutex.Lock()
	totals.alerts.slowest = max(totals.alerts.slowest, seen.Sub(started))
	totals.mutex.Unlock()
	least, most := started.Sub(a.due), seen.Sub(a.due)
	if a.brought.After(a.due) {
		least = started.Sub(a.brought)
	}
	if !rightlyLate(bar, least, most) {
		totals.add(&totals.alerts.late, 1)
		t.Errorf("late by %v to %v, told so: %s", least, most, bar)
	}
	a.once(t, totals)
	require.Contains(t, a.must(t, "record", "check"), "sound")
}

func lineWith(screen, text string) string {
	for line := range strings.Lines(screen) {
		if strings.Contains(line, text) {
			return strings.TrimSpace(line)
		}
	}
	return ""
}

// rightlyLate compares what the bar says with how late it was when the bench was
// started and when the alert was seen. Under ten seconds nothing is said.
func rightlyLate(bar string, least, most time.Duration) bool {
	found := lateBy.FindStringSubmatch(bar)
	if found == nil {
		return least < 10*time.Second
	}
	said, err := unit.ParseDuration(found[1])
	return err == nil && said > least-time.Second && said <= most
}

// once wants every alert in the record once.
func (a *aboutToBe) once(t *testing.T, totals *killTotals) {
	t.Helper()
	counts := map[string]int{}
	for _, e := range a.all(t) {
		if e.Kind == "alert raised" {
			counts[e.Text]++
		}
	}
	for text, n := range counts {
		if n > 1 {
			totals.add(&totals.alertsDoubled, 1)
			t.Errorf("%s: %d times", text, n)
		}
	}
	if a.raised(a.all(t)) == 0 {
		totals.add(&totals.alertsLost, 1)
		t.Errorf("%s is shown and not in the record", a.entry)
	}
}

// The measure of lateness must be able to say no.
func TestSystemLatenessCanBeWrong(t *testing.T) {
	cases := []struct {
		bar, reason string
		right       bool
	}{
		{"!!! DANGER: TORCH LEFT LIT, late by 11 s.", "whole seconds, cut", true},
		{"!!! DANGER: TORCH LEFT LIT, late by 11 s (over now).", "and over", true},
		{"!!! DANGER: TORCH LEFT LIT, late by 10 s.", "more than a second early", false},
		{"!!! DANGER: TORCH LEFT LIT, late by 12 s.", "later than it was seen", false},
		{"!!! DANGER: TORCH LEFT LIT.", "nothing said of eleven seconds", false},
	}
	for _, c := range cases {
		require.Equal(t, c.right, rightlyLate(c.bar, 11200*time.Millisecond, 11400*time.Millisecond), c.reason)
	}
	require.True(t, rightlyLate("!!! DANGER: TORCH LEFT LIT.", time.Second, 1200*time.Millisecond))
}
