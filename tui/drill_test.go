package tui

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/schedule"
	"dullred/schedule/drill"
	"dullred/tui/view"
)

func TestALessonByItsKeys(t *testing.T) {
	l := newPractice()
	s := newStage(t).drills(t, l)
	for _, step := range []struct {
		keys   string
		wait   time.Duration
		stage  view.Stage
		reason string
	}{
		{" ", 0, view.Striking, "one course is no interval yet"},
		{" ", 0, view.Asking, "the second course is asked about"},
		{"4", 0, view.Told, "one digit answers"},
		{" ", 0, view.Striking, "space goes on and strikes nothing"},
		{"  ", 0, view.Asking, "and every second one after it"},
		{"0", 0, view.Told, "none is an answer"},
		{"h", 62 * time.Second, view.InFlame, "it was just said: no second question"},
		{"o", 20 * time.Second, view.OutOfFlame, ""},
		{"q", 0, view.Bending, ""},
		{"y", 0, view.Proved, "the metal tells, not the key"},
		{"   ", 0, view.Worked, "the size is reached with the second course from soft"},
		{" ", 0, view.Striking, "the next bar"},
		{"  2   3 ", 0, view.Striking, ""},
		{" ", 0, view.Split, "the fifth course"},
		{" ", 0, view.Scored, "no bar is left"},
	} {
		s.keys(step.keys).wait(step.wait)
		require.Equal(t, step.stage, s.drill.stage, "after %q: %s", step.keys, step.reason)
	}
	result, begun := s.Drilled()
	require.True(t, begun)
	require.Equal(t, schedule.Drilled{Level: 2, Seed: 7, Asked: 4, Error: 1.25, Heats: 1, Splits: 1}, result)
	require.Contains(t, s.text(), "1.2 courses late on average")
	require.Contains(t, s.text(), "dullred drill --level 2 --seed 7")
	require.False(t, s.Quit())
	require.True(t, s.keys("x").Quit())

	require.Len(t, s.desk.Pieces, 2)
	kinds := map[schedule.Kind]int{}
	for _, e := range s.desk.Pieces[0].Entries {
		kinds[e.Kind()]++
	}
	require.Equal(t, map[schedule.Kind]int{"piece started": 1, "pass": 6, "sign": 1, "measured": 1, "heat begun": 1, "heat out": 1,
		"quenched": 1, "proved soft": 1}, kinds)
}

// A heat is asked about, unless the answer was just given.
func TestAHeatAsksFirst(t *testing.T) {
	s := newStage(t).drills(t, newPractice()).keys(" h")
	require.Equal(t, view.Asking, s.drill.stage)
	require.Equal(t, view.Told, s.keys("3").drill.stage)
	require.Equal(t, "h", s.Scene().Piece.Next.Key, "the heat that was wanted is the next key")
	require.Equal(t, view.InFlame, s.keys("h").drill.stage)
}

// hiding are the stages in which the answer is not known to the student.
var hiding = []string{"drill-fresh", "drill-strike", "drill-question", "drill-flame", "drill-out", "drill-bend"}

func TestNothingGivesTheAnswerAway(t *testing.T) {
	for _, name := range hiding {
		for _, page := range []view.Page{view.Distance, view.Plan, view.Near, view.Board, view.Why, view.Cautions, view.Keys} {
			s := momentNamed(t, name)
			s.page = page
			scene := s.Scene()
			require.Equal(t, schedule.Advice{}, scene.Piece.Advice, "%s on page %d", name, page)
			require.Empty(t, scene.Piece.Ahead)
			require.Empty(t, scene.Piece.Log)
			require.Nil(t, scene.Piece.Plan)
			require.Nil(t, scene.Why)
			require.Nil(t, scene.Alarm)
			require.Empty(t, scene.Board)
			require.NotContains(t, s.text(), "of the limit", "%s on page %d", name, page)
		}
	}
	told := momentNamed(t, "drill-late")
	require.NotEmpty(t, told.Scene().Piece.Advice.Reasons, "this check can fail")
}

