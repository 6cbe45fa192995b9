package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/alert"
	"dullred/schedule/coldwork"
	"dullred/tui"
)

const (
	watchBench = schedule.ID("0198f4b6-0000-7000-8000-0000000000b0")
	watchHand  = schedule.ID("0198f4b6-0000-7000-8000-0000000000a0")
	watchSpoon = schedule.ID("0198f4b6-0000-7000-8000-0000000000c0")
)

// shelf is a desk in memory that can refuse.
type shelf struct {
	tui.Memory
	full, gone error
}

func (s *shelf) Write(entries ...schedule.Entry) error {
	if s.full != nil {
		return s.full
	}
	return s.Memory.Write(entries...)
}

func (s *shelf) Load() (tui.Contents, error) {
	if s.gone != nil {
		return tui.Contents{}, s.gone
	}
	return s.Memory.Load()
}

// vigil is a watcher beside a desk, with clocks that move when they are told to.
type vigil struct {
	t     *testing.T
	desk  *shelf
	watch *watcher
	at    schedule.Clocks
	lines []line // of the last step
}

func newVigil(t *testing.T) *vigil {
	t.Helper()
	desk := &shelf{Memory: tui.Memory{Bench: watchBench, Hand: watchHand, HandName: "class"}}
	at := schedule.Clocks{Wall: time.Date(2026, time.March, 6, 17, 0, 0, 0, time.UTC), Boot: time.Hour, OK: true}
	return &vigil{t: t, desk: desk, watch: watcherOf(desk, alert.Usual()), at: at}
}

// now is the present moment by the wall clock and the record.
func (v *vigil) now() time.Time {
	return schedule.Moment(v.at.Wall.Add(schedule.Ahead(v.desk.Hearth, watchBench, v.at.Wall)))
}

func (v *vigil) entry(piece schedule.ID, body schedule.Body) schedule.Entry {
	return schedule.Entry{ID: schedule.NewID(), At: v.now(), Written: v.now(), Bench: watchBench, Hand: watchHand,
		Piece: piece, Version: 1, Body: body}
}

// begin puts a piece of sterling silver on the desk.
func (v *vigil) begin(name string, zones ...string) schedule.ID {
	v.t.Helper()
	id := schedule.NewID()
	require.NoError(v.t, v.desk.Start(name, v.entry(id, schedule.Started{Alloy: "AG925", Calliper: 0.1, Zones: zones,
		Reading: v.reading("8x8")})))
	v.watch.stale = true
	return id
}

func (v *vigil) reading(size string) schedule.Reading {
	v.t.Helper()
	s, err := unit.ParseSize(size, unit.Unshaped)
	require.NoError(v.t, err)
	return schedule.Reading{Size: s}
}

// log is what another process writes.
func (v *vigil) log(piece schedule.ID, body schedule.Body) {
	v.t.Helper()
	require.NoError(v.t, v.desk.Memory.Write(v.entry(piece, body)))
	v.watch.stale = true
}

func (v *vigil) course(piece schedule.ID, size string) {
	v.t.Helper()
	v.log(piece, schedule.Pass{Process: coldwork.Lengthen, Count: 1, Reading: v.reading(size)})
}

// ack acknowledges all alerts that wait.
func (v *vigil) ack() {
	v.t.Helper()
	for _, e := range schedule.Unacknowledged(v.entries()) {
		require.NoError(v.t, v.desk.Memory.Write(schedule.Acknowledge(e, watchBench, watchHand, v.now())))
	}
	v.watch.stale = true
}

func (v *vigil) entries() (all []schedule.Entry) {
	all = append(all, v.desk.Hearth...)
	for _, p := range v.desk.Pieces {
		all = append(all, p.Entries...)
	}
	return all
}

func (v *vigil) count(kind schedule.Kind) (n int) {
	for _, e := range v.entries() {
		if e.Kind() == kind {
			n++
		}
	}
	return n
}

// pass lets time go by, for both clocks.
func (v *vigil) pass(d time.Duration) {
	v.at.Wall, v.at.Boot = v.at.Wall.Add(d), v.at.Boot+d
}

