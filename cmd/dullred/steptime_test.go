package main

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
)

func TestStepTime(t *testing.T) {
	const low, likely, high = 70400 * time.Millisecond, 80 * time.Second, 89600 * time.Millisecond
	flame := func(target, low, high time.Duration, learned int) schedule.Timer {
		return schedule.Timer{Step: schedule.StepHeating, Target: target, Low: low, High: high, Learned: learned}
	}
	cases := []struct {
		name, reason string
		timer        schedule.Timer
		want         string
	}{
		{"learned", "a range to the second, and what it goes by", flame(likely, low, high, 3), "about 1:10 to 1:30 by this torch, learned from 3 heats"},
		{"learned once", "one heat is no heats", flame(likely, low, high, 1), "about 1:10 to 1:30 by this torch, learned from 1 heat"},
		{"untimed torch", "the range of any hand torch is a guess, and said to be one", flame(likely, low, high, 0), "a guess: 1:10 to 1:30"},
		{"quick", "no range begins at nothing", flame(time.Second, 100*time.Millisecond, 2*time.Second, 0), "a guess: 0:01 to 0:02"},
		{"perhaps weak", "a high end of 0 is never", flame(likely, low, 0, 0), "a guess: 1:10 or longer"},
		{"perhaps weak, learned", "the same of a torch that is known", flame(likely, low, 0, 2), "about 1:10 or longer by this torch, learned from 2 heats"},
		{"only if strong", "a target of 0 is never, as likely", flame(0, low, 0, 0), "a guess: at best 1:10, and a weak flame never gets there"},
		{"never", "not even a strong one", flame(0, 0, 0, 0), "by these numbers it never gets there"},
		{"not reckoned", "the rule of the trade stands in, and has no range", flame(3*time.Minute, 0, 0, 0), "a guess: up to 3:00"},
		{"soak", "how long to hold it", schedule.Timer{Step: schedule.StepSoak, Target: 30 * time.Second}, "hold 0:30"},
		{"wait", "until it may be quenched", schedule.Timer{Step: schedule.StepWait, Target: 16 * time.Second}, "HOT, quench after 0:16"},
		{"into water", "slow cooling hardens it, and a drop test loses the time", schedule.Timer{Step: schedule.StepWait, Target: time.Second, Most: 34 * time.Second}, "HOT, INTO WATER within 0:34, no drop test"},
		{"air", "never by the clock", schedule.Timer{Step: schedule.StepCooling, Touch: time.Minute}, "HOT until it is found cool"},
		{"pickle", "when it should be clean", schedule.Timer{Step: schedule.StepPickle, Target: 10 * time.Minute}, "ready after 10:00"},
		{"torch", "it has no time", schedule.Timer{Step: schedule.StepTorch}, ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.Equal(t, c.want, stepTime(c.timer), c.reason)
		})
	}
}
