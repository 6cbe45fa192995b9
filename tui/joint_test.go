package tui

import (
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
)

func TestJointByItsForm(t *testing.T) {
	s := newStage(t)
	spoon(t, s).keys("jhandle\nmedium\n690\n")
	require.Nil(t, s.form)
	require.Equal(t, schedule.KindJoint, s.logged()[len(s.logged())-1])
	z := s.current().state().Zones[0]
	_, high, why, ok := s.current().state().Window(z)
	require.True(t, ok)
	require.Equal(t, unit.Celsius(639), high)
	require.Contains(t, why, "handle")
}

// What cannot be is said in the form, and what was typed is kept.
func TestJointThatCannotBe(t *testing.T) {
	for name, c := range map[string]struct{ typed, says string }{
		"flow point only": {"rim\neasy\n\n", "no solidus is published"},
		"cadmium":         {"rim\nBAg-2a\n\n", "cadmium"},
		"no figure":       {"rim\nhard\nhot\n", "expected a temperature"},
		"nothing":         {"\n\n\n", "needs its solder"},
	} {
		t.Run(name, func(t *testing.T) {
			s := newStage(t)
			spoon(t, s)
			before := len(s.logged())
			s.keys("j" + c.typed)
			require.NotNil(t, s.form)
			require.Contains(t, s.text(), c.says)
			require.Len(t, s.logged(), before)
			s.keys("\x1b")
			require.Nil(t, s.form)
		})
	}
}

// A bath with iron in it is asked about once more.
func TestPickleWithIronInIt(t *testing.T) {
	s := newStage(t)
	spoon(t, s)
	s.logHere(schedule.Bath{State: schedule.BathWorking, Iron: true})
	before := len(s.logged())
	s.keys("p")
	require.Len(t, s.logged(), before)
	require.Contains(t, s.text(), "Iron is or was")
	s.keys("p")
	require.Equal(t, schedule.KindPickled, s.logged()[len(s.logged())-1])
}

// A piece that was hardly worked is named before it goes into a shared heat.
func TestSharedHeatNamesWhatIsHardlyWorked(t *testing.T) {
	s := newStage(t)
	s.piece(t, "spoon", "AG925", "8x8").worked(t, "7.6x7.9")
	s.keys("h")
	s.wait(toastTime)
	require.Contains(t, s.text(), "3 to 12 % worked is not annealed")
}
