package tui

import (
	"errors"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/tui/view"
)

func TestChainByItsOwnKeys(t *testing.T) {
	s := newStage(t)
	spent(t, s)
	for _, step := range []struct {
		key  string
		word string
		next string
	}{
		{"h", "heat begun", "c"}, {"c", "heat reached", "o"}, {"o", "heat out", "q"}, {"q", "quenched", "p"},
		{"p", "in the pickle", "r"}, {"r", "out of the pickle", "s/y"}, {"s", "proved soft", "space"},
	} {
		s.keys(step.key)
		require.False(t, s.toast.bad, s.toast.text)
		require.Contains(t, s.toast.text, step.word)
		require.Equal(t, step.next, s.Scene().Piece.Next.Key, "after %s", step.word)
	}
	require.Zero(t, s.Scene().Piece.Advice.Spent, "the count starts again")
	require.Equal(t, []schedule.Kind{"piece started", "pass", "pass", "pass", "alert acknowledged", "heat begun",
		"heat reached", "heat out", "quenched", "in the pickle", "out of the pickle", "proved soft"}, s.logged())
}

// Every key of the table does something that is seen, on a piece at work.
func TestEveryKeyAnswers(t *testing.T) {
	for _, k := range keys {
		if len(k.press) == 0 {
			continue
		}
		t.Run(k.name, func(t *testing.T) {
			s := newStage(t)
			spoon(t, s).keys("\x1b")
			s.toast = toast{}
			before := s.text()
			s.Press(k.press[0])
			require.True(t, s.Quit() || s.text() != before, "nothing is seen of %s", k.name)
		})
	}
}

func TestKeysAreUnmodifiedAndUnique(t *testing.T) {
	seen := map[Press]string{}
	for _, k := range keys {
		require.NotEmpty(t, k.words)
		for i, p := range k.press {
			require.Empty(t, seen[p], "%s and %s share a key", k.name, seen[p])
			seen[p] = k.name
			if p.Rune != 0 && i == 0 && p.Rune != '?' {
				require.True(t, p.Rune < 'A' || p.Rune > 'Z', "%s needs shift", k.name)
			}
			require.NotEqual(t, Escape, p.Key, "nothing urgent sits on Esc")
		}
	}
	for _, act := range []schedule.Act{schedule.ActPass, schedule.ActBegin, schedule.ActReach, schedule.ActOut, schedule.ActQuench,
		schedule.ActCool, schedule.ActPickle, schedule.ActRinse, schedule.ActProve, schedule.ActFile, schedule.ActNone} {
		require.NotEmpty(t, next(act).Key, act)
	}
}

// Two hundred gloved presses, each with bounces, are two hundred courses.
func TestGlovedBouncesCountOnce(t *testing.T) {
	s := newStage(t)
	s.piece(t, "spoon", "AG999", "8x8")
	const presses = 200
	for i := range presses {
		s.Press(Press{Rune: ' '})
		for range i % 4 { // each within 250 ms of the last one seen
			s.wait(time.Duration(60+i%180) * time.Millisecond)
			s.Press(Press{Rune: ' '})
		}
		s.wait(251 * time.Millisecond)
	}
	passes := 0
	for _, kind := range s.logged() {
		if kind == schedule.KindPass {
			passes++
		}
	}
	require.Equal(t, presses, passes)
}

func TestBounceRules(t *testing.T) {
	cases := []struct {
		name, reason string
		gap          time.Duration
		one, two     rune
		again        bool
	}{
		{"at once", "a worn switch", 10 * time.Millisecond, ' ', ' ', true},
		{"at 249 ms", "the last that counts as one", 249 * time.Millisecond, ' ', ' ', true},
		{"at 250 ms", "a second press", 250 * time.Millisecond, ' ', ' ', false},
		{"another key", "two keys are two acts", 10 * time.Millisecond, 'h', 'c', false},
		{"a clock that went back", "nothing is lost for an hour", -time.Hour, ' ', ' ', false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			var b bounce
			require.False(t, b.again(Press{Rune: c.one}, stageStart))
			require.Equal(t, c.again, b.again(Press{Rune: c.two}, stageStart.Add(c.gap)), c.reason)
		})
	}
}

