package tui

import (
	"errors"
	"fmt"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"github.com/gdamore/tcell/v2"
	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/alert"
	"dullred/schedule/record"
	"dullred/tui/view"
)

// away lets time pass with the program not running, or the machine asleep.
func (s *stage) away(d time.Duration) *stage {
	s.wall, s.boot = s.wall.Add(d), s.boot+d
	return s
}

// noise says how loud it is at the ear.
func (s *stage) noise(level float64) *stage {
	s.logHere(schedule.Noise{Level: level})
	return s
}

// flooded is a bench with pieces that were left in the pickle while nobody could
// look.
func flooded(t testing.TB, s *stage, pieces int) *stage {
	t.Helper()
	for i := range pieces {
		s.piece(t, fmt.Sprintf("rod %d", i+1), "C11000", "3 round").keys("hcoqp")
	}
	return s.away(10 * time.Hour).open(t)
}

// heard is what the smith hears while time passes: how often the bell rang and
// what was told.
type heard struct {
	bells, firsts int
	wakes         int
	told          map[alert.Cause]int
}

// listen lets time pass as the program does: it wakes when it asked to be woken,
// draws, and asks what is to be heard.
func (s *stage) listen(t testing.TB, d time.Duration) (h heard) {
	t.Helper()
	h.told = map[alert.Cause]int{}
	for end := s.wall.Add(d); ; {
		h.hear(s)
		wait, again := s.Wake()
		if left := end.Sub(s.wall); !again || wait > left {
			s.away(left)
			return h
		}
		h.wakes++
		s.wait(wait)
		if h.wakes > 10*int(d/time.Second)+1000 {
			t.Logf("the screen woke %d times with %s of %s to go", h.wakes, end.Sub(s.wall), d)
			return h
		}
	}
}

// hear is what a wake of the screen does.
func (h *heard) hear(s *stage) {
	s.Scene()
	news := s.Tell()
	if len(news) > 0 {
		h.bells++
	}
	for _, n := range news {
		h.told[n.Cause]++
		if n.First {
			h.firsts++
		}
	}
}

// lastLine is the row of the alert bar.
func (s *stage) lastLine() string {
	lines := strings.Split(strings.TrimRight(s.frame(80, 24).String(), "\n"), "\n")
	return lines[len(lines)-1]
}

// raised are the alerts on the desk by cause, as often as they were written.
func (s *stage) raised() map[string]int {
	n := map[string]int{}
	all := s.desk.Hearth
	for _, p := range s.desk.Pieces {
		all = append(all[:len(all):len(all)], p.Entries...)
	}
	for _, e := range all {
		if body, ok := e.Body.(schedule.Raised); ok {
			what := body.What
			if what == "" {
				what = body.Verdict.String()
			}
			n[what]++
		}
	}
	return n
}

// TestBarsInOneBit tells the four kinds of bar apart without colour.
func TestBarsInOneBit(t *testing.T) {
	cases := []struct{ moment, begins, key, reason string }{
		{"bar-torch-left", " !!! DANGER: TORCH LEFT LIT.", "a: seen", "danger has three marks"},
		{"bar-hot-left", " !!! DANGER: HOT PIECE LEFT - spoon.", "a: seen", "it is named though another piece is shown"},
		{"bar-overrun", " !!! DANGER: HEAT OVERRUN - spoon.", "a: seen", "danger, on the piece itself"},
		{"bar-anneal", " !! ACT: ANNEAL NOW - spoon.", "a: seen", "a call has two"},
		{"bar-soon", " ! NOTE: ANNEAL SOON - spoon.", "a: seen", "a notice has one"},
		{"bar-crack", " ! NOTE: CRACK OPEN - spoon.", "a: seen", "seen from another piece"},
		{"bar-watch-over", " ! NOTE: FIRE WATCH OVER.", "a: seen", "of the bench as a whole"},
		{"bar-ears", " ! NOTE: EARS - enough noise for today.", "a: seen", "100 dB(A) is enough after 15 min (NIOSH 98-126)"},
		{"bar-late", " ! NOTE: PICKLE OVERDUE - spoon, late by 62 h.", "a: seen", "nobody was there for 62 h 30 min"},
		{"bar-seen", " !!! DANGER: TORCH LEFT LIT.", "(seen)", "acknowledged, and it still holds"},
		{"bar-over", " !!! DANGER: HOT PIECE LEFT - spoon (over now).", "a: seen", "it is over, and nobody saw it"},
		{"bar-flood", " ! 12 alerts came due while nobody looked; first PICKLE OVER", "a: seen", "one line for a flood"},
	}
	for _, c := range cases {
		t.Run(c.moment, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			line := stageOf(t, c.moment).lastLine()
			require.True(t, strings.HasPrefix(line, c.begins), line)
			require.Contains(t, line, " "+c.key)
		})
	}
}

