package tui

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/tui/view"
)

// stage is a bench in memory with a clock that stands still unless it is moved.
type stage struct {
	*Bench
	desk *Memory
	wall time.Time
	boot time.Duration
}

var stageStart = time.Date(2026, time.March, 3, 19, 0, 0, 0, time.UTC)

const (
	stageBench = schedule.ID("0198f4b6-0000-7000-8000-0000000000b0")
	stageHand  = schedule.ID("0198f4b6-0000-7000-8000-0000000000a0")
)

// newStage is an empty bench.
func newStage(t testing.TB) *stage {
	t.Helper()
	s := &stage{desk: &Memory{Bench: stageBench, Hand: stageHand, HandName: "ab"}, wall: stageStart}
	return s.open(t)
}

// open opens the bench anew on the same desk, as after a restart.
func (s *stage) open(t testing.TB) *stage {
	t.Helper()
	b, err := NewBench(Config{Desk: s.desk, Location: time.UTC, Demo: func() Desk { return &Memory{Invented: true} },
		Clock: Clock{Wall: func() time.Time { return s.wall }, Boot: func() (time.Duration, bool) { return s.boot, true }}})
	require.NoError(t, err)
	b.Resize(80, 24)
	s.Bench = b
	return s
}

// wait lets time pass, on both clocks.
func (s *stage) wait(d time.Duration) *stage {
	s.wall, s.boot = s.wall.Add(d), s.boot+d
	s.checkClock()
	return s
}

// piece begins a piece of a metal and a size.
func (s *stage) piece(t testing.TB, name, alloy, size string, zones ...string) *stage {
	t.Helper()
	section, err := unit.ParseSize(size, unit.Unshaped)
	require.NoError(t, err)
	require.NoError(t, s.start(name, schedule.Started{Alloy: alloy, Calliper: 0.1, Zones: zones,
		Reading: schedule.Reading{Size: section}}))
	return s.wait(time.Minute)
}

// keys presses keys, half a second apart: long enough for none to be a bounce.
// Enter is written as a new line, Esc as \x1b.
func (s *stage) keys(text string) *stage {
	for _, r := range text {
		s.Press(pressFor(r))
		s.wait(500 * time.Millisecond)
	}
	return s
}

func pressFor(r rune) Press {
	switch r {
	case '\n':
		return Press{Key: Enter}
	case '\x1b':
		return Press{Key: Escape}
	case '\t':
		return Press{Key: Tab}
	case '\b':
		return Press{Key: Backspace}
	}
	return Press{Rune: r}
}

// worked is a course that ends at a size.
func (s *stage) worked(t testing.TB, size string) *stage {
	t.Helper()
	section, err := unit.ParseSize(size, unit.Unshaped)
	require.NoError(t, err)
	s.log(schedule.Pass{Process: coldwork.Lengthen, Count: 1, Reading: schedule.Reading{Size: section}})
	require.False(t, s.toast.bad, s.toast.text)
	return s.wait(time.Minute)
}

// frame is what is to be seen, at a size.
func (s *stage) frame(w, h int) *view.Frame {
	s.Resize(w, h)
	return view.Draw(s.Scene(), w, h)
}

func (s *stage) text() string { return s.frame(80, 24).String() }

// logged are the kinds of the entries of the piece on the screen, voided ones and
// what is written along left out.
func (s *stage) logged() (kinds []schedule.Kind) {
	p := s.current()
	dead := schedule.Voided(p.entries)
	for _, e := range p.entries {
		if !dead[e.ID] && e.Kind() != schedule.KindVoid && e.Kind() != schedule.KindShown && e.Kind() != schedule.KindRaised {
			kinds = append(kinds, e.Kind())
		}
	}
	return kinds
}

// moment is a state of the bench that has a picture of its own.
type moment struct {
	name string
	tell func(t *testing.T, s *stage)
}

// spoon is a sterling bar worked to just over half its limit.
func spoon(t testing.TB, s *stage) *stage {
	return s.piece(t, "spoon", "AG925", "8x8").worked(t, "7.2x7.8")
}

// spent is that bar worked past its limit, the alert seen.
func spent(t testing.TB, s *stage) *stage {
	return spoon(t, s).worked(t, "5.8x6.9").worked(t, "4.9x6.7").keys("a")
}

// moments are all the states that are told apart at two metres, and the pages.
var moments = slices.Concat(benchMoments, planMoments, drillMoments, curveMoments, sharingMoments)