func TestFormIsNeverDebounced(t *testing.T) {
	s := newStage(t)
	spoon(t, s)
	for _, r := range "6.66" {
		s.Press(pressFor(r)) // a calliper types faster than any finger
	}
	s.Press(Press{Key: Enter})
	require.Equal(t, "6.66x7.8 mm", s.section(s.current()).String(), "the other side is kept")
}

func TestReadingOf(t *testing.T) {
	sheet := coldwork.Section{Shape: unit.Sheet, Thick: 1.2, Diameter: 150}
	rect := coldwork.Section{Shape: unit.Rectangular, Thick: 8, Width: 10}
	cases := []struct {
		name    string
		section coldwork.Section
		text    string
		want    string // empty is refused
	}{
		{"one figure", rect, "6.00", "6x10 mm"},
		{"comma", rect, "6,00", "6x10 mm"},
		{"unit", rect, "6.00 mm", "6x10 mm"},
		{"inches", rect, "0.25in", "6.35x10 mm"},
		{"second side", rect, "x9", "8x9 mm"},
		{"both", rect, "7x9", "7x9 mm"},
		{"first and x", rect, "7x", "7x10 mm"},
		{"square becomes a bar", coldwork.Section{Shape: unit.Square, Thick: 8, Width: 8}, "7", "7x8 mm"},
		{"round", coldwork.Section{Shape: unit.Round, Diameter: 6}, "5.5", "5.5 mm round"},
		{"ring of a vessel", sheet, "141", "ring 141 mm"},
		{"wall of a vessel", sheet, "1.1 sheet", "1.1 mm sheet"},
		{"another shape", rect, "6 round", "6 mm round"},
		{"a word", rect, "thick", ""},
		{"nothing", rect, "x", ""},
		{"minus", rect, "-6", ""},
		{"two points", rect, "6.4.1", ""},
		{"zero", rect, "0", ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r, err := readingOf(c.section, c.text)
			if c.want == "" {
				require.Error(t, err)
				return
			}
			require.NoError(t, err)
			require.Equal(t, c.want, r.String())
		})
	}
}

// What was typed and refused is kept, to be mended, and nothing is logged.
func TestRefusedMeasureIsKept(t *testing.T) {
	s := newStage(t)
	spoon(t, s)
	n := len(s.current().entries)
	s.keys("66\n")
	require.NotNil(t, s.form, "a side that grows ninefold is a point that was not typed")
	require.Contains(t, s.text(), "NOT LOGGED")
	require.Len(t, s.current().entries, n)
	s.keys("\b.4.1\n")
	require.NotNil(t, s.form, "two points are no figure")
	require.Len(t, s.current().entries, n)
	s.keys("\b\b\n")
	require.Nil(t, s.form)
	require.Equal(t, "6.4x7.8 mm", s.section(s.current()).String())
	s.keys("2\n\n")
	require.Equal(t, "2x7.8 mm", s.section(s.current()).String(), "Enter again: it is so")
}

func TestUndoWithinTenSeconds(t *testing.T) {
	s := newStage(t)
	spoon(t, s)
	spent := s.Scene().Piece.Advice.Spent
	s.keys(" ").wait(9 * time.Second).keys("u")
	require.Contains(t, s.toast.text, "taken back: pass")
	require.Equal(t, spent, s.Scene().Piece.Advice.Spent)
	s.keys("u")
	require.NotNil(t, s.ask, "the reading before it is a minute old: it is asked for")
	s.keys("n")
	require.Nil(t, s.ask, "any other key is a no")
	s.keys("u").keys("u")
	require.Contains(t, s.toast.text, "taken back")
	require.Zero(t, s.Scene().Piece.Advice.Spent)
	s.keys("uu")
	require.Contains(t, s.toast.text, errNothing.Error())
}