// stageOf is the bench at a moment.
func stageOf(t *testing.T, name string) *stage {
	t.Helper()
	for _, m := range moments {
		if m.name == name {
			return m.stage(t)
		}
	}
	require.Fail(t, "no such moment", name)
	return nil
}

// orderly is a desk that says what stood on the bar while it wrote.
type orderly struct {
	Desk
	before func([]schedule.Entry)
}

func (o orderly) Write(entries ...schedule.Entry) error {
	o.before(entries)
	return o.Desk.Write(entries...)
}

// An alert is on the desk before it is on the bar.
func TestAlertIsWrittenBeforeItIsShown(t *testing.T) {
	s := spoon(t, newStage(t)).keys("t")
	wrote := 0
	s.Bench.desk = orderly{s.desk, func(entries []schedule.Entry) {
		for _, e := range entries {
			if e.Kind() == schedule.KindRaised {
				wrote++
				require.Nil(t, s.bar(s.now()), "nothing is shown of it yet")
			}
		}
	}}
	s.wait(11 * time.Minute)
	require.Equal(t, 1, wrote)
	require.Contains(t, s.lastLine(), "TORCH LEFT LIT")
}

// What cannot be written is shown all the same, and said.
func TestAlertOnADeskThatFails(t *testing.T) {
	s := spoon(t, newStage(t)).keys("t")
	s.Bench.desk = full{s.desk}
	s.wait(11 * time.Minute)
	require.Contains(t, s.lastLine(), "!!! DANGER: TORCH LEFT LIT")
	require.Contains(t, s.text(), "NOT LOGGED: no room on the disk")
	require.Empty(t, s.raised())
	s.wait(time.Minute)
	require.Contains(t, s.lastLine(), "TORCH LEFT LIT")
	require.NotContains(t, s.text(), "NOT LOGGED", "said once, not with every look")
}

// An alert that could not be written is written once there is room.
func TestAlertIsWrittenOnceThereIsRoom(t *testing.T) {
	s := spoon(t, newStage(t)).keys("t")
	s.Bench.desk = full{s.desk}
	s.wait(10 * time.Minute)
	s.Bench.desk = s.desk
	s.wait(time.Minute).keys("l").wait(time.Minute)
	require.Equal(t, map[string]int{string(alert.TorchLeft): 1}, s.raised())
	require.Contains(t, s.lastLine(), "DANGER: TORCH LEFT LIT.")
	require.NotContains(t, s.lastLine(), "more")
}

func TestAlertIsRaisedOnce(t *testing.T) {
	s := spent(t, newStage(t)).keys("thco")
	for range 100 {
		s.wait(10 * time.Second)
	}
	require.Equal(t, 1, s.raised()[string(alert.HotLeft)])
	s.open(t).wait(time.Minute)
	require.Equal(t, 1, s.raised()[string(alert.HotLeft)], "nor after a restart")
	for what, n := range s.raised() {
		require.Equal(t, 1, n, what)
	}
}

// Two benches on one desk find the same alert at the same time.
func TestTwoBenchesRaiseOnce(t *testing.T) {
	s := spoon(t, newStage(t)).keys("t")
	other := (&stage{desk: s.desk, wall: s.wall, boot: s.boot}).open(t)
	s.wait(11 * time.Minute)
	other.wait(11 * time.Minute)
	require.Equal(t, map[string]int{string(alert.TorchLeft): 1}, s.raised())
	s.Reload()
	require.NotContains(t, s.lastLine(), "more")
	require.Contains(t, s.lastLine(), "TORCH LEFT LIT")
}