// says takes one step, whose lines are to begin as wanted, and no more of them.
func (v *vigil) says(reason string, want ...string) {
	v.t.Helper()
	require.NotEmpty(v.t, reason)
	v.lines = v.watch.step(v.at)
	var got []string
	for _, l := range v.lines {
		got = append(got, l.text)
	}
	require.Len(v.t, got, len(want), "%s: %q", reason, got)
	for i := range want {
		require.True(v.t, strings.HasPrefix(got[i], want[i]), "%s: %q, expected %q", reason, got[i], want[i])
		require.Equal(v.t, l(got[i]), v.lines[i].word, "the priority leads the sentence")
		require.Regexp(v.t, `^[A-Z]+: [ -~°]+\.$`, got[i], "one plain sentence")
	}
}

// l is the word before the colon.
func l(text string) string { word, _, _ := strings.Cut(text, ":"); return word }

// sleeps lets time go by as the watcher asks, with a step at each wake, until a
// while is over. What is said on the way is to begin as wanted.
func (v *vigil) sleeps(reason string, d time.Duration, want ...string) {
	v.t.Helper()
	end := v.at.Boot + d
	var got []string
	for _, l := range v.watch.step(v.at) {
		got = append(got, l.text)
	}
	for wakes := 0; ; wakes++ {
		require.Less(v.t, wakes, 10_000, "it never sleeps")
		wait, ok := v.watch.wait()
		if !ok || v.at.Boot+wait > end {
			break
		}
		v.pass(wait)
		for _, l := range v.watch.step(v.at) {
			got = append(got, l.text)
		}
	}
	v.pass(end - v.at.Boot)
	require.Len(v.t, got, len(want), "%s: %q", reason, got)
	for i := range want {
		require.True(v.t, strings.HasPrefix(got[i], want[i]), "%s: %q, expected %q", reason, got[i], want[i])
	}
}

func times(n int, text string) (all []string) {
	for range n {
		all = append(all, text)
	}
	return all
}