// Taking back the course that raised an alert takes the alert off the screen, and
// crossing the limit again brings it back.
func TestAlertOfAnUndoneCourse(t *testing.T) {
	s := newStage(t)
	spoon(t, s).worked(t, "4.6x6.4")
	require.NotNil(t, s.Scene().Alarm)
	s.keys("uu")
	require.Nil(t, s.Scene().Alarm)
	s.worked(t, "4.6x6.4")
	require.NotNil(t, s.Scene().Alarm)
	s.keys("a")
	require.Nil(t, s.Scene().Alarm, "seen")
	s.keys("a")
	require.True(t, s.toast.bad)
}

// A step logged late is put right to the second, and no further than the step
// before it and the present.
func TestMoveAStep(t *testing.T) {
	s := newStage(t)
	spent(t, s).keys("h").wait(2 * time.Minute).keys("c")
	reached := s.current().state().Zones[0].Heat.At
	s.wait(5 * time.Second).keys("-------")
	require.Equal(t, reached.Add(-7*time.Second), s.current().state().Zones[0].Heat.At)
	s.keys("+=")
	require.Equal(t, reached.Add(-5*time.Second), s.current().state().Zones[0].Heat.At)
	require.Equal(t, schedule.VerdictSoak, s.Scene().Piece.Advice.Verdict)
	for range 300 {
		s.keys("-")
	}
	require.Equal(t, errBefore.Error(), s.toast.text)
}

func TestMoveIsNotIntoTheFuture(t *testing.T) {
	s := newStage(t)
	spent(t, s).keys("h")
	s.Press(Press{Rune: '+'})
	s.Press(Press{Rune: '+'})
	require.Equal(t, errFuture.Error(), s.toast.text)
	s = newStage(t)
	spoon(t, s).keys("-")
	require.Equal(t, errNoStep.Error(), s.toast.text)
}

func TestUndoOfAMoveBringsTheStepBack(t *testing.T) {
	s := newStage(t)
	spent(t, s).keys("h").wait(time.Minute)
	begun := s.current().state().Zones[0].Heat.At
	s.keys("--u")
	require.Equal(t, begun.Add(-second), s.current().state().Zones[0].Heat.At)
}

// A jump of the wall clock in the middle of a soak changes nothing of what is
// left, whichever way, and the next step still moves the heat on.
func TestClockThatIsSet(t *testing.T) {
	for _, jump := range []time.Duration{time.Hour, -time.Hour, 400 * 24 * time.Hour, -400 * 24 * time.Hour, 3 * time.Second} {
		t.Run(jump.String(), func(t *testing.T) {
			s := newStage(t)
			spent(t, s).keys("hc").wait(5 * time.Second)
			left := s.Scene().Piece.Timer.Left()
			s.wall = s.wall.Add(jump)
			s.wait(time.Second)
			require.Equal(t, left-time.Second, s.Scene().Piece.Timer.Left())
			require.Contains(t, s.toast.text, "the clock of this machine was set")
			require.Len(t, schedule.ClockSteps(s.desk.Hearth), 1)
			s.open(t).wait(2 * time.Second)
			require.Equal(t, left-3*time.Second, s.Scene().Piece.Timer.Left(), "and after a restart")
			s.keys("o")
			require.Equal(t, schedule.VerdictWait, s.Scene().Piece.Advice.Verdict)
			s.wall = s.wall.Add(-jump)
			s.wait(time.Second).keys("q")
			require.Equal(t, schedule.VerdictProve, s.Scene().Piece.Advice.Verdict, "and once it is put right")
			require.Len(t, schedule.ClockSteps(s.desk.Hearth), 2)
		})
	}
}