// Seen is silent, and stands as long as it holds.
func TestSeenSilencesAndNeverHides(t *testing.T) {
	s := spoon(t, newStage(t)).keys("t").wait(10 * time.Minute)
	require.Positive(t, s.listen(t, 5*time.Second).bells)
	s.keys("a")
	require.Contains(t, s.lastLine(), "TORCH LEFT LIT")
	require.Contains(t, s.lastLine(), "(seen)")
	require.Zero(t, s.listen(t, 110*time.Second).bells, "silent for the pause")
	require.Contains(t, s.lastLine(), "(seen)")
	s.keys("t").wait(toastTime)
	require.NotContains(t, s.lastLine(), "TORCH LEFT", "seen, and over")
}

// Danger that was seen and still holds begins anew after two minutes, and is then
// heard every ten seconds, as when it was first told.
func TestSeenDangerSoundsAgain(t *testing.T) {
	s := spoon(t, newStage(t)).keys("t").wait(10 * time.Minute)
	s.listen(t, time.Second)
	s.keys("a")
	require.Zero(t, s.listen(t, alert.Pause-2*time.Second).bells)
	again := s.listen(t, time.Minute)
	t.Logf("in the minute after the pause: %d bells, %d firsts, %d wakes", again.bells, again.firsts, again.wakes)
	require.GreaterOrEqual(t, again.bells, 1, "it still holds")
	require.LessOrEqual(t, again.bells, 7, "every ten seconds")
	require.LessOrEqual(t, again.wakes, 300, "the bar flashes twice a second at most, and one figure runs")
	require.Zero(t, again.firsts, "the desktop was told")
}

// A bar that is not seen sounds as alert.Sounds says, first and again.
func TestTellCounts(t *testing.T) {
	cases := []struct {
		name, reason string
		cause        alert.Cause
		set          func(*testing.T, *stage)
		length       time.Duration
		want         int
	}{
		{"danger", "every ten seconds", alert.TorchLeft,
			func(t *testing.T, s *stage) { spoon(t, s).keys("t").wait(10 * time.Minute) }, 59 * time.Second, 6},
		{"call", "every thirty seconds, four times", alert.AnnealNow,
			func(t *testing.T, s *stage) { stageBar(t, s, "bar-anneal") }, time.Hour, 5},
		{"notice", "every five minutes, three times", alert.WatchOver,
			func(t *testing.T, s *stage) { spoon(t, s).keys("tt").wait(time.Hour) }, time.Hour, 4},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			s := newStage(t)
			c.set(t, s)
			h := s.listen(t, c.length)
			require.Equal(t, c.want, h.told[c.cause])
			require.Equal(t, c.want, h.bells)
			require.Equal(t, 1, h.firsts)
		})
	}
}

// stageBar brings a bench to a moment.
func stageBar(t *testing.T, s *stage, name string) {
	t.Helper()
	for _, m := range moments {
		if m.name == name {
			m.tell(t, s)
			return
		}
	}
	require.Fail(t, "no such moment", name)
}

// The page in front of the smith says it already.
func TestNoSoundForWhatIsInFront(t *testing.T) {
	s := spent(t, newStage(t)).keys("hco")
	require.Empty(t, s.listen(t, 5*time.Minute).told, "quench now fills the page")
	s.piece(t, "bowl", "C11000", "1.2 sheet")
	require.Equal(t, 1, s.listen(t, time.Second).told[alert.QuenchNow], "it is behind another page now")

	s = spoon(t, newStage(t)).keys("k")
	require.Empty(t, s.listen(t, 20*time.Minute).told, "the open crack fills the page")
	s.keys("v")
	require.Equal(t, 1, s.listen(t, time.Second).told[alert.CrackOpen], "another page says less")
}

