package schedule_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/heat"
)

// Common practice, from a jewellers' forum: silver at its annealing heat is dull
// red in the dark and shows no red in daylight.
func TestCueOfSterlingFollowsTheLight(t *testing.T) {
	s := start(wrought("AG925")).state()
	cues := map[heat.Light]schedule.Cue{}
	for _, l := range heat.Lights() {
		cues[l] = s.CueOf(s.Zones[0], heat.Eye{Light: l})
		require.Equal(t, "593 to 649 °C", cues[l].Window)
		require.NotEmpty(t, cues[l].Second)
	}
	require.Equal(t, "dull red, just visible", cues[heat.LightDark].Seen)
	require.Contains(t, cues[heat.LightDay].Seen, "NOT see red")
	require.Contains(t, cues[heat.LightLamp].Seen, "NOT see red")
	require.Contains(t, cues[heat.LightDay].Second, "flux lies like glass")
	require.Equal(t, heat.LightLamp, s.CueOf(s.Zones[0], heat.Eye{Light: heat.LightUnknown}).Light, "the light that misleads is assumed")
}

// Every metal that is annealed has a temperature, words and a second cue, in every light.
func TestCueOfEveryMetal(t *testing.T) {
	for _, a := range alloys.All() {
		if a.SelfSoftening {
			continue
		}
		s := start(wrought(string(a.ID))).state()
		for _, l := range heat.Lights() {
			c := s.CueOf(s.Zones[0], heat.Eye{Light: l})
			require.Contains(t, c.Window, "°C", a.ID)
			require.NotEmpty(t, c.Colour, a.ID)
			require.NotEmpty(t, c.Seen, a.ID)
			require.NotEmpty(t, c.Second, a.ID)
		}
	}
}

func TestGlowRisesWithTheHeat(t *testing.T) {
	before := schedule.GlowNone
	for temp := 0; temp <= 1200; temp += 10 {
		g := schedule.GlowOf(unit.Celsius(temp))
		require.GreaterOrEqual(t, g, before, "%d °C", temp)
		before = g
	}
	require.Equal(t, schedule.GlowOrange, before)
	require.Equal(t, schedule.GlowNone, schedule.GlowOf(520))
	require.Equal(t, schedule.GlowDull, schedule.GlowOf(620))
}

func TestAlloyThatNoSourceHeats(t *testing.T) {
	s := start(wrought("SN92")).state()
	require.Equal(t, "not known", s.CueOf(s.Zones[0], heat.Eye{Light: heat.LightDark}).Colour)
}

func TestParseLightAndSign(t *testing.T) {
	for text, want := range map[string]heat.Light{"dark": heat.LightDark, "Daylight": heat.LightDay, "bench": heat.LightLamp, "day": heat.LightDay} {
		got, err := heat.ParseLight(text)
		require.NoError(t, err)
		require.Equal(t, want, got)
	}
	for _, text := range []string{"", "d", "noon"} {
		_, err := heat.ParseLight(text)
		require.Error(t, err, "%q", text)
	}
	sign, err := schedule.ParseSign("ring")
	require.NoError(t, err)
	require.Equal(t, schedule.SignRings, sign)
	_, err = schedule.ParseSign("sings")
	require.ErrorContains(t, err, "springs back")
	light := heat.LightUnknown
	for range heat.Lights() {
		light = light.Next()
	}
	require.Equal(t, heat.LightDay, light, "every light is reached by going on")
}
