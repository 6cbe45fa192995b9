package schedule_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
)

// heats are whole heats of a bar, each taking so long to its heat, quenched and
// proved, so that the next begins cold.
func heats(s schedule.Started, torch string, took ...time.Duration) story {
	h := start(s)
	at := h[0].At
	add := func(after time.Duration, b schedule.Body) {
		at = at.Add(after)
		e := entryAt(len(h), b)
		e.At = at
		h = append(h, e)
	}
	for _, d := range took {
		add(time.Hour, schedule.Begun{Torch: torch})
		add(d, schedule.Reached{Temp: 620})
		add(time.Minute, schedule.Out{})
		add(time.Minute, schedule.Quenched{})
		add(time.Minute, schedule.Pickled{})
		add(time.Minute, schedule.Rinsed{}) // bright again, so that each heat is like the one before
	}
	return h
}

func heatingOf(t *testing.T, h story, torch string, others *schedule.Observed) schedule.Timer {
	t.Helper()
	e := entryAt(len(h), schedule.Begun{Torch: torch})
	e.At = h[len(h)-1].At.Add(time.Hour)
	s := append(h, e).state()
	s.Learn(others)
	timers := s.Timers(e.At.Add(time.Second))
	require.Equal(t, schedule.StepHeating, timers[0].Step)
	return timers[0]
}

func TestTorchIsLearnedFromItsOwnHeats(t *testing.T) {
	fresh := heatingOf(t, start(square(6)), "big", nil)
	require.Zero(t, fresh.Learned)
	require.Contains(t, fresh.Basis, "no heat of this torch is timed yet")
	taught := heats(square(6), "big", 80*time.Second, 76*time.Second, 84*time.Second)
	known := heatingOf(t, taught, "big", nil)
	require.Equal(t, 3, known.Learned)
	require.InDelta(t, 80, known.Target.Seconds(), 8, "as the smith's own heats")
	require.Less(t, known.High-known.Low, fresh.High-fresh.Low, "the range is narrower")
	require.Zero(t, heatingOf(t, taught, "small", nil).Learned, "another torch is another matter")

	seen := &schedule.Observed{}
	s := taught.state()
	seen.Take(&s)
	require.Equal(t, 3, heatingOf(t, start(square(6)), "big", seen).Learned, "other pieces teach it too")
}

// Keys pressed one after the other, metal that was still hot, and a heat that no
// hand torch gives teach nothing.
func TestHeatsThatTeachNothing(t *testing.T) {
	require.Zero(t, heatingOf(t, heats(square(6), "big", 2*time.Second), "big", nil).Learned, "two keys in a row")
	require.Zero(t, heatingOf(t, heats(square(12), "big", 6*time.Second), "big", nil).Learned, "144 mm² of silver in six seconds")
	again := start(square(6)).all(nil, schedule.Begun{Torch: "big"}, schedule.Reached{Temp: 620}, schedule.Out{},
		schedule.Begun{Torch: "big"}, schedule.Reached{Temp: 620}, schedule.Out{}, schedule.Quenched{})
	require.Equal(t, 1, heatingOf(t, again, "big", nil).Learned, "the second began hot")
	zones := start(wrought("AG925", "tip", "middle", "butt")).all(nil, schedule.Begun{Torch: "big"}, schedule.Reached{Temp: 620}, schedule.Out{}, schedule.Quenched{})
	require.Equal(t, 1, heatingOf(t, zones, "big", nil).Learned, "three zones in one heat are one lesson")
}

