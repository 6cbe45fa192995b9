package main

import (
	"fmt"
	"slices"
	"time"

	"dullred/schedule"
)

// timeOf is the time of the step that runs in a zone; empty when none does.
func timeOf(s *schedule.State, zone string) string {
	running := s.Running()
	i := slices.IndexFunc(running, func(t schedule.Timer) bool { return slices.Contains(t.Zones, zone) })
	if i < 0 {
		return ""
	}
	return stepTime(running[i])
}

// stepTime is the time that a step of a heat or the pickle takes.
func stepTime(t schedule.Timer) string {
	switch t.Step {
	case schedule.StepHeating:
		return flameTime(t)
	case schedule.StepSoak:
		return "hold " + minutes(t.Target)
	case schedule.StepWait:
		if t.Most > 0 {
			return "HOT, INTO WATER within " + minutes(t.Most) + ", no drop test"
		}
		return "HOT, quench after " + minutes(t.Target)
	case schedule.StepCooling:
		return "HOT until it is found cool"
	case schedule.StepPickle:
		return "ready after " + minutes(t.Target)
	}
	return ""
}

// flameTime is how long a flame takes to a heat: a range, and what it goes by. A
// weak flame may never come there, which is a high end of 0, and the likeliest
// too, which is a target of 0.
func flameTime(t schedule.Timer) string {
	low, high := minutes(max(time.Second, t.Low.Round(time.Second))), minutes(t.High.Round(time.Second))
	head, by := "a guess: ", ""
	if t.Learned > 0 {
		head, by = "about ", " by this torch, learned from "+heats(t.Learned)
	}
	switch {
	case t.Target == 0 && t.Low == 0:
		return "by these numbers it never gets there" + by
	case t.Target == 0:
		return head + "at best " + low + ", and a weak flame never gets there" + by
	case t.Low == 0:
		return "a guess: up to " + minutes(t.Target)
	case t.High == 0:
		return head + low + " or longer" + by
	}
	return head + low + " to " + high + by
}

func heats(n int) string {
	if n == 1 {
		return "1 heat"
	}
	return fmt.Sprintf("%d heats", n)
}

// minutes is a length of time as a clock shows it: 0:40, 12:00, 1:05:00.
func minutes(d time.Duration) string {
	s := int(d / time.Second)
	if s >= 3600 {
		return fmt.Sprintf("%d:%02d:%02d", s/3600, s/60%60, s%60)
	}
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}
