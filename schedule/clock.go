package schedule

import (
	"errors"
	"time"

	"dullred/alloys/unit"
)

// A bench keeps a line of time of its own, on which its entries are dated. It is
// the wall clock as long as that runs evenly. When the wall clock is set, the
// bench notices by a clock that cannot be set, and writes a ClockStep:
//
//   - set forward, the line goes along, and what ran across the step is shorter
//     by as much as the line jumped;
//   - set back, the line runs on, ahead of the wall clock, since entries are in
//     order of their time and a later one may never come to stand before an
//     earlier one.
//
// A line that is ahead is given up once the wall clock has passed, by a day, the
// step that set it ahead.

// ClockStep is a jump of the wall clock that no time passed for.
type ClockStep struct {
	Wall time.Duration `json:"wall"` // jump of the wall clock; negative is back
	Line time.Duration `json:"line"` // jump of the bench's line of time; 0 when it ran on
}

// String is the step in words, to the second.
func (c ClockStep) String() string {
	how := "forward"
	if c.Wall < 0 {
		how = "back"
	}
	return "the clock of this machine was set " + how + " by " + unit.FormatDuration(c.Wall.Abs().Round(time.Second))
}

// Kind is KindClockStep.
func (ClockStep) Kind() Kind { return KindClockStep }

func (c ClockStep) check() error {
	if c.Wall == 0 || c.Line < 0 {
		return errors.New("a clock step of nothing, or of a line of time that runs back")
	}
	return nil
}

// A jump is believed from LeastJump, and one ten-thousandth of the time since the
// last look: slower differences are the drift of a clock, or its slewing by a time
// service.
const (
	LeastJump = 2 * time.Second
	drift     = 10_000
)

// Clocks is one look at the two clocks of a machine. The zero Clocks is no look.
type Clocks struct {
	Wall time.Time
	Boot time.Duration // since the machine was started, sleep included: nobody can set it
	OK   bool          // Boot is known
}

// Jump is how far the wall clock was set since an earlier look; 0 for not at all,
// and where either look does not know.
func (c Clocks) Jump(before Clocks) time.Duration {
	if !c.OK || !before.OK {
		return 0
	}
	passed := c.Boot - before.Boot
	jump := c.Wall.Round(0).Sub(before.Wall.Round(0)) - passed
	if jump.Abs() < LeastJump+passed/drift {
		return 0
	}
	return jump
}

// stepped is a clock step of one bench as a state keeps it.
type stepped struct {
	at    time.Time
	bench ID
	line  time.Duration
}

// ahead is for how long after a step back the line is kept ahead.
const ahead = 24 * time.Hour

// Ahead is how far the line of a bench is ahead of a wall clock that shows wall,
// by the bench's clock steps among entries.
func Ahead(entries []Entry, bench ID, wall time.Time) time.Duration {
	var off time.Duration
	for _, e := range effective(sorted(entries)) {
		step, ok := e.Body.(ClockStep)
		if ok && e.Bench == bench && e.At.Add(ahead).After(wall) {
			off = max(0, off-step.Wall)
		}
	}
	return off
}

// NewStep is the step that a jump of the wall clock makes of a line that was
// ahead of it, and how far the line is ahead from then on.
func NewStep(wall, ahead time.Duration) (step ClockStep, off time.Duration) {
	off = max(0, ahead-wall)
	return ClockStep{Wall: wall, Line: wall + off - ahead}, off
}

// elapsed is the time that passed at a bench, without the jumps of its clock.
func (s *State) elapsed(since time.Time, bench ID, now time.Time) time.Duration {
	d := now.Sub(since)
	for _, step := range s.steps {
		if step.bench == bench && step.at.After(since) && !step.at.After(now) {
			d -= step.line
		}
	}
	return max(0, d)
}