// Drift and the slewing of a time service are no steps.
func TestClockThatDrifts(t *testing.T) {
	s := newStage(t)
	spoon(t, s)
	for range 500 {
		s.wall = s.wall.Add(50 * time.Millisecond)
		s.wait(10 * time.Minute)
	}
	require.Empty(t, schedule.ClockSteps(s.desk.Hearth))
}

// A clock that was set back while the program was not running would put new
// entries before the old ones.
func TestClockSetBackBetweenTwoStarts(t *testing.T) {
	s := newStage(t)
	spent(t, s).keys("h")
	s.wall = s.wall.Add(-48 * time.Hour)
	s.open(t).wait(time.Second).keys("c")
	require.Equal(t, schedule.VerdictSoak, s.Scene().Piece.Advice.Verdict)
	require.Len(t, schedule.ClockSteps(s.desk.Hearth), 1)
}

func TestQuitAsksWhileSomethingIsHot(t *testing.T) {
	s := newStage(t)
	spent(t, s).keys("hcox")
	require.False(t, s.Quit())
	require.Contains(t, s.Scene().Ask, "spoon is HOT")
	s.keys("v").keys("x")
	require.False(t, s.Quit(), "another key was a no")
	s.keys("x")
	require.True(t, s.Quit())
	cold := newStage(t)
	spoon(t, cold).keys("x")
	require.True(t, cold.Quit())
	lit := newStage(t)
	spoon(t, lit).keys("tx")
	require.False(t, lit.Quit(), "a torch is left burning")
}

func TestGates(t *testing.T) {
	s := newStage(t)
	s.piece(t, "band", "C26000", "6x3").keys("hcoq")
	require.Contains(t, s.Scene().Ask, "left to cool in the air")
	require.Equal(t, schedule.VerdictWait, s.Scene().Piece.Advice.Verdict)
	s.keys("q")
	require.Equal(t, schedule.VerdictProve, s.Scene().Piece.Advice.Verdict, "it is logged if it is so")

	s = newStage(t)
	spent(t, s).keys("hco")
	s.keys("p")
	require.Contains(t, s.toast.text, "never quenched in pickle")
	s.keys(" ")
	require.Contains(t, s.Scene().Ask, "HOT")
	s.keys("f")
	require.Equal(t, schedule.VerdictProve, s.Scene().Piece.Advice.Verdict)

	s = newStage(t)
	spoon(t, s).keys("ke")
	require.Contains(t, s.Scene().Ask, "open crack")
	s.keys("e")
	require.Equal(t, schedule.VerdictCarryOn, s.Scene().Piece.Advice.Verdict)
	s.keys("kk")
	require.Equal(t, schedule.VerdictCarryOn, s.Scene().Piece.Advice.Verdict, "seen and filed out")
}

func TestZonesOfOneHeat(t *testing.T) {
	s := newStage(t)
	s.piece(t, "band", "AG925", "8x8", "tip", "middle").keys("zh")
	require.Equal(t, schedule.InFlame, s.current().state().Zones[0].Heat.Phase)
	require.Equal(t, schedule.Cold, s.current().state().Zones[1].Heat.Phase)
	s.keys("zz")
	require.Empty(t, s.zone, "round to the whole piece")
	s.keys("ho")
	require.Equal(t, schedule.OutOfFlame, s.current().state().Zones[1].Heat.Phase)
}

func TestBeginByKeys(t *testing.T) {
	s := newStage(t)
	s.keys("bster\n8x8\n\n")
	require.Nil(t, s.form)
	p := s.current()
	require.Equal(t, "piece 1", p.name)
	require.Equal(t, "AG925", p.state().AlloyID)
	require.Contains(t, s.text(), "CARRY ON")
	s.keys("bcopp\n8 by\n\n")
	require.NotNil(t, s.form, "a size that cannot be read")
	require.Contains(t, s.text(), "NOT LOGGED")
	s.keys("\b\b\b\n\n")
	require.NotNil(t, s.form, "a bare 8 has no shape")
	s.keys("\x1b")
	require.Nil(t, s.form)
	require.Len(t, s.pieces, 1)
}