// No bar of a lesson calls anybody, however far it is worked, and none rings the bell.
func TestABarThatIsNotThereCallsNobody(t *testing.T) {
	l := newPractice()
	l.to = 3
	s := newStage(t).drills(t, l)
	for range 3 {
		l.done = 0 // a bar that bears anything
		s.keys("  0 ")
		l.done = 0
		s.keys("  0 ")
	}
	s.wait(time.Hour)
	require.Greater(t, s.judged(s.current()).Spent, 1.0)
	require.Empty(t, s.Tell())
	for _, p := range s.desk.Pieces {
		for _, e := range p.Entries {
			require.NotEqual(t, schedule.KindRaised, e.Kind())
		}
	}
}

// A key that has no place at a stage says what the stage waits for, and does nothing.
func TestKeysOutOfPlace(t *testing.T) {
	cases := []struct{ moment, keys, says string }{
		{"drill-strike", "oqsy5", "space strikes"},
		{"drill-question", " hoqsy", "first say how many"},
		{"drill-late", "oqsy5", "space goes on"},
		{"drill-flame", " hsy5", "o takes it out"},
		{"drill-out", " hosy5", "q quenches it"},
		{"drill-bend", " hoq5", "s or y"},
		{"drill-split", "hoqsy5", "space goes on"},
		{"drill-score", " hoqsy5", "x quits"},
	}
	for _, c := range cases {
		for _, key := range c.keys {
			s := momentNamed(t, c.moment)
			stage, entries, result := s.drill.stage, len(s.current().entries), s.drill.lesson.Result()
			if s.drill.stage == view.Told && key == 'h' {
				continue
			}
			s.keys(string(key))
			require.Equal(t, stage, s.drill.stage, "%q at %s", key, c.moment)
			require.Len(t, s.current().entries, entries, "%q at %s", key, c.moment)
			require.Equal(t, result, s.drill.lesson.Result(), "%q at %s", key, c.moment)
			require.NotEmpty(t, s.Scene().Toast, "%q at %s", key, c.moment)
		}
		s := momentNamed(t, c.moment)
		require.Contains(t, s.drill.waits(), c.says)
	}
}

// A gloved press that bounces answers once, and strikes once.
func TestADigitThatBounces(t *testing.T) {
	s := newStage(t).drills(t, newPractice()).keys("  ")
	for range 3 {
		s.Press(pressFor('4'))
		s.wait(80 * time.Millisecond)
	}
	require.Equal(t, view.Told, s.drill.stage)
	require.Empty(t, s.Scene().Toast)
	require.Equal(t, 1, s.drill.lesson.Score().Asked)
}

// A clock that is put right melts no bar: the flame goes by the other clock.
func TestClockSetInTheFlame(t *testing.T) {
	s := newStage(t).drills(t, newPractice()).keys("h0h").wait(40 * time.Second)
	before := s.Scene().Drill
	s.wall = s.wall.Add(2 * time.Hour)
	s.checkClock()
	require.Equal(t, before, s.Scene().Drill)
}

func TestDrillKeysAreUnique(t *testing.T) {
	seen := map[Press]string{}
	for _, k := range drillKeys {
		require.NotEmpty(t, k.words)
		for _, p := range k.press {
			require.Empty(t, seen[p], "%s and %s share a key", k.name, seen[p])
			seen[p] = k.name
			require.False(t, p.Rune >= '0' && p.Rune <= '9', "a digit is an answer")
		}
	}
}

// The mark is on every page and every screen, in words.
func TestTheMarkOfALesson(t *testing.T) {
	for _, m := range drillMoments {
		for _, size := range sizes {
			first, _, _ := strings.Cut(m.stage(t).frame(size.w, size.h).String(), "\n")
			require.True(t, strings.HasSuffix(first, " DRILL"), "%s at %dx%d: %q", m.name, size.w, size.h, first)
		}
	}
	require.NotContains(t, momentNamed(t, "carry-on").text(), "DRILL")
}

