package view

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// Outside check (standard): flashes a second, IEC 60601-1-8 as quoted and WCAG 2.3.1.
func TestFlashRates(t *testing.T) {
	cases := []struct {
		name      string
		half      time.Duration
		low, high float64 // flashes a second
		source    string
	}{
		{"urgent", FlashUrgent, 1.4, 2.8, "IEC 60601-1-8, high priority, as others quote it"},
		{"call", FlashCall, 0.4, 0.8, "IEC 60601-1-8, medium priority, as others quote it"},
		{"urgent is no hazard", FlashUrgent, 0, 3, "WCAG 2.3.1, three flashes a second at most"},
		{"call is no hazard", FlashCall, 0, 3, "WCAG 2.3.1, three flashes a second at most"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.source)
			hertz := 1 / (2 * c.half).Seconds()
			require.GreaterOrEqual(t, hertz, c.low)
			require.LessOrEqual(t, hertz, c.high)
		})
	}
	require.InDelta(t, 2, 1/(2*FlashUrgent).Seconds(), 0.001)
	require.InDelta(t, 0.7, 1/(2*FlashCall).Seconds(), 0.001)
}

func TestFlashCountsFromTheEpoch(t *testing.T) {
	epoch := time.Unix(0, 0)
	cases := []struct {
		name string
		at   time.Duration
		half time.Duration
		want bool
	}{
		{"starts on", 0, FlashUrgent, true},
		{"still on", 249 * time.Millisecond, FlashUrgent, true},
		{"off", 250 * time.Millisecond, FlashUrgent, false},
		{"still off", 499 * time.Millisecond, FlashUrgent, false},
		{"on again", 500 * time.Millisecond, FlashUrgent, true},
		{"before the epoch, off", -1 * time.Millisecond, FlashUrgent, false},
		{"before the epoch, on", -251 * time.Millisecond, FlashUrgent, true},
		{"the slow rate is still on", 713 * time.Millisecond, FlashCall, true},
		{"the slow rate is off", 714 * time.Millisecond, FlashCall, false},
		{"no half period is steady", 999 * time.Millisecond, 0, true},
		{"a negative one too", 999 * time.Millisecond, -time.Second, true},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, c.want, FlashOn(epoch.Add(c.at), c.half))
		})
	}
}

// Over one second the bar changes at most six times: three flashes.
func TestFlashChangesInASecond(t *testing.T) {
	start := time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)
	for _, half := range []time.Duration{FlashUrgent, FlashCall} {
		changes := 0
		for ms := range 1000 {
			at := start.Add(time.Duration(ms) * time.Millisecond)
			if FlashOn(at, half) != FlashOn(at.Add(time.Millisecond), half) {
				changes++
			}
		}
		require.Positive(t, changes)
		require.LessOrEqual(t, changes, 6)
	}
}