func TestWatchTells(t *testing.T) {
	const annealNow = "ACT: anneal now - spoon."
	cases := []struct {
		name, reason string
		run          func(v *vigil)
	}{
		{"nothing", "an empty bench is silent and wakes nobody", func(v *vigil) {
			v.says("nothing is there")
			_, wakes := v.watch.wait()
			require.False(v.t, wakes)
		}},
		{"a piece at rest", "it is told once", func(v *vigil) {
			v.begin("spoon")
			v.says("new", "NOW: spoon, whole: carry on, 0 % of the limit spent, work on: ")
			v.says("told")
			_, wakes := v.watch.wait()
			require.False(v.t, wakes, "no figure changes by itself")
		}},
		{"the hammer", "each verdict that changes, with its alert", func(v *vigil) {
			spoon := v.begin("spoon")
			v.says("new", "NOW: spoon, whole: carry on")
			v.course(spoon, "7.6x7.8")
			v.says("the verdict is the same")
			v.course(spoon, "4.9x6.7")
			v.says("the limit is spent", "NOW: spoon, whole: anneal now, 100 % of the limit spent, heat to 593 to 649 °C", annealNow)
			require.Equal(v.t, 1, v.count(schedule.KindRaised), "it was raised")
			v.says("told")
			require.Equal(v.t, 1, v.count(schedule.KindRaised), "once")
		}},
		{"a call repeats", "every 30 s four times, then with each course", func(v *vigil) {
			spoon := v.begin("spoon")
			v.course(spoon, "4.9x6.7")
			v.says("new", "NOW: spoon, whole: anneal now", annealNow)
			v.sleeps("nobody acknowledges", 10*time.Minute, times(4, annealNow)...)
			v.course(spoon, "4.7x6.6")
			v.says("one more course", annealNow)
			v.says("told")
			v.ack()
			v.says("acknowledged", "SEEN: anneal now - spoon.")
			v.course(spoon, "4.5x6.5")
			v.says("it is silent while it holds")
			v.log(spoon, schedule.Begun{})
			v.says("the heat answers it", "NOW: spoon: heating begun, to 593 to 649 °C, a guess: 0:24 to 1:53.", "OVER: anneal now - spoon.")
		}},
		{"a heat", "each step with its target, and what is asked for", func(v *vigil) {
			spoon := v.begin("spoon")
			v.says("new", "NOW: spoon, whole: carry on")
			v.log(spoon, schedule.Begun{})
			v.says("begun", "NOW: spoon: heating begun, to 593 to 649 °C, a guess: 0:36 to 2:46.")
			v.log(spoon, schedule.Reached{})
			v.says("reached", "NOW: spoon: soak begun, hold 1:20.")
			v.sleeps("the hold", 79*time.Second)
			v.sleeps("it is over", 2*time.Second, "READY: soak over - spoon.")
			require.Zero(v.t, v.count(schedule.KindRaised), "a prompt is no alert")
			v.log(spoon, schedule.Out{})
			v.says("out", "NOW: spoon: wait begun, HOT, quench after 0:22.")
			v.sleeps("it may be quenched", 31*time.Second, "READY: quench ready - spoon.")
			v.sleeps("nobody does", 20*time.Second, "ACT: quench now - spoon.")
			v.log(spoon, schedule.Quenched{})
			v.says("quenched", "NOW: spoon, whole: prove, 0 % of the limit spent, bend it a little", "OVER: quench now - spoon.")
			v.log(spoon, schedule.Pickled{})
			v.says("in the pickle", "NOW: spoon: pickle begun, ready after 10:00.")
			v.sleeps("pickled", 31*time.Minute, "READY: pickle ready - spoon.", "NOTE: pickle overdue - spoon.")
			v.log(spoon, schedule.Rinsed{})
			v.says("rinsed, and nobody has seen the alert", "NOW: spoon, whole: prove", "OVER: pickle overdue - spoon, nobody has acknowledged it.")
			v.ack()
			v.says("seen", "SEEN: pickle overdue - spoon.")
			v.log(spoon, schedule.Soft{})
			v.says("soft", "NOW: spoon, whole: carry on, 0 %")
		}},
		{"danger", "every ten seconds until it is acknowledged, then every two minutes", func(v *vigil) {
			spoon := v.begin("spoon")
			v.log(spoon, schedule.Begun{})
			v.says("begun", "NOW: spoon, whole: heating", "NOW: spoon: heating begun")
			v.sleeps("too long in the flame", 10*time.Minute+31*time.Second, times(4, "DANGER: heat overrun - spoon.")...)
			v.ack()
			v.says("acknowledged", "SEEN: heat overrun - spoon.")
			v.sleeps("a pause, and a second one", 4*time.Minute+time.Second, times(2, "DANGER: heat overrun - spoon.")...)
			v.log(spoon, schedule.Reached{})
			v.says("the soak is another cause", "NOW: spoon: soak begun", "OVER: heat overrun - spoon.")
		}},
		{"danger seen before a restart", "the pause goes on from when it was acknowledged", func(v *vigil) {
			spoon := v.begin("spoon")
			v.log(spoon, schedule.Begun{})
			v.pass(11 * time.Minute)
			v.says("late", "NOW: spoon, whole: heating", "NOW: spoon: heating begun 11:00 ago", "DANGER: heat overrun - spoon, late by 1 min.")
			v.ack()
			v.pass(5*time.Minute + 30*time.Second)
			v.watch = watcherOf(v.desk, alert.Usual())
			v.says("again", "NOW: spoon, whole: heating", "NOW: spoon: heating begun 16:30 ago", "SEEN: heat overrun - spoon.")
			v.sleeps("silent", 25*time.Second)
			v.sleeps("the third pause ends", 10*time.Second, "DANGER: heat overrun - spoon")
		}},
		{"a crack", "a notice repeats three times", func(v *vigil) {
			spoon := v.begin("spoon")
			v.says("new", "NOW: spoon, whole: carry on")
			v.log(spoon, schedule.CrackSeen{})
			v.says("seen", "NOW: spoon, whole: file crack, 0 % of the limit spent, stop: file the crack out", "NOTE: crack open - spoon.")
			v.sleeps("nobody looks", time.Hour, times(3, "NOTE: crack open - spoon.")...)
			v.log(spoon, schedule.CrackFiled{})
			v.says("filed out", "NOW: spoon, whole: carry on", "OVER: crack open - spoon.")
		}},
		{"zones", "those that come to one verdict are told together", func(v *vigil) {
			spoon := v.begin("spoon", "bowl", "stem", "tip")
			v.says("one line for a piece", "NOW: spoon, bowl: carry on")
			e := v.entry(spoon, schedule.CrackSeen{})
			e.Zones = []string{"bowl", "tip"}
			require.NoError(v.t, v.desk.Memory.Write(e))
			v.watch.stale = true
			v.says("two of three", "NOW: spoon, bowl, tip: file crack", "NOTE: crack open - spoon, bowl.", "NOTE: crack open - spoon, tip.")
			require.Equal(v.t, []string{"bowl", "tip"}, v.lines[0].zones)
		}},
		{"the torch", "it is of the bench, and of no piece", func(v *vigil) {
			v.says("nothing is there")
			v.log(watchBench, schedule.TorchLit{})
			v.says("lit", "NOW: torch lit.")
			v.sleeps("nothing is in the flame", 10*time.Minute+5*time.Second, "DANGER: torch left lit.")
			v.log(watchBench, schedule.TorchOut{})
			v.says("out", "NOW: fire watch begun, until 1:00:00 after the last flame.", "OVER: torch left lit, nobody has acknowledged it.")
			v.sleeps("an hour", time.Hour+time.Minute, "NOTE: fire watch over.")
		}},
		{"a long fire watch", "it is waited for though the usual one is over", func(v *vigil) {
			v.watch.limits.FireWatch = 2 * time.Hour
			v.log(watchBench, schedule.TorchLit{})
			v.log(watchBench, schedule.TorchOut{})
			v.says("out", "NOW: fire watch begun, until 2:00:00 after")
			v.sleeps("the usual hour", 119*time.Minute)
			v.sleeps("its own", 2*time.Minute, "NOTE: fire watch over.")
		}},
		{"others raise", "what another process raised is told, and not raised again", func(v *vigil) {
			spoon := v.begin("spoon")
			v.says("new", "NOW: spoon, whole: carry on")
			v.course(spoon, "4.9x6.7")
			state := schedule.Fold(v.desk.Pieces[0].Entries)
			e, due := state.Advise(v.now(), nil).Alert(&state, v.desk.Pieces[0].Entries[1], v.now(), nil)
			require.True(v.t, due)
			require.NoError(v.t, v.desk.Memory.Write(e))
			v.says("told", "NOW: spoon, whole: anneal now", annealNow)
			require.Equal(v.t, 1, v.count(schedule.KindRaised))
		}},
		{"a full disk", "an alert is told though it cannot be kept, and kept when it can", func(v *vigil) {
			spoon := v.begin("spoon")
			v.course(spoon, "4.9x6.7")
			v.desk.full = errors.New("the disk is full")
			v.says("told", "NOW: spoon, whole: anneal now", "ACT: anneal now - spoon (not recorded: the disk is full).")
			v.says("once")
			require.Zero(v.t, v.count(schedule.KindRaised))
			v.sleeps("nobody looks", 10*time.Minute, times(4, "ACT: anneal now - spoon (not recorded: the disk is full).")...)
			_, wakes := v.watch.wait()
			require.True(v.t, wakes, "it tries again though nothing sounds any more")
			v.desk.full = nil
			v.sleeps("there is room again", 10*time.Second)
			require.Equal(v.t, 1, v.count(schedule.KindRaised))
		}},
		{"a record that is gone", "it is told once, and what runs goes on", func(v *vigil) {
			spoon := v.begin("spoon")
			v.log(spoon, schedule.Begun{})
			v.says("begun", "NOW: spoon, whole: heating", "NOW: spoon: heating begun")
			v.desk.gone = errors.New("gone")
			require.True(v.t, v.watch.hear(false, v.desk.gone))
			v.says("gone", "NOTE: the record cannot be read, what was read before still runs: gone.")
			require.False(v.t, v.watch.hear(false, v.desk.gone), "told")
			v.sleeps("the flame goes on", 10*time.Minute+5*time.Second, "DANGER: heat overrun - spoon.")
			v.desk.gone = nil
			require.True(v.t, v.watch.hear(false, nil), "nothing was written, and it can be read")
			v.says("back", "NOTE: the record can be read again.")
		}},
		{"one piece", "the others are silent and not raised, the bench is told", func(v *vigil) {
			spoon, bowl := v.begin("spoon"), v.begin("bowl")
			v.watch.only = bowl
			v.course(spoon, "4.9x6.7")
			v.log(watchBench, schedule.TorchLit{})
			v.says("the bowl", "NOW: bowl, whole: carry on", "NOW: torch lit.")
			require.Zero(v.t, v.count(schedule.KindRaised), "nobody was told of the spoon")
		}},
		{"late at the start", "what came due before anybody could look says so", func(v *vigil) {
			spoon := v.begin("spoon")
			v.course(spoon, "4.9x6.7")
			v.pass(42 * time.Minute)
			v.says("late", "NOW: spoon, whole: anneal now", "ACT: anneal now - spoon, late by 42 min.")
			require.Equal(v.t, 42*time.Minute, v.lines[1].late)
			v.sleeps("the same sentence again", 31*time.Second, "ACT: anneal now - spoon, late by 42 min.")
		}},
		{"late after sleep", "so does what came due while the machine slept", func(v *vigil) {
			spoon := v.begin("spoon")
			v.log(spoon, schedule.Begun{})
			v.says("begun", "NOW: spoon, whole: heating", "NOW: spoon: heating begun")
			_, wakes := v.watch.wait()
			require.True(v.t, wakes)
			v.pass(time.Hour)
			v.says("woken", "DANGER: heat overrun - spoon, late by 50 min.")
			require.Equal(v.t, v.now(), v.watch.from)
		}},
		{"a flood", "more than ten that are late are one line, and repeat as one", func(v *vigil) {
			for n := range 11 {
				v.course(v.begin(fmt.Sprint("ring ", n)), "4.9x6.7")
			}
			v.pass(time.Hour)
			v.lines = v.watch.step(v.at)
			require.Len(v.t, v.lines, 12, "a line for each piece and one for all the alerts")
			require.Equal(v.t, "ACT: 11 alerts came due while nobody looked; first anneal now - ring 0", v.lines[11].text)
			require.Equal(v.t, 11, v.count(schedule.KindRaised), "each is in the record")
			v.sleeps("again", 31*time.Second, "ACT: 11 alerts came due while nobody looked")
		}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			c.run(newVigil(t))
		})
	}
}