// benchMoments are those that need no plan.
var benchMoments = []moment{
	{"empty", func(*testing.T, *stage) {}},
	{"carry-on", func(t *testing.T, s *stage) { spoon(t, s) }},
	{"work-on", func(t *testing.T, s *stage) { s.piece(t, "tankard", "SN92", "2 sheet") }},
	{"soon", func(t *testing.T, s *stage) { spoon(t, s).worked(t, "5.8x6.9") }},
	{"anneal", func(t *testing.T, s *stage) { spent(t, s) }},
	{"heating", func(t *testing.T, s *stage) { spent(t, s).keys("h").wait(72 * time.Second) }},
	{"soak", func(t *testing.T, s *stage) { spent(t, s).keys("hc").wait(10 * time.Second) }},
	{"soak-over", func(t *testing.T, s *stage) { spent(t, s).keys("hc").wait(70 * time.Second) }},
	{"soak-too-long", func(t *testing.T, s *stage) { spent(t, s).keys("hc").wait(6 * time.Minute) }},
	{"hot-wait", func(t *testing.T, s *stage) { spent(t, s).keys("hco").wait(3 * time.Second) }},
	{"hot-quench", func(t *testing.T, s *stage) { spent(t, s).keys("hco").wait(20 * time.Second) }},
	{"hot-air", func(t *testing.T, s *stage) { s.piece(t, "band", "C26000", "6x3").keys("hco").wait(3 * time.Hour) }},
	{"pickle", func(t *testing.T, s *stage) { spent(t, s).keys("hcoqp").wait(3 * time.Minute) }},
	{"pickle-over", func(t *testing.T, s *stage) { spent(t, s).keys("hcoqp").wait(63 * time.Hour) }},
	{"quenched", func(t *testing.T, s *stage) { spent(t, s).keys("hcoq").wait(15 * time.Second) }},
	{"prove", func(t *testing.T, s *stage) { spent(t, s).keys("hcoqpr").wait(15 * time.Second) }},
	{"crack", func(t *testing.T, s *stage) { spoon(t, s).keys("k").wait(15 * time.Second) }},
	{"finished", func(t *testing.T, s *stage) { spoon(t, s).arrow(End).wait(time.Minute) }},
	{"unknown", func(t *testing.T, s *stage) { unknown(s.piece(t, "spoon", "AG925", "8x8")) }},
	{"alert", func(t *testing.T, s *stage) { spoon(t, s).worked(t, "4.6x6.4") }},
	{"answer", func(t *testing.T, s *stage) { spoon(t, s).keys(" ") }},
	{"refusal", func(t *testing.T, s *stage) { spoon(t, s).keys("s") }},
	{"question", func(t *testing.T, s *stage) { spent(t, s).keys("hcox") }},
	{"hot-elsewhere", func(t *testing.T, s *stage) {
		spent(t, s).keys("hco").piece(t, "bowl", "C11000", "1.2 sheet").wait(time.Minute)
	}},
	{"zone", func(t *testing.T, s *stage) { s.piece(t, "band", "AG925", "8x8", "tip", "middle", "butt").keys("zz") }},
	{"measure", func(t *testing.T, s *stage) { spoon(t, s).keys("6.4") }},
	{"measure-refused", func(t *testing.T, s *stage) { spoon(t, s).keys("6.4.1\n") }},
	{"begin", func(_ *testing.T, s *stage) { s.keys("bster") }},
	{"near", func(t *testing.T, s *stage) { spent(t, s).keys("h").wait(20 * time.Second).keys("v") }},
	{"why", func(t *testing.T, s *stage) { spent(t, s).keys("\t") }},
	{"why-picture", func(t *testing.T, s *stage) {
		spent(t, s).keys("\t")
		s.scroll = 99 // to the end, whatever the size
	}},
	{"keys", func(t *testing.T, s *stage) { spoon(t, s).keys("?") }},
	{"cautions", func(t *testing.T, s *stage) { spent(t, s).keys("hcow") }},

	{"bar-torch-left", func(t *testing.T, s *stage) { spoon(t, s).keys("t").wait(10 * time.Minute) }},
	{"bar-hot-left", func(t *testing.T, s *stage) {
		spent(t, s).keys("hco").piece(t, "bowl", "C11000", "1.2 sheet").wait(9 * time.Minute)
	}},
	{"bar-overrun", func(t *testing.T, s *stage) { spent(t, s).keys("h").wait(10 * time.Minute) }},
	{"bar-late", func(t *testing.T, s *stage) {
		spent(t, s).keys("hcoqp").away(62*time.Hour + 30*time.Minute).open(t)
	}},
	{"bar-watch-over", func(t *testing.T, s *stage) { spoon(t, s).keys("tt").wait(time.Hour) }},
	{"bar-ears", func(t *testing.T, s *stage) { spoon(t, s).noise(100).wait(15 * time.Minute) }},
	{"bar-crack", func(t *testing.T, s *stage) { spoon(t, s).keys("k").piece(t, "bowl", "C11000", "1.2 sheet") }},
	{"bar-soon", func(t *testing.T, s *stage) {
		spoon(t, s).worked(t, "5.8x6.9").piece(t, "bowl", "C11000", "1.2 sheet")
	}},
	{"bar-anneal", func(t *testing.T, s *stage) {
		spoon(t, s).worked(t, "4.6x6.4").piece(t, "bowl", "C11000", "1.2 sheet")
	}},
	{"bar-seen", func(t *testing.T, s *stage) { spoon(t, s).keys("t").wait(10 * time.Minute).keys("a").wait(time.Minute) }},
	{"bar-over", func(t *testing.T, s *stage) {
		spent(t, s).keys("hco").wait(10 * time.Minute).keys("qf").wait(time.Minute)
	}},
	{"bar-flood", func(t *testing.T, s *stage) { flooded(t, s, 12) }},
	{"board", func(t *testing.T, s *stage) { class(t, s).keys("vv") }},
	{"board-one-heat", func(t *testing.T, s *stage) { class(t, s).keys("vv.").arrow(Down).keys(".") }},
}

// unknown puts an entry of a kind to come on the piece.
func unknown(s *stage) {
	e := s.entry(s.shown, schedule.Unknown{Row: schedule.Row{Kind: "gilded"}, Why: "this version of dullred does not read \"gilded\" entries (version 1)"})
	s.write(e)
	s.wait(time.Minute)
}

func (m moment) stage(t *testing.T) *stage {
	s := newStage(t)
	m.tell(t, s)
	return s
}

var sizes = []struct{ w, h int }{{60, 20}, {80, 24}, {120, 40}}

func (m moment) file() string { return fmt.Sprintf("testdata/frames/%s.txt", m.name) }