// A machine that slept for nine hours says how late it is, once.
func TestSleepOfNineHours(t *testing.T) {
	s := spent(t, newStage(t)).keys("hcoqp")
	s.listen(t, 5*time.Second)
	s.away(9 * time.Hour).checkClock()
	require.Contains(t, s.lastLine(), "PICKLE OVERDUE - spoon, late by 8 h 30 min")
	require.NotContains(t, s.lastLine(), "more")
	h := s.listen(t, time.Minute)
	require.Equal(t, 1, h.bells)
	require.Equal(t, 1, h.firsts)
}

// One that was raised before the machine slept is told with how late it is seen.
func TestSleepOverAStandingAlert(t *testing.T) {
	s := spoon(t, newStage(t)).keys("t").wait(10 * time.Minute)
	s.listen(t, time.Second)
	require.NotContains(t, s.lastLine(), "late")
	s.away(9 * time.Hour).checkClock()
	require.Contains(t, s.lastLine(), "TORCH LEFT LIT, late by 9 h")
	require.Equal(t, 1, func() int { h := heard{told: map[alert.Cause]int{}}; h.hear(s); return h.bells }(), "one bell, not one for every ten seconds of the night")
}

// A flood is one line, and one key sees all of it.
func TestSeenTakesTheFlood(t *testing.T) {
	s := stageOf(t, "bar-flood").keys("a")
	for _, a := range s.standing(s.now()) {
		require.True(t, a.Acked, a.Sentence())
	}
	require.NotContains(t, s.lastLine(), "a: seen")
	require.Zero(t, s.listen(t, time.Hour).bells)
}

const year = 365 * 24 * time.Hour

// A clock that is set is no time that passed.
func TestClockSetByAYear(t *testing.T) {
	cases := []struct {
		name, reason string
		set          func(*testing.T, *stage)
		jump         time.Duration
	}{
		{"torch, forward", "lit a minute ago", func(t *testing.T, s *stage) { spoon(t, s).keys("t") }, year},
		{"torch, back", "lit a minute ago", func(t *testing.T, s *stage) { spoon(t, s).keys("t") }, -year},
		{"heat, forward", "in the flame for a minute", func(t *testing.T, s *stage) { spent(t, s).keys("h") }, year},
		{"heat, back", "in the flame for a minute", func(t *testing.T, s *stage) { spent(t, s).keys("h") }, -year},
		{"hot, forward", "out a minute ago", func(t *testing.T, s *stage) { spent(t, s).keys("hcf") }, year},
		{"pickle, forward", "in for a minute", func(t *testing.T, s *stage) { spent(t, s).keys("hcoqp") }, year},
		{"pickle, back", "in for a minute", func(t *testing.T, s *stage) { spent(t, s).keys("hcoqp") }, -year},
		{"ears, forward", "15 min at 100 dB(A) have not passed", func(t *testing.T, s *stage) { spoon(t, s).noise(100) }, year},
		{"ears, back", "15 min at 100 dB(A) have not passed", func(t *testing.T, s *stage) { spoon(t, s).noise(100) }, -year},
		{"watch, forward two hours", "the hour after the flame has not passed", func(t *testing.T, s *stage) { spoon(t, s).keys("tt") }, 2 * time.Hour},
		{"watch, back", "the hour after the flame has not passed", func(t *testing.T, s *stage) { spoon(t, s).keys("tt") }, -year},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			s := newStage(t)
			c.set(t, s)
			s.listen(t, time.Minute)
			before := s.raised()
			s.wall = s.wall.Add(c.jump)
			s.wait(time.Second)
			require.Equal(t, before, s.raised(), "none is raised by the jump")
			s.wall = s.wall.Add(-c.jump)
			s.wait(time.Second)
			require.Equal(t, before, s.raised(), "nor by the way back")
		})
	}
}

// An alert that stands does not become late by a year.
func TestClockSetUnderAStandingAlert(t *testing.T) {
	for _, jump := range []time.Duration{year, -year} {
		t.Run(jump.String(), func(t *testing.T) {
			s := spoon(t, newStage(t)).keys("t").wait(10 * time.Minute)
			s.listen(t, time.Second)
			for _, j := range []time.Duration{jump, -jump} {
				s.wall = s.wall.Add(j)
				s.wait(time.Second)
				require.Contains(t, s.lastLine(), "TORCH LEFT LIT.", "not late")
				require.NotContains(t, s.lastLine(), "more")
				s.listen(t, time.Second)
			}
		})
	}
}

