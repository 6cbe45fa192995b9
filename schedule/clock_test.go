package schedule_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/heat"
)

// A step of the wall clock in the middle of a soak changes nothing of its time.
func TestClockStepInASoak(t *testing.T) {
	h := start(square(8)).all(nil, schedule.Begun{}, schedule.Reached{})
	reached := h[len(h)-1].At
	step, off := schedule.NewStep(time.Hour, 0)
	require.Zero(t, off, "a clock set forward takes the line along")
	forward := h
	e := entryAt(0, step)
	e.ID, e.At, e.Piece = idOf(90), reached.Add(20*time.Second+time.Hour), bench
	forward = append(forward, e)
	s := forward.state()
	require.Equal(t, 10*time.Second, s.Timers(reached.Add(10 * time.Second))[0].Elapsed, "before the step")
	require.Equal(t, 30*time.Second, s.Timers(reached.Add(30*time.Second + time.Hour))[0].Elapsed, "across the step")
	require.Equal(t, schedule.VerdictSoak, s.Advise(reached.Add(time.Hour), nil).Verdict, "a step is no step of the heat")

	other := e
	other.Bench = idOf(7)
	s = append(h, other).state()
	require.Equal(t, time.Hour+30*time.Second, s.Timers(reached.Add(30*time.Second + time.Hour))[0].Elapsed, "the clock of another bench")
}

func TestNewStep(t *testing.T) {
	cases := []struct {
		name, reason      string
		wall, ahead, line time.Duration
		off               time.Duration
	}{
		{"forward", "the line goes along", time.Hour, 0, time.Hour, 0},
		{"back", "the line runs on, ahead of the wall", -time.Hour, 0, 0, time.Hour},
		{"back twice", "further ahead", -time.Minute, time.Hour, 0, time.Hour + time.Minute},
		{"back and put right", "the line never noticed", time.Hour, time.Hour, 0, 0},
		{"put right and more", "what is more is a jump", 3 * time.Hour, time.Hour, 2 * time.Hour, 0},
		{"put right in part", "still ahead", time.Minute, time.Hour, 0, 59 * time.Minute},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			step, off := schedule.NewStep(c.wall, c.ahead)
			require.Equal(t, c.wall, step.Wall)
			require.Equal(t, c.line, step.Line, c.reason)
			require.Equal(t, c.off, off, c.reason)
		})
	}
}

// How far the line is ahead is found again in the record after a restart.
func TestAheadAfterARestart(t *testing.T) {
	back, _ := schedule.NewStep(-time.Hour, 0)
	entries := start(square(8)).then(back)
	at := entries[1].At
	wall := at.Add(-time.Hour) // as the wall clock now has it
	require.Equal(t, time.Hour, schedule.Ahead(entries, bench, wall))
	require.Equal(t, time.Hour, schedule.Ahead(entries, bench, wall.Add(2*time.Hour)), "the same evening")
	require.Zero(t, schedule.Ahead(entries, bench, at.Add(25*time.Hour)), "given up a day later")
	require.Zero(t, schedule.Ahead(entries, idOf(7), wall), "the clock of another bench")
	right, _ := schedule.NewStep(time.Hour, time.Hour)
	require.Zero(t, schedule.Ahead(entries.then(right), bench, at.Add(time.Minute)), "put right")
}

func TestBenchAsAWhole(t *testing.T) {
	h := story{entryAt(0, schedule.TorchLit{}), entryAt(1, schedule.Lit{Room: heat.LightDim})}
	b := schedule.FoldBench(bench, h)
	require.Equal(t, heat.LightDim, b.Light)
	timers := b.Timers(h.after(time.Minute))
	require.Len(t, timers, 1)
	require.Equal(t, schedule.StepTorch, timers[0].Step)
	require.Equal(t, 2*time.Minute, timers[0].Elapsed)
	h = h.then(schedule.TorchOut{})
	b = schedule.FoldBench(bench, h)
	watch := b.Timers(h.after(10 * time.Minute))[0]
	require.Equal(t, schedule.StepFireWatch, watch.Step)
	require.Equal(t, 50*time.Minute, watch.Left(), "an hour after the last flame: NFPA 51B-2019 5.6.1.1, as quoted")
	require.Empty(t, b.Timers(h.after(61*time.Minute)))
	require.Empty(t, schedule.FoldBench(bench, nil).Timers(evening))
	require.True(t, schedule.KindTorchLit.OfBench())
	require.False(t, schedule.KindBegun.OfBench())
}

func TestJump(t *testing.T) {
	at := func(wall, boot time.Duration) schedule.Clocks {
		return schedule.Clocks{Wall: evening.Add(wall), Boot: time.Hour + boot, OK: true}
	}
	cases := []struct {
		name, reason string
		before, now  schedule.Clocks
		want         time.Duration
	}{
		{"both went on", "time passed", at(0, 0), at(time.Hour, time.Hour), 0},
		{"forward", "an hour that did not pass", at(0, 0), at(time.Hour+time.Minute, time.Minute), time.Hour},
		{"back", "summer time is over, on a clock that follows it", at(0, 0), at(-time.Hour, 0), -time.Hour},
		{"below two seconds", "not told from a look between the two clocks", at(0, 0), at(1999*time.Millisecond, 0), 0},
		{"drift of a day", "8.6 s a day is one ten-thousandth", at(0, 0), at(24*time.Hour+9*time.Second, 24*time.Hour), 0},
		{"no look before", "the first look", schedule.Clocks{}, at(time.Hour, 0), 0},
		{"no such clock", "it cannot be told", schedule.Clocks{Wall: evening}, schedule.Clocks{Wall: evening.Add(time.Hour)}, 0},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, c.want, c.now.Jump(c.before), c.reason)
		})
	}
	require.Equal(t, "the clock of this machine was set back by 1 h", schedule.ClockStep{Wall: -time.Hour}.String())
}
