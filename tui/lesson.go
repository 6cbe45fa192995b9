package tui

import (
	"time"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/drill"
)

// Lesson is a lesson at a simulated bar, as a *drill.Lesson is one. Moments are told
// as the time since it began.
type Lesson interface {
	Level() drill.Level
	Seed() uint64
	Bars() (number, of int)
	Bar() schedule.Started  // as it is begun
	Size() schedule.Reading // to which each bar is worked

	Strike() drill.Struck
	Say(n int) drill.Reveal

	Begin(at time.Duration) // into the flame
	Out(at time.Duration)
	Quench(at time.Duration)
	Temp(at time.Duration) unit.Celsius // of the metal
	Prove() drill.Proved

	Over() bool
	Score() drill.Score
	Result() schedule.Drilled
}

var _ Lesson = (*drill.Lesson)(nil)