// Hot metal stays hot under the hammer.
func TestHammeredHotIsStillHot(t *testing.T) {
	for _, before := range [][]schedule.Body{{schedule.Begun{}}, {schedule.Begun{}, schedule.Reached{}}, {schedule.Begun{}, schedule.Reached{}, schedule.Out{}}} {
		h := start(square(6)).all(nil, before...).then(course("lengthen", bar(5.8, 5.9)))
		require.Equal(t, schedule.VerdictWait, h.advice().Verdict)
		require.True(t, h.state().Zones[0].Heat.Moved)
		require.ErrorIs(t, schedule.Accept(h, entryAt(len(h), schedule.Pickled{}), h.now()), schedule.ErrHot)
		require.ErrorIs(t, schedule.Accept(h, entryAt(len(h), schedule.Fluxed{}), h.now()), schedule.ErrHot)
		cool := h.then(schedule.Quenched{})
		require.Equal(t, schedule.VerdictProve, cool.advice().Verdict)
		require.Zero(t, cool.then(schedule.Soft{}).done(), "bent dead, it is soft")
	}
}

// Red gold must be in the water before it orders: the shortest time counts, by the
// skin that loses most and from the low end of its window.
func TestQuenchWindowOfRedGold(t *testing.T) {
	h := start(metal("AU750R", 3)).all(nil, schedule.Begun{}, schedule.Reached{}, schedule.Out{})
	s := h.state()
	timer := s.Timers(h.after(time.Second))[0]
	require.Contains(t, timer.Basis, "no drop test")
	require.Contains(t, timer.Basis, "427 °C")
	hot := start(metal("AU750R", 3)).all(nil, schedule.Begun{}, schedule.Reached{Temp: 650}, schedule.Out{})
	s = hot.state()
	measured := s.Timers(hot.after(time.Second))[0]
	require.Greater(t, measured.Most, timer.Most, "650 °C is further from it than the low end of the window")
	require.Positive(t, timer.Most)
}

// A figure over the ceiling, or under the window, is in the next step and not only
// among the reasons.
func TestNextGoesByTheMeasuredHeat(t *testing.T) {
	at := func(temp schedule.Reached) string {
		return start(square(6)).all(nil, schedule.Begun{}, temp).advice().Next
	}
	require.Contains(t, at(schedule.Reached{Temp: 760}), "out of the flame at once")
	require.Contains(t, at(schedule.Reached{Temp: 300}), "not yet")
	require.Contains(t, at(schedule.Reached{Temp: 620}), "hold until the whole piece is even")
	lead := start(wrought("SNPB"))
	require.Contains(t, lead.advice().Next, "lead")
}

// Metal that its source holds for minutes is held for minutes.
func TestSoakOfItsSource(t *testing.T) {
	h := start(metal("AU750ROSE", 3)).all(nil, schedule.Begun{}, schedule.Reached{})
	s := h.state()
	timer := s.Timers(h.after(0))[0]
	require.Equal(t, 10*time.Minute, timer.Target)
	require.Equal(t, 15*time.Minute, timer.Most)
}

// A heat of which only the end was logged is a heat of the ledger all the same.
func TestLedgerOfAHeatWithoutItsBeginning(t *testing.T) {
	s := start(square(6)).all(nil, schedule.Reached{}, schedule.Out{}, schedule.Quenched{}).state()
	require.Equal(t, 1, s.Ledger.Unprotected)
}

// Before a torch was timed, only a flame that no hand torch would reach it with is
// called one that never does.
func TestAFlameIsNotGivenUpBeforeItWasTimed(t *testing.T) {
	fluxed := start(square(6)).then(schedule.Fluxed{})
	timer := heatingOf(t, fluxed, "big", nil)
	require.Zero(t, timer.Learned)
	require.Positive(t, timer.Low, "a strong flame gets there")
	require.NotContains(t, timer.Basis, "will not reach it")
	platinum := heatingOf(t, start(metal("PT950", 6)).then(schedule.Fluxed{}), "big", nil)
	require.NotEmpty(t, platinum.Basis)
}

// Sterling hammered at 600 °C is hot short (the rules of the alloy, common practice).
func TestHotShortMetalThatWasHammeredHot(t *testing.T) {
	h := start(square(6)).then(course("lengthen", bar(5.4, 5.6))).all(nil, schedule.Begun{}, schedule.Reached{Temp: 600}).then(unread("lengthen", 1))
	require.Contains(t, saying(h.advice()), "hot short: look for cracks")
}
