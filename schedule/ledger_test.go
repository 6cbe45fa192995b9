package schedule_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/heat"
)

// A minute lies between the steps of a story.
func TestLedgerCountsHeatsAndTheTimeAbove500(t *testing.T) {
	bare := start(wrought("AG925", "bowl", "handle")).quenched()
	s := bare.state()
	require.Equal(t, 1, s.Ledger.Unprotected, "both zones in one heat are one heat")
	require.Zero(t, s.Ledger.Protected)
	require.Greater(t, s.Ledger.Hot, time.Minute, "the hold, and some of the way up and down")
	require.Less(t, s.Ledger.Hot, 5*time.Minute)
	coated := start(wrought("AG925")).then(schedule.Fluxed{}).quenched().annealed()
	s = coated.state()
	require.Equal(t, 2, s.Ledger.Protected, "the coat stays until the pickle")
	again := coated.all(nil, schedule.Pickled{}, schedule.Rinsed{}).quenched()
	s = again.state()
	require.Equal(t, 1, s.Ledger.Unprotected, "and the pickle takes it off")
	require.Contains(t, again.advice().Reasons, "fire-stain: 3 heats, 2 under flux, 1 without; about "+hotText(s)+" above 500 °C in all")
}

func hotText(s schedule.State) string { return unit.FormatDuration(s.Ledger.Hot.Round(time.Second)) }

// What a thermocouple read counts in place of the estimate, whichever is logged first.
func TestLedgerByThermocouple(t *testing.T) {
	before := start(wrought("AG925")).all(nil, schedule.Begun{}, schedule.Reached{}, curve, schedule.Out{})
	after := start(wrought("AG925")).all(nil, schedule.Begun{}, schedule.Reached{}, schedule.Out{}, curve)
	for name, h := range map[string]story{"before": before, "after": after} {
		s := h.state()
		require.Equal(t, curve.Hot, s.Ledger.Hot, name)
		require.Equal(t, 1, s.Ledger.Measured, name)
		require.Equal(t, curve.Max, s.Zones[0].Heat.Temp, name)
	}
}

// A clean skin glows weakly and cools slowly; a black one the other way round, and
// the cue says so.
func TestSkinFollowsTheHeats(t *testing.T) {
	skin := func(h story) heat.Surface { s := h.state(); return s.Zones[0].Surface }
	raw := start(wrought("AG925"))
	require.Equal(t, heat.SurfaceUnknown, skin(raw))
	require.Equal(t, heat.Oxidised, skin(raw.quenched()))
	require.Equal(t, heat.Fluxed, skin(raw.then(schedule.Fluxed{}).quenched()))
	require.Equal(t, heat.Clean, skin(raw.quenched().all(nil, schedule.Pickled{}, schedule.Rinsed{})))
	require.Equal(t, heat.SurfaceUnknown, skin(start(wrought("AG999")).quenched()), "fine silver holds nothing that blackens")

	clean, black := raw.state(), raw.annealed().state()
	seen := clean.CueOf(clean.Zones[0], heat.Eye{Light: heat.LightDim})
	require.Equal(t, heat.NotSeen, seen.Sight)
	require.Contains(t, seen.Skin, "shows late")
	seen = black.CueOf(black.Zones[0], heat.Eye{Light: heat.LightDim})
	require.Equal(t, heat.Seen, seen.Sight)
	require.Contains(t, seen.Skin, "shows early")

	touches := func(h story) time.Duration {
		h = h.all(nil, schedule.Begun{}, schedule.Reached{}, schedule.Out{})
		s := h.state()
		return s.Timers(h.now())[0].Touch
	}
	require.Positive(t, touches(raw))
}

func TestBathStaysOnTheBench(t *testing.T) {
	bath := func(all ...schedule.Body) schedule.Bath {
		var h story
		for i, b := range all {
			h = append(h, entryAt(i, b))
		}
		return schedule.FoldBench(bench, h).Bath
	}
	iron := schedule.Bath{State: schedule.BathWorking, Iron: true}
	require.Equal(t, iron, bath(iron))
	require.True(t, bath(iron, schedule.Bath{State: schedule.BathSpent}).Iron, "iron stays in a bath that nobody made fresh")
	require.False(t, bath(iron, schedule.Bath{State: schedule.BathFresh}).Iron)
	require.Contains(t, bath(iron).Caution(), "Iron")
	require.Contains(t, bath(schedule.Bath{State: schedule.BathSpent}).Caution(), "spent")
	require.Empty(t, bath(schedule.Bath{State: schedule.BathFresh}).Caution())
	_, err := schedule.ParseBath("green")
	require.ErrorContains(t, err, "fresh, working, spent")
}