// The hour of the fire watch is told of though the clock was set past it.
func TestFireWatchIsToldAfterTheClockWasSet(t *testing.T) {
	s := spoon(t, newStage(t)).keys("tt").wait(time.Minute)
	s.wall = s.wall.Add(year)
	s.wait(time.Minute)
	require.NotContains(t, s.lastLine(), "FIRE WATCH OVER")
	s.wait(time.Hour)
	require.Contains(t, s.lastLine(), "FIRE WATCH OVER")
}

// After a restart what nobody saw is there again, with how late it is.
func TestRestartBringsAlertsBack(t *testing.T) {
	for _, down := range []time.Duration{11 * time.Second, time.Minute, 41*time.Minute + 7*time.Second, 9 * time.Hour} {
		t.Run(down.String(), func(t *testing.T) {
			s := spoon(t, newStage(t)).keys("t").wait(10 * time.Minute)
			due := s.standing(s.now())[0].Due
			s.away(down).open(t)
			all := s.standing(s.now())
			require.Len(t, all, 1)
			require.False(t, all[0].Acked)
			require.InDelta(t, s.wall.Sub(due).Seconds(), all[0].Late.Seconds(), 1)
			require.Contains(t, s.lastLine(), "late by")
			s.keys("a")
			s.away(time.Minute).open(t)
			require.Contains(t, s.lastLine(), "(seen)", "what was seen stays seen")
		})
	}
}

// sixDue is a class of six that was left for ten minutes more than each may wait.
func sixDue(t *testing.T, s *stage) *stage {
	t.Helper()
	for i, keys := range []string{"h", "hc", "hco", "hcoqp", "h", "hco"} {
		s.piece(t, fmt.Sprintf("spoon %d", i+1), "AG925", "8x8").keys(keys)
	}
	return s.keys("t")
}

func TestSixDueAtOnce(t *testing.T) {
	s := sixDue(t, newStage(t)).away(40 * time.Minute).open(t)
	n := len(s.standing(s.now()))
	shown := s.bar(s.now())
	require.NotNil(t, shown)
	require.Contains(t, s.lastLine(), "DANGER")
	if flood := alert.Summary(s.standing(s.now())); flood != "" {
		require.Contains(t, s.lastLine(), fmt.Sprintf("%d alerts", n))
	} else {
		require.Contains(t, s.lastLine(), fmt.Sprintf("+%d  a: seen", n-1))
	}
	dangers := map[string]bool{}
	for _, a := range s.standing(s.now()) {
		dangers[a.Name] = true
	}
	for i := range 6 {
		require.True(t, dangers[fmt.Sprintf("spoon %d", i+1)], "every piece has its alert")
	}
	require.Equal(t, 1, func() int { h := heard{told: map[alert.Cause]int{}}; h.hear(s); return h.bells }(), "one bell")
}

// Ten minutes away: everything that is due then is on the bar at once.
func TestSixAfterTenMinutes(t *testing.T) {
	s := sixDue(t, newStage(t)).away(10 * time.Minute).open(t)
	n := len(s.standing(s.now()))
	require.GreaterOrEqual(t, n, 5)
	require.Contains(t, s.lastLine(), "!!! DANGER")
	require.Contains(t, s.lastLine(), fmt.Sprintf("+%d  a: seen", n-1))
	require.Equal(t, view.Distance, s.page)
}

// ringing is a screen that counts its bells.
type ringing struct {
	*canvas
	bells atomic.Int64
}

func (r *ringing) Beep() error {
	r.bells.Add(1)
	return nil
}