func TestWatchClock(t *testing.T) {
	cases := []struct {
		name, reason string
		run          func(v *vigil)
	}{
		{"forward", "the soak is no shorter for it", func(v *vigil) {
			v.at.Wall = v.at.Wall.Add(time.Hour)
			v.says("told", "CLOCK: the clock of this machine was set forward by 1 h, what runs is not changed by it.")
			require.Zero(v.t, v.count(schedule.KindClockStep), "the screen may be about to write it")
			v.sleeps("written", 4*time.Second)
			require.Equal(v.t, 1, v.count(schedule.KindClockStep))
			v.sleeps("the soak goes on", 75*time.Second)
			v.sleeps("and ends", 2*time.Second, "READY: soak over - spoon.")
		}},
		{"back", "the line of time runs on", func(v *vigil) {
			v.at.Wall = v.at.Wall.Add(-time.Hour)
			v.says("told", "CLOCK: the clock of this machine was set back by 1 h, what runs is not changed by it.")
			v.sleeps("written", 4*time.Second)
			require.Equal(v.t, 1, v.count(schedule.KindClockStep))
			v.sleeps("the soak goes on", 75*time.Second)
			v.sleeps("and ends", 2*time.Second, "READY: soak over - spoon.")
			v.says("nothing new")
			require.Equal(v.t, v.now(), v.watch.now, "as others reckon by the record")
		}},
		{"the screen writes it", "a step that two programs wrote would count twice", func(v *vigil) {
			v.at.Wall = v.at.Wall.Add(time.Hour)
			v.says("told", "CLOCK: ")
			v.pass(time.Second)
			v.log(watchBench, schedule.ClockStep{Wall: time.Hour, Line: time.Hour})
			v.says("silent")
			v.sleeps("the soak goes on", 78*time.Second)
			v.sleeps("and ends", 2*time.Second, "READY: soak over - spoon.")
			require.Equal(v.t, 1, v.count(schedule.KindClockStep))
		}},
		{"the screen was first", "it is told and not written", func(v *vigil) {
			v.at.Wall = v.at.Wall.Add(-time.Hour)
			step := v.entry(watchBench, schedule.ClockStep{Wall: -time.Hour})
			step.At = step.At.Add(time.Hour)
			require.NoError(v.t, v.desk.Memory.Write(step))
			v.watch.stale = true
			v.says("told", "CLOCK: the clock of this machine was set back by 1 h")
			v.sleeps("the soak goes on", 79*time.Second)
			v.sleeps("and ends", 2*time.Second, "READY: soak over - spoon.")
			require.Equal(v.t, 1, v.count(schedule.KindClockStep))
		}},
		{"twice", "each jump is written", func(v *vigil) {
			v.at.Wall = v.at.Wall.Add(time.Hour)
			v.says("told", "CLOCK: ")
			v.pass(time.Second)
			v.at.Wall = v.at.Wall.Add(-30 * time.Minute)
			v.says("told", "CLOCK: the clock of this machine was set back by 30 min")
			v.sleeps("written", 4*time.Second)
			require.Equal(v.t, 2, v.count(schedule.KindClockStep))
			v.sleeps("the soak goes on", 74*time.Second)
			v.sleeps("and ends", 2*time.Second, "READY: soak over - spoon.")
		}},
		{"drift", "a second is the slewing of a clock", func(v *vigil) {
			v.at.Wall = v.at.Wall.Add(time.Second)
			v.says("nothing to tell")
		}},
		{"no second clock", "without one nothing is believed", func(v *vigil) {
			v.at.Wall, v.at.OK = v.at.Wall.Add(time.Minute), false
			v.says("nothing to tell")
		}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			v := newVigil(t)
			spoon := v.begin("spoon")
			v.log(spoon, schedule.Begun{})
			v.log(spoon, schedule.Reached{})
			v.says("a soak", "NOW: spoon, whole: soak", "NOW: spoon: soak begun, hold 1:20.")
			c.run(v)
		})
	}
}

