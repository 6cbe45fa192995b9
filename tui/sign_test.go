package tui

import (
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
)

// Each sign is one key.
func TestASignIsOneKey(t *testing.T) {
	for key, sign := range map[Special]schedule.Sign{Rings: schedule.SignRings, Bounces: schedule.SignBounces,
		Springs: schedule.SignSprings, Stops: schedule.SignStops, Dead: schedule.SignDead} {
		s := newStage(t)
		spoon(t, s).arrow(key)
		heard := s.current().state().Heard
		require.Len(t, heard, 1)
		require.Equal(t, sign, heard[0].Sign)
		require.Equal(t, sign, s.current().state().Zones[0].Sign)
	}
}