// inVigil plays an evening with channels, in a bubble of fake time.
func inVigil(t *testing.T, c Channels, play func(*evening, *ringing)) {
	t.Helper()
	synctest.Test(t, func(t *testing.T) {
		time.Sleep(time.Until(eveningStart))
		e := &evening{t: t, desk: memoryDesk(t), begun: time.Now(), ended: make(chan error, 1)}
		b, err := NewBench(Config{Desk: e.desk, Location: time.UTC, Clock: Clock{Wall: e.wall, Boot: e.boot}})
		require.NoError(t, err)
		e.bench = b
		e.canvas, e.glass = newGlass(t)
		screen := &ringing{canvas: e.canvas}
		go func() { e.ended <- RunOn(b, screen, c) }()
		t.Cleanup(func() { _ = screen.PostEvent(tcell.NewEventError(errStopped)) })
		synctest.Wait()
		play(e, screen)
		if e.runs() {
			e.quit()
		}
		require.NoError(t, e.result())
	})
}

// watchman is a way to keep the screen lit that counts.
type watchman struct {
	asked, released atomic.Int64
	takes           time.Duration
	err             error
}

func (w *watchman) ask() (func() error, error) {
	w.asked.Add(1)
	time.Sleep(w.takes)
	if w.err != nil {
		return nil, w.err
	}
	return func() error { w.released.Add(1); return nil }, nil
}

// counts requires how often it was asked and released.
func (w *watchman) counts(t *testing.T, asked, released int64, reason string) {
	t.Helper()
	require.Equal(t, asked, w.asked.Load(), "asked: %s", reason)
	require.Equal(t, released, w.released.Load(), "released: %s", reason)
}

func TestVigilWhileTiming(t *testing.T) {
	w := &watchman{}
	inVigil(t, Channels{StayAwake: w.ask}, func(e *evening, _ *ringing) {
		e.keys(square)
		e.wait(time.Hour)
		w.counts(t, 0, 0, "nothing runs")
		e.keys("h")
		w.counts(t, 1, 0, "in the flame")
		e.wait(time.Minute)
		e.keys("co")
		w.counts(t, 1, 0, "the same heat, a minute of drawings later")
		e.wait(time.Minute)
		e.keys("q")
		w.counts(t, 1, 1, "cooled: nothing runs")
		e.keys("t")
		w.counts(t, 2, 1, "the torch is lit")
		e.keys("t")
		w.counts(t, 2, 2, "the fire watch is no reason")
		e.keys("pxx")
		w.counts(t, 3, 3, "the end of the program ends it")
	})
}

func TestVigilThatTakesItsTime(t *testing.T) {
	w := &watchman{takes: 5 * time.Second}
	inVigil(t, Channels{StayAwake: w.ask}, func(e *evening, _ *ringing) {
		e.keys(square + "hu")
		w.counts(t, 1, 0, "it has not answered")
		e.wait(10 * time.Second)
		w.counts(t, 1, 1, "it is let go as soon as it comes")
		e.keys("huh")
		w.counts(t, 2, 1, "asked once, though twice wanted")
		e.wait(10 * time.Second)
		w.counts(t, 2, 1, "and kept")
		e.keys("uu") // it asks after ten seconds
		w.counts(t, 2, 2, "let go")
		e.keys("hxx")
		require.NoError(t, e.result(), "the end waits for the answer")
		w.counts(t, 3, 3, "and lets it go")
	})
}

func TestVigilInVainIsSaidOnce(t *testing.T) {
	w := &watchman{err: errNoWatch}
	inVigil(t, Channels{StayAwake: w.ask}, func(e *evening, _ *ringing) {
		e.keys(square + "h")
		said := 0
		for range 300 {
			e.wait(time.Second)
			if strings.Contains(e.text(), errNoWatch.Error()) {
				said++
			}
		}
		require.Positive(t, said)
		require.LessOrEqual(t, said, 1+int(toastTime/time.Second), "as long as one answer stands")
		e.keys("cothth")
		w.counts(t, 1, 0, "not asked again")
		require.NotContains(t, e.text(), errNoWatch.Error())
	})
}

var errNoWatch = errors.New("nothing here keeps the screen lit")

// crier is a herald that keeps what it was told.
type crier struct {
	mutex  sync.Mutex
	told   []string
	closed int
}

func (c *crier) Tell(t Telling) {
	c.mutex.Lock()
	defer c.mutex.Unlock()
	c.told = append(c.told, t.Text())
}

