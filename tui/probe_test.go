package tui

import (
	"errors"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/probe"
)

// reads lets a thermocouple read temperatures, a second apart.
func (s *stage) reads(temps ...unit.Celsius) {
	for _, t := range temps {
		s.wait(time.Second)
		s.Hear(probe.Reading{At: s.now(), Temp: t})
	}
}

// ramp are temperatures from one to another in steps.
func ramp(from, to, step unit.Celsius) (all []unit.Celsius) {
	for t := from; (to-t)*step >= 0; t += step {
		all = append(all, t)
	}
	return all
}

func TestProbeDrivesTheHeat(t *testing.T) {
	s := newStage(t)
	spent(t, s).keys("h")
	s.reads(ramp(20, 580, 20)...)
	require.Equal(t, schedule.Kind("heat begun"), s.logged()[len(s.logged())-1], "not yet in the window")
	require.Contains(t, s.text(), "°C by the probe")
	s.reads(600, 620, 630)
	require.Equal(t, schedule.Kind("heat reached"), s.logged()[len(s.logged())-1], "the first reading in the window")
	require.Contains(t, s.text(), "630 °C")
	s.keys("o")
	s.reads(ramp(600, 390, -30)...)
	require.Equal(t, []schedule.Kind{"heat out", "probe trace"}, s.logged()[len(s.logged())-2:])
	z := s.current().state().Zones[0]
	require.Equal(t, unit.Celsius(630), z.Heat.Temp)
	curve, err := probe.Decode(z.Heat.Trace.Curve)
	require.NoError(t, err)
	at, ok := curve.At(10 * time.Second)
	require.True(t, ok)
	require.InDelta(t, 220, float64(at), 1, "the curve is the one that was read")
	require.NotZero(t, z.Heat.Trace.Hot)
	s.reads(300, 200)
	require.Equal(t, schedule.Kind("probe trace"), s.logged()[len(s.logged())-1], "once")
}

// What was read before the lead came off is kept, and the smith is told to judge by
// colour.
func TestProbeUnpluggedInTheHeat(t *testing.T) {
	s := newStage(t)
	spent(t, s).keys("h")
	s.reads(ramp(20, 400, 20)...)
	s.Hear(probe.Lost{At: s.now(), Err: errors.New("no such device")})
	require.Equal(t, schedule.Kind("probe trace"), s.logged()[len(s.logged())-1])
	s.wait(10 * time.Second)
	require.Contains(t, s.text(), "unplugged")
	s.Hear(probe.Back{At: s.now()})
	s.reads(500)
	require.NotContains(t, s.text(), "unplugged")
	for _, e := range []probe.Event{probe.Fault{At: s.now(), Text: "OPEN"}, probe.Silent{At: s.now()}, probe.Noise{At: s.now(), Lines: 7}} {
		s.Hear(e)
	}
	require.False(t, s.Quit())
}

// At the ceiling the page says so over all else.
func TestProbeAtTheCeiling(t *testing.T) {
	s := newStage(t)
	spent(t, s).keys("h")
	s.reads(ramp(20, 740, 20)...)
	require.Contains(t, s.text(), "TAKE IT OUT")
	require.NotContains(t, s.text(), "NOT LOGGED")
	s.reads(640)
	require.NotContains(t, s.text(), "TAKE IT OUT")
}
