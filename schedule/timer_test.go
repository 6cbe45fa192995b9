package schedule_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
)

func square(side unit.Millimetre) schedule.Started {
	s := wrought("AG925")
	s.Reading = bar(side, side)
	return s
}

func metal(alloy string, side unit.Millimetre) schedule.Started {
	s := square(side)
	s.Alloy = alloy
	return s
}

// after is the last moment of a story and a while more.
func (h story) after(d time.Duration) time.Time { return h[len(h)-1].At.Add(d) }

// Outside check (common practice): how long to wait, soak and pickle.
func TestTimersFollowTheHeat(t *testing.T) {
	cases := []struct {
		name, reason string
		story        story
		step         schedule.Step
		target       time.Duration
	}{
		{"in the flame", "the middle of what a hand torch may have, and said to be a guess", start(square(3)).then(schedule.Begun{}), schedule.StepHeating, 29 * time.Second},
		{"thin soak", "30 s for thin work: common practice", start(square(2)).all(nil, schedule.Begun{}, schedule.Reached{}), schedule.StepSoak, 30 * time.Second},
		{"3 mm soak", "the thickest that counts as thin", start(square(3)).all(nil, schedule.Begun{}, schedule.Reached{}), schedule.StepSoak, 30 * time.Second},
		{"8 mm soak", "10 s for each millimetre more", start(square(8)).all(nil, schedule.Begun{}, schedule.Reached{}), schedule.StepSoak, 80 * time.Second},
		{"30 mm soak", "3 min is the most that is taught for a torch", start(square(30)).all(nil, schedule.Begun{}, schedule.Reached{}), schedule.StepSoak, 3 * time.Minute},
		{"thin wait", "a count of 5", start(square(2)).all(nil, schedule.Begun{}, schedule.Out{}), schedule.StepWait, 5 * time.Second},
		{"6 mm wait", "clean silver to 525 °C; 10 s are common practice", start(square(6)).all(nil, schedule.Begun{}, schedule.Out{}), schedule.StepWait, 16 * time.Second},
		{"ingot", "30 s and longer are common practice for an ingot", start(square(12)).all(nil, schedule.Begun{}, schedule.Out{}), schedule.StepWait, 34 * time.Second},
		{"brass", "left in the air, and never by the clock", start(metal("C26000", 3)).all(nil, schedule.Begun{}, schedule.Out{}), schedule.StepCooling, 0},
		{"bronze", "from dull red straight into water", start(metal("C51000", 3)).all(nil, schedule.Begun{}, schedule.Out{}), schedule.StepWait, time.Second},
		{"pickle", "warm, from memory", start(square(3)).then(schedule.Pickled{}), schedule.StepPickle, 10 * time.Minute},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			s := c.story.state()
			timers := s.Timers(c.story.after(7 * time.Second))
			require.Len(t, timers, 1)
			require.Equal(t, c.step, timers[0].Step)
			require.Equal(t, c.target, timers[0].Target, c.reason)
			require.Equal(t, 7*time.Second, timers[0].Elapsed)
			require.NotEmpty(t, timers[0].Basis, "a figure says where it is from")
		})
	}
}

func TestTimersCountDownAndOver(t *testing.T) {
	h := start(square(3)).all(nil, schedule.Begun{}, schedule.Reached{})
	s := h.state()
	at := func(d time.Duration) schedule.Timer { return s.Timers(h.after(d))[0] }
	require.Equal(t, 20*time.Second, at(10*time.Second).Left())
	require.Zero(t, at(10*time.Second).Over())
	require.Zero(t, at(40*time.Second).Left())
	require.Equal(t, 10*time.Second, at(40*time.Second).Over())
	require.Zero(t, at(-time.Minute).Elapsed, "a moment before the step is not less than nothing")
}

func TestTimersOfZonesApart(t *testing.T) {
	h := start(wrought("AG925", "tip", "middle", "butt")).all([]string{"tip", "butt"}, schedule.Begun{}).all([]string{"butt"}, schedule.Reached{})
	s := h.state()
	timers := s.Timers(h.after(0))
	require.Len(t, timers, 2)
	require.Equal(t, []string{"tip"}, timers[0].Zones)
	require.Equal(t, schedule.StepHeating, timers[0].Step)
	require.Equal(t, []string{"butt"}, timers[1].Zones)
	whole := start(wrought("AG925", "tip", "middle")).then(schedule.Begun{})
	s = whole.state()
	require.Equal(t, []string{"tip", "middle"}, s.Timers(whole.after(0))[0].Zones, "one heat is one timer")
}