func (c *crier) Close() { c.closed++ }

// The desktop is told once, the bell rings with every sound.
func TestBellAndHerald(t *testing.T) {
	c := &crier{}
	inVigil(t, Channels{Bell: true, Herald: func(func(error)) Herald { return c }}, func(e *evening, r *ringing) {
		e.keys(square + "t")
		e.wait(10 * time.Minute)
		e.wait(29 * time.Second)
		c.mutex.Lock()
		require.Equal(t, []string{"TORCH LEFT LIT"}, c.told)
		c.mutex.Unlock()
		require.Equal(t, int64(3), r.bells.Load(), "at once, and every ten seconds")
		e.keys("a")
		e.wait(time.Minute)
		require.Equal(t, int64(3), r.bells.Load(), "seen is silent")
	})
	require.Equal(t, 1, c.closed)
}

// Without a bell nothing rings.
func TestNoBell(t *testing.T) {
	inVigil(t, Channels{}, func(e *evening, r *ringing) {
		e.keys(square + "t")
		e.wait(11 * time.Minute)
		require.Zero(t, r.bells.Load())
		e.shows("TORCH LEFT LIT")
	})
}

// A herald that fails is said, and the rest goes on.
func TestHeraldThatFails(t *testing.T) {
	var fault func(error)
	inVigil(t, Channels{Herald: func(f func(error)) Herald { fault = f; return &crier{} }}, func(e *evening, _ *ringing) {
		e.wait(time.Second)
		fault(errNoWatch)
		e.wait(time.Second)
		e.shows(errNoWatch.Error())
		e.keys(square)
		e.shows("begun: piece 1")
	})
}

// passing is a desk on a record that passes over an alert that another wrote.
type passing struct{ *recordDesk }

func (p passing) Write(entries ...schedule.Entry) error {
	all, err := encoded(entries)
	if err != nil {
		return err
	}
	var rows, derived []record.Row
	for _, r := range all {
		if r.Kind == string(schedule.KindRaised) {
			derived = append(derived, r)
		} else {
			rows = append(rows, r)
		}
	}
	return p.rec.AppendWith(p.fresh, derived, rows...)
}

// Two programs on one record find the same alert, the second a second later and
// before it has heard of the first: it is on the record once, and shown once.
func TestTwoBenchesOnOneRecordRaiseOnce(t *testing.T) {
	d := passing{openRecordDesk(t)}
	wall, boot := stageStart, time.Duration(0)
	open := func() *Bench {
		b, err := NewBench(Config{Desk: d, Location: time.UTC, Clock: Clock{Wall: func() time.Time { return wall },
			Boot: func() (time.Duration, bool) { return boot, true }}})
		require.NoError(t, err)
		return b
	}
	first := open()
	first.Press(Press{Rune: 't'})
	second := open()
	for _, b := range []*Bench{first, second} {
		wall, boot = wall.Add(10*time.Minute), boot+10*time.Minute
		b.checkClock()
		wall, boot = wall.Add(-9*time.Minute-59*time.Second), boot-9*time.Minute-59*time.Second
	}
	second.Reload()
	entries, err := d.read(d.bench)
	require.NoError(t, err)
	raised := 0
	for _, e := range entries {
		if e.Kind() == schedule.KindRaised {
			raised++
		}
	}
	require.Equal(t, 1, raised)
	require.Empty(t, second.unsaved, "it is no fault that another wrote it")
	require.Zero(t, second.bar(second.now()).More, "one alert, once")
}

// A call that nobody answers rings with every course that is logged over it.
func TestCallRingsWithEveryCourse(t *testing.T) {
	s := spoon(t, newStage(t)).worked(t, "4.6x6.4")
	require.Equal(t, 5, s.listen(t, time.Hour).told[alert.AnnealNow], "once, and four times again")
	s.keys(" ")
	require.Equal(t, 1, s.listen(t, time.Minute).told[alert.AnnealNow])
	s.keys("a").keys(" ")
	require.Zero(t, s.listen(t, time.Minute).told[alert.AnnealNow], "it was seen")
}
