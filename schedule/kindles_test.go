package schedule_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
)

func TestKindles(t *testing.T) {
	cases := []struct {
		name    string
		kind    schedule.Kind
		was, is schedule.Phase
		want    bool
		reason  string
	}{
		{"into the flame", schedule.KindBegun, schedule.Cold, schedule.InFlame, true, "cold metal is heated"},
		{"reached, nothing begun", schedule.KindReached, schedule.Cold, schedule.AtHeat, true, "its beginning was not logged"},
		{"reached", schedule.KindReached, schedule.InFlame, schedule.AtHeat, false, "it is the same fire"},
		{"back into the flame", schedule.KindBegun, schedule.OutOfFlame, schedule.InFlame, true, "it had been taken out"},
		{"heated again unproved", schedule.KindBegun, schedule.Cooled, schedule.InFlame, true, "nobody proved the one before"},
		{"proved", schedule.KindSoft, schedule.Cooled, schedule.Cold, false, "the fire is over"},
		{"a course on cold metal", schedule.KindPass, schedule.Cold, schedule.Cold, false, "no fire"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, c.want, c.kind.Kindles(c.was, c.is), c.reason)
		})
	}
}

func TestAbout(t *testing.T) {
	s := start(wrought("AG925", "bowl", "handle")).state()
	require.Equal(t, []string{"bowl", "handle"}, s.About(entryAt(1, schedule.Soft{})), "none is all")
	require.Equal(t, []string{"bowl", "handle"}, s.About(entryAt(1, schedule.Soft{}, schedule.Whole)), "no zone is called so")
	require.Equal(t, []string{"handle"}, s.About(entryAt(1, schedule.Soft{}, "handle", "tip")), "a zone that it has")
}