// Metal out of the flame stays hot until somebody says that it is not.
func TestHotIsNeverClearedByTime(t *testing.T) {
	h := start(square(6)).all(nil, schedule.Begun{}, schedule.Out{})
	s := h.state()
	for _, d := range []time.Duration{0, time.Hour, 63 * time.Hour, 1000 * time.Hour} {
		require.Equal(t, schedule.VerdictWait, s.Advise(h.after(d), nil).Verdict, "%v later", d)
	}
	for _, cool := range []schedule.Body{schedule.Quenched{}, schedule.FoundCool{}} {
		done := h.then(cool)
		require.Equal(t, schedule.VerdictProve, done.advice().Verdict, "%T", cool)
	}
	require.Equal(t, schedule.VerdictWait, h.then(schedule.Note{Text: "tea"}).advice().Verdict)
	require.Equal(t, schedule.VerdictWait, h.then(schedule.Signalled{Sign: schedule.SignDead}).advice().Verdict)
}

func TestNextActWalksTheChain(t *testing.T) {
	silver := start(square(6)).then(course("lengthen", bar(4.2, 5.4)))
	brass := start(metal("C26000", 6)).then(schedule.Begun{})
	steel := start(metal("STEEL1008", 6)).all(nil, schedule.Begun{}, schedule.Reached{}, schedule.Out{})
	cases := []struct {
		name  string
		story story
		want  schedule.Act
	}{
		{"new bar", start(square(6)), schedule.ActPass},
		{"worked out", silver, schedule.ActBegin},
		{"in the flame", silver.then(schedule.Begun{}), schedule.ActReach},
		{"at heat", silver.all(nil, schedule.Begun{}, schedule.Reached{}), schedule.ActOut},
		{"sterling out", silver.all(nil, schedule.Begun{}, schedule.Out{}), schedule.ActQuench},
		{"brass out", brass.then(schedule.Out{}), schedule.ActCool},
		{"quenched", silver.all(nil, schedule.Begun{}, schedule.Quenched{}), schedule.ActPickle},
		{"in pickle", silver.all(nil, schedule.Begun{}, schedule.Quenched{}, schedule.Pickled{}), schedule.ActRinse},
		{"rinsed", silver.all(nil, schedule.Begun{}, schedule.Quenched{}, schedule.Pickled{}, schedule.Rinsed{}), schedule.ActProve},
		{"steel cool", steel.then(schedule.FoundCool{}), schedule.ActProve}, // iron never goes into pickle
		{"soft", silver.annealed(), schedule.ActPass},
		{"cracked", silver.then(schedule.CrackSeen{}), schedule.ActFile},
		{"pewter in the flame", start(metal("SN92", 6)).then(schedule.Begun{}), schedule.ActOut},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s := c.story.state()
			require.Equal(t, c.want, s.NextAct(c.story.advice()))
		})
	}
}

// The gates at the pickle and the bend check.
func TestAcceptHotMetal(t *testing.T) {
	h := start(square(6)).then(schedule.Begun{})
	cases := []struct {
		name, reason string
		story        story
		body         schedule.Body
		refusal      error
	}{
		{"pickle in the flame", "acid spits", h, schedule.Pickled{}, schedule.ErrHot},
		{"pickle while hot", "acid spits", h.then(schedule.Out{}), schedule.Pickled{}, schedule.ErrHot},
		{"pickle once quenched", "as it should be", h.then(schedule.Quenched{}), schedule.Pickled{}, nil},
		{"pickle cold", "after filing or solder, say", start(square(6)), schedule.Pickled{}, nil},
		{"rinse what was not in", "it is some other piece", h, schedule.Rinsed{}, schedule.ErrBath},
		{"soft in the flame", "nobody bends it under the torch", h, schedule.Soft{}, schedule.ErrHot},
		{"soft when reached", "not every step is logged with hot hands", h.then(schedule.Reached{}), schedule.Soft{}, nil},
		{"cool though cold", "there is nothing to find", start(square(6)), schedule.FoundCool{}, schedule.ErrCold},
		{"cool after the flame", "the back of a hand near it", h.then(schedule.Out{}), schedule.FoundCool{}, nil},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			e := entryAt(len(c.story), c.body)
			require.ErrorIs(t, schedule.Accept(c.story, e, e.At), c.refusal)
		})
	}
}

// What came out of the pickle by being worked or heated is no longer in it.
func TestWorkTakesItOutOfThePickle(t *testing.T) {
	h := start(square(6)).then(schedule.Pickled{})
	for _, b := range []schedule.Body{course("lengthen", bar(5.5, 5.9)), schedule.Begun{}, schedule.Rinsed{}} {
		require.True(t, h.then(b).state().Zones[0].Pickle.In.IsZero(), "%T", b)
	}
	require.Equal(t, schedule.VerdictPickle, h.advice().Verdict)
}