// What is wrong with a field is said before the next one is typed.
func TestBeginChecksEachField(t *testing.T) {
	s := newStage(t)
	s.keys("bster\n8q8\n")
	require.Equal(t, startSize, s.form.(*starting).at)
	require.Contains(t, s.text(), "NOT LOGGED: \"8q8\"")
	s.keys("\b\bx8\n\n")
	require.Nil(t, s.form)
	require.Contains(t, s.text(), "8x8 mm")
	s.keys("bunobtainium\n")
	require.Equal(t, startMetal, s.form.(*starting).at)
	require.Contains(t, s.text(), "NOT LOGGED")
}

func TestBeginRefusesATakenName(t *testing.T) {
	s := newStage(t)
	spoon(t, s)
	err := s.start("SPOON", schedule.Started{Alloy: "AG925", Calliper: 0.1, Reading: schedule.Reading{Size: unit.Size{Shape: unit.Square, Thick: 8, Width: 8}}})
	require.ErrorIs(t, err, ErrTaken)
}

func TestLookFollowsTheLight(t *testing.T) {
	s := newStage(t)
	spoon(t, s)
	require.Equal(t, view.Dark, s.Theme())
	s.keys("l")
	require.Equal(t, view.Hearth, s.Theme(), "a dark room is for the eyes to see the glow")
	s.keys("l")
	require.Equal(t, view.Dark, s.Theme())
	s.keys("d")
	require.Equal(t, view.Light, s.Theme())
	s.keys("lll")
	require.Equal(t, view.Light, s.Theme(), "what was chosen stays")
}

// A caution is told once for each occasion, until the next key.
func TestCautionOncePerOccasion(t *testing.T) {
	s := newStage(t)
	spent(t, s)
	s.keys("h")
	require.Contains(t, s.Scene().Caution, "Torch lit")
	s.keys("z")
	require.Empty(t, s.Scene().Caution)
	s.keys("co")
	require.Contains(t, s.Scene().Caution, "HOT")
	s.keys("w")
	require.Contains(t, s.text(), "now", "always reachable on one key")
}

// Nothing is drawn anew while nothing is timing.
func TestWake(t *testing.T) {
	s := newStage(t)
	spoon(t, s).keys("\x1b").wait(time.Minute)
	_, ok := s.Wake()
	require.False(t, ok)
	s.keys("h")
	wait, ok := s.Wake()
	require.True(t, ok)
	require.LessOrEqual(t, wait, time.Second)
	s.wait(wait)
	again, _ := s.Wake()
	require.Equal(t, time.Second, again, "on the second")
}

// What cannot be written is not shown as written.
func TestDeskThatFails(t *testing.T) {
	s := newStage(t)
	spoon(t, s)
	s.Bench.desk = full{s.desk}
	before := s.Scene().Piece.Advice
	s.keys(" ")
	require.Contains(t, s.text(), "NOT LOGGED: no room on the disk")
	require.Equal(t, before.Spent, s.Scene().Piece.Advice.Spent)
	require.Empty(t, s.done[1:], "nothing to undo but what was before")
	s.Bench.desk = s.desk
	s.keys(" ")
	require.False(t, s.toast.bad)
}

// full is a desk on a disk without room.
type full struct{ Desk }

func (full) Write(...schedule.Entry) error { return errors.New("no room on the disk") }

// The last undone, the figures of a second bench on the same desk agree.
func TestTwoBenchesOnOneDesk(t *testing.T) {
	s := newStage(t)
	spent(t, s).keys("hc").wait(7 * time.Second)
	other := &stage{desk: s.desk, wall: s.wall, boot: s.boot}
	other.open(t)
	require.Equal(t, s.Scene().Piece.Timer, other.Scene().Piece.Timer)
	other.keys("o")
	s.Reload()
	require.Equal(t, schedule.VerdictWait, s.Scene().Piece.Advice.Verdict)
}