// A record whose last entry lies ahead tells that the clock was set back while
// nobody looked.
func TestWatchClockSetBackBefore(t *testing.T) {
	v := newVigil(t)
	spoon := v.begin("spoon")
	v.log(spoon, schedule.Begun{})
	v.at.Wall = v.at.Wall.Add(-time.Hour)
	v.says("told", "CLOCK: the clock of this machine was set back by 1 h", "NOW: spoon, whole: heating", "NOW: spoon: heating begun")
	v.sleeps("the flame counts from its entry", 10*time.Minute+5*time.Second, "DANGER: heat overrun - spoon.")
	require.Equal(t, 1, v.count(schedule.KindClockStep))
}

func TestPlainText(t *testing.T) {
	cases := []struct{ text, want, reason string }{
		{"593 to 649 °C", "593 to 649 °C", "the degree sign is read aloud"},
		{"Löffel ½ – 8×8…", "Loeffel 1/2 - 8x8...", "the nearest letters"},
		{"κύπελλο", "???????", "no nearest letters"},
		{"a\x1b[31mb\u202ec\nd", "a[31mbc d", "no terminal command, one line"},
	}
	for _, c := range cases {
		t.Run(c.reason, func(t *testing.T) { require.Equal(t, c.want, plainText(c.text)) })
	}
}

