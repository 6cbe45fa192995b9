package tui

import (
	"errors"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/heat"
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

// A lead that is plugged in again in the same heat goes on: the heat is reached by
// itself, and one curve of all that was read stands in the end.
func TestProbePluggedInAgain(t *testing.T) {
	s := newStage(t)
	spent(t, s).keys("h")
	s.reads(ramp(20, 400, 20)...)
	s.Hear(probe.Lost{At: s.now(), Err: errors.New("no such device")})
	s.Hear(probe.Back{At: s.now()})
	s.reads(ramp(420, 620, 20)...)
	require.Equal(t, schedule.Kind("heat reached"), s.logged()[len(s.logged())-1])
	require.Equal(t, unit.Celsius(400), s.current().state().Zones[0].Heat.Trace.Max, "the curve until the lead came off")
	s.keys("o")
	s.reads(ramp(600, 390, -30)...)
	require.Equal(t, unit.Celsius(620), s.current().state().Zones[0].Heat.Trace.Max, "the whole curve")
	require.Equal(t, 1, s.curves(), "the first one is taken back")
}

// curves are the curves of the piece on the screen that stand.
func (s *stage) curves() (n int) {
	dead := schedule.Voided(s.current().entries)
	for _, e := range s.current().entries {
		if e.Kind() == schedule.KindTrace && !dead[e.ID] {
			n++
		}
	}
	return n
}

// Each heat has its own curve, also when the next is begun before the metal is cold;
// a heat that was taken back has none, and one whose beginning was put right has one.
func TestProbeCurveOfItsHeat(t *testing.T) {
	t.Run("begun again", func(t *testing.T) {
		s := newStage(t)
		spent(t, s).keys("h")
		s.reads(ramp(20, 620, 20)...)
		s.keys("oh")
		s.reads(580)
		require.Equal(t, 1, s.curves())
		require.Nil(t, s.current().state().Zones[0].Heat.Trace, "the curve is that of the heat before")
		require.Equal(t, schedule.InFlame, s.current().state().Zones[0].Heat.Phase)
	})
	t.Run("taken back", func(t *testing.T) {
		s := newStage(t)
		spent(t, s).keys("h")
		s.reads(ramp(20, 100, 20)...)
		s.keys("u")
		s.reads(120, 140)
		require.Zero(t, s.curves())
	})
	t.Run("put right", func(t *testing.T) {
		s := newStage(t)
		spent(t, s).keys("h")
		s.reads(ramp(20, 300, 20)...)
		s.move(-5 * time.Second)
		s.reads(ramp(320, 620, 20)...)
		s.keys("o")
		s.reads(ramp(600, 390, -30)...)
		require.Equal(t, 1, s.curves())
		curve, err := probe.Decode(s.current().state().Zones[0].Heat.Trace.Curve)
		require.NoError(t, err)
		at, known := curve.At(10 * time.Second)
		require.True(t, known)
		require.InDelta(t, 220, float64(at), 1, "it begins with the first reading")
	})
}

// On a bench whose line of time is ahead of the clock, readings are dated by the line.
func TestProbeAfterTheClockWasSetBack(t *testing.T) {
	s := newStage(t)
	spent(t, s)
	s.boot += time.Second
	s.wall = s.wall.Add(-time.Hour)
	s.checkClock()
	s.keys("h")
	for _, temp := range ramp(20, 620, 20) {
		s.wait(time.Second)
		s.Hear(probe.Reading{At: s.wall, Temp: temp})
	}
	require.Equal(t, schedule.Kind("heat reached"), s.logged()[len(s.logged())-1])
}

// Sterling is annealed at 593 to 649 °C and melts from 788 °C, under a margin of
// 50 K (the tables of alloys and the usual margin of heat).
func TestLead(t *testing.T) {
	silver := func(phase schedule.Phase, joints ...heat.Joint) (*schedule.State, schedule.Zone) {
		s := newStage(t)
		spent(t, s)
		state := *s.current().state()
		state.Joints = joints
		z := state.Zones[0]
		z.Heat.Phase = phase
		return &state, z
	}
	easy := heat.Joint{Solder: "easy", Solidus: 630}
	cases := []struct {
		name, reason string
		phase        schedule.Phase
		joints       []heat.Joint
		temps        []unit.Celsius
		want         News // of the last reading
	}{
		{"under the window", "not there yet", schedule.InFlame, nil, []unit.Celsius{20, 592}, News{}},
		{"on its low end", "the window includes its ends", schedule.InFlame, nil, []unit.Celsius{20, 593}, News{Reached: true}},
		{"past it at once", "a slow probe may leap over the window", schedule.InFlame, nil, []unit.Celsius{500, 700}, News{Reached: true}},
		{"logged", "once is enough", schedule.AtHeat, nil, []unit.Celsius{593, 600}, News{}},
		{"not logged yet", "what could not be written is tried again", schedule.InFlame, nil, []unit.Celsius{593, 600}, News{Reached: true}},
		{"under the ceiling", "788 less 50", schedule.AtHeat, nil, []unit.Celsius{737.9}, News{}},
		{"at the ceiling", "788 less 50", schedule.AtHeat, nil, []unit.Celsius{738}, News{TooHot: "sterling silver starts to melt at 788 °C"}},
		{"at it again", "said once", schedule.AtHeat, nil, []unit.Celsius{738, 700, 739}, News{}},
		{"a joint", "its ceiling of 580 °C leaves no window", schedule.InFlame, []heat.Joint{easy}, []unit.Celsius{579}, News{}},
		{"a joint at its ceiling", "630 less 50", schedule.InFlame, []heat.Joint{easy}, []unit.Celsius{580}, News{TooHot: "the joint (easy) lets go at 630 °C"}},
		{"fallen a little", "a flame wanders", schedule.AtHeat, nil, []unit.Celsius{620, 560.1}, News{}},
		{"fallen", "60 K under the highest", schedule.AtHeat, nil, []unit.Celsius{600, 620, 560}, News{Fallen: true}},
		{"fallen by steps", "under the highest, not the last", schedule.AtHeat, nil, []unit.Celsius{620, 590, 560}, News{Fallen: true}},
		{"out, hot", "it softens yet", schedule.OutOfFlame, nil, []unit.Celsius{620, 600, 561}, News{}},
		{"out, cooled", "its curve has told all", schedule.OutOfFlame, nil, []unit.Celsius{420, 399}, News{Ended: true}},
		{"after the end", "nothing more is said", schedule.OutOfFlame, nil, []unit.Celsius{420, 399, 300}, News{}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			state, z := silver(c.phase, c.joints...)
			l, got := NewLead(stageStart), News{}
			for i, temp := range c.temps {
				got = l.Read(probe.Reading{At: stageStart.Add(time.Duration(i) * time.Second), Temp: temp}, state, z)
			}
			require.Equal(t, c.want, got, c.reason)
		})
	}
}

// What is read before the heat, or in no zone, is no part of it; and readings that
// come all at once have no curve.
func TestLeadCurve(t *testing.T) {
	s := newStage(t)
	spent(t, s).keys("h")
	z := s.current().state().Zones[0]
	l := NewLead(stageStart)
	read := func(after time.Duration, temp unit.Celsius, zones ...schedule.Zone) News {
		return l.Read(probe.Reading{At: stageStart.Add(after), Temp: temp}, s.current().state(), zones...)
	}
	require.Equal(t, News{}, read(-time.Second, 600, z))
	require.Equal(t, News{}, read(0, 600))
	require.Zero(t, l.Last())
	_, ok := l.Trace()
	require.False(t, ok, "nothing was read")
	read(0, 600, z)
	read(900*time.Millisecond, 610, z)
	_, ok = l.Trace()
	require.False(t, ok, "no second of it")
	read(time.Second, 620, z)
	trace, ok := l.Trace()
	require.True(t, ok)
	require.Equal(t, unit.Celsius(620), trace.Max)
	require.Equal(t, time.Second, trace.Hot)
	_, ok = l.Trace()
	require.True(t, ok, "it is not kept yet")
	l.Kept()
	_, ok = l.Trace()
	require.False(t, ok, "nothing is new")
}
