package tui

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule/drill"
	"dullred/tui/view"
)

// apprentice plays a lesson by its keys alone: he says three, anneals after four courses
// or when he is asked before a heat, and holds the metal by a thermometer of his own.
type apprentice struct {
	*stage
	t      *testing.T
	lesson *drill.Lesson
	frames strings.Builder
}

// play is a whole lesson; it gives every frame of it.
func play(t *testing.T, level int, seed uint64) *apprentice {
	t.Helper()
	lesson, err := drill.New(level, seed)
	require.NoError(t, err)
	a := &apprentice{t: t, lesson: lesson, stage: newStage(t).drills(t, lesson)}
	for range 1000 {
		a.frames.WriteString(a.frame(80, 24).String())
		require.False(t, a.toast.bad, a.toast.text)
		if a.drill.stage == view.Scored {
			return a
		}
		a.act()
	}
	t.Fatalf("level %d, seed %d does not end", level, seed)
	return nil
}

func (a *apprentice) act() {
	switch a.drill.stage {
	case view.Striking:
		a.keys(map[bool]string{true: "h", false: " "}[a.drill.struck >= 4])
	case view.Asking:
		a.keys("3")
	case view.Told:
		a.keys(map[bool]string{true: "h", false: " "}[a.drill.struck >= 4])
	case view.InFlame:
		a.until(func() bool { return a.temp() >= 610 })
		a.wait(5 * time.Second).keys("o")
	case view.OutOfFlame:
		a.until(func() bool { return a.temp() <= 450 })
		a.keys("q")
	case view.Bending:
		a.keys("s")
	default:
		a.keys(" ")
	}
}

func (a *apprentice) temp() float64 { return float64(a.lesson.Temp(a.drill.at(a.Bench))) }

// until lets seconds pass, ten minutes at most.
func (a *apprentice) until(ok func() bool) {
	for range 600 {
		if ok() {
			return
		}
		a.wait(time.Second)
	}
}

// Every level can be played to its end by the keys, and each bar of it is on the bench.
func TestEveryLevelIsPlayed(t *testing.T) {
	for _, level := range drill.Levels() {
		for seed := uint64(1); seed <= 5; seed++ {
			t.Run(fmt.Sprintf("level %d seed %d", level.Number, seed), func(t *testing.T) {
				a := play(t, level.Number, seed)
				require.True(t, a.lesson.Over())
				_, of := a.lesson.Bars()
				require.Len(t, a.desk.Pieces, of)
				result, begun := a.Drilled()
				require.True(t, begun)
				require.Positive(t, result.Asked)
				require.Equal(t, level.Number, result.Level)
				require.Equal(t, seed, result.Seed)
				for _, p := range a.pieces {
					require.Empty(t, p.state().Silenced)
				}
			})
		}
	}
}

// The same level, seed and keys are the same pictures, to the last column.
func TestTheSameSeedIsTheSameLesson(t *testing.T) {
	for _, level := range drill.Levels() {
		first, second := play(t, level.Number, 7), play(t, level.Number, 7)
		require.Equal(t, first.frames.String(), second.frames.String())
		require.Equal(t, first.lesson.Score(), second.lesson.Score())
	}
	other := play(t, 1, 8)
	require.NotEqual(t, play(t, 1, 7).frames.String(), other.frames.String())
}