func TestLineObject(t *testing.T) {
	text := line{at: time.Unix(0, 0), word: "NOW", piece: "Löffel \"𝔞\"", what: "soak", late: 90 * time.Second}.sentence("soak & <hold>").object()
	require.NotContains(t, text, "\n")
	require.Regexp(t, `^[ -~]+$`, text)
	require.Contains(t, text, "soak & <hold>", "a person may read it too")
	var got map[string]any
	require.NoError(t, json.Unmarshal([]byte(text), &got))
	require.Equal(t, "Löffel \"𝔞\"", got["piece"], "whole")
	require.Equal(t, 90.0, got["late_seconds"])
	require.Equal(t, []any{}, got["zones"])
	require.Len(t, got, 7)
}

func TestMinutes(t *testing.T) {
	for d, want := range map[time.Duration]string{0: "0:00", 40 * time.Second: "0:40", 12 * time.Minute: "12:00",
		time.Hour + 5*time.Minute + 999*time.Millisecond: "1:05:00"} {
		require.Equal(t, want, minutes(d))
	}
}

func TestQuiet(t *testing.T) {
	require.NoError(t, quiet(fmt.Errorf("write: %w", syscall.EPIPE)), "nobody reads any more")
	require.ErrorIs(t, quiet(syscall.ENOSPC), syscall.ENOSPC, "a log that is full is a fault")
}