// The stages of a lesson are told apart without colour, from two metres.
func TestLessonInOneBit(t *testing.T) {
	names := []string{"drill-late", "drill-early", "drill-right", "drill-springy", "drill-melted", "drill-trace", "drill-glow", "drill-runs"}
	for _, name := range stages {
		if name != "drill-late" {
			names = append(names, name)
		}
	}
	for _, size := range sizes {
		rows := map[int]int{20: 14, 24: 16, 40: 24}[size.h]
		pictures := map[string][]bool{}
		for _, name := range names {
			pictures[name] = bits(momentNamed(t, name).frame(size.w, size.h))[:rows*size.w]
		}
		requireApart(t, names, pictures, fmt.Sprintf("%dx%d", size.w, size.h))
	}
}

// talkative is a lesson that explains at length.
type talkative struct{ *practice }

func (l talkative) Say(n int) drill.Reveal {
	r := l.practice.Say(n)
	for i := range 12 {
		r.Reasons = append(r.Reasons, fmt.Sprintf("Reason %d, which has so many words that it takes more than the one line.", i))
	}
	return r
}

func TestLongReasonsAreReadToTheEnd(t *testing.T) {
	for _, size := range sizes {
		s := newStage(t).drills(t, talkative{newPractice()}).keys("  4")
		all := ""
		for range 60 {
			all += s.frame(size.w, size.h).String()
			s.arrow(Down)
		}
		for i := range 12 {
			require.Contains(t, all, fmt.Sprintf("Reason %d,", i), "at %dx%d", size.w, size.h)
		}
		require.Equal(t, size.h < 40, strings.Contains(all, "more: arrow down"), "only where there is more")
		require.NotContains(t, s.frame(size.w, size.h).String(), "more: arrow down", "the end is the end")
	}
}

func TestLeavingALesson(t *testing.T) {
	s := newStage(t).drills(t, newPractice())
	_, begun := s.Drilled()
	require.False(t, begun)
	require.True(t, s.keys("x").Quit(), "nothing was done: nothing is to be told")

	s = newStage(t).drills(t, newPractice()).keys(" ")
	s.Press(Press{Key: Cancel})
	require.False(t, s.Quit())
	require.Equal(t, view.Scored, s.drill.stage)
	_, begun = s.Drilled()
	require.True(t, begun)
	s.wait(time.Second).Press(Press{Key: Cancel})
	require.True(t, s.Quit())

	_, begun = newStage(t).Drilled()
	require.False(t, begun, "a bench of real pieces has no lesson")
}

// The screen is woken each second in the flame and never while it only waits for keys.
func TestALessonWakes(t *testing.T) {
	s := newStage(t).drills(t, newPractice())
	_, wakes := s.Wake()
	require.False(t, wakes)
	wait, wakes := s.keys("h0h").Wake()
	require.True(t, wakes)
	require.LessOrEqual(t, wait, time.Second)
	_, wakes = s.keys("oqs").Wake()
	require.False(t, wakes)
}

// Whatever keys are pressed, the lesson and the bench go on, and what is on the desk
// could have been written so.
func TestAnyKeysInALesson(t *testing.T) {
	pressed := rapid.SampledFrom(anyKeys())
	rapid.Check(t, func(r *rapid.T) {
		lesson, err := drill.New(rapid.IntRange(1, 5).Draw(r, "level"), rapid.Uint64().Draw(r, "seed"))
		require.NoError(r, err)
		s := newStage(t).drills(t, lesson)
		for range rapid.IntRange(1, 60).Draw(r, "keys") {
			s.Press(pressed.Draw(r, "key"))
			s.wait(time.Duration(rapid.IntRange(300, 40_000).Draw(r, "ms")) * time.Millisecond)
			f := s.frame(60, 20)
			require.Contains(r, f.String(), "DRILL")
			require.False(r, s.toast.bad, s.toast.text)
		}
		for _, p := range s.pieces {
			require.True(r, p.state().Started)
			require.Empty(r, p.state().Silenced)
		}
	})
}
