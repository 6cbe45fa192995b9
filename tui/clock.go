package tui

import (
	"time"

	"dullred/schedule"
)

// Clock tells the time in two ways.
type Clock struct {
	// Wall is the clock on the wall, which somebody may set.
	Wall func() time.Time

	// Boot is the time since the machine was started, sleep included, which nobody
	// can set; ok is false where there is no such clock. Without it a clock that
	// is set cannot be told from time that passed.
	Boot func() (d time.Duration, ok bool)
}

// A jump is believed from two seconds, and one ten-thousandth of the time since
// the last look: slower differences are the drift of a clock, or its slewing by a
// time service.
const (
	leastJump = 2 * time.Second
	drift     = 10_000
)

// line is the bench's line of time: the wall clock, and how far the line is ahead
// of it since the wall clock was last set back.
type line struct {
	clock Clock
	ahead time.Duration
	wall  time.Time // at the last look
	boot  time.Duration
	known bool // the last look has a boot time
}

// now is the present moment on the line.
func (l *line) now() time.Time { return schedule.Moment(l.clock.Wall().Add(l.ahead)) }

// look compares the two clocks with how they stood at the last look and gives
// the jump of the wall clock, 0 for none.
func (l *line) look() time.Duration {
	wall := l.clock.Wall().Round(0)
	boot, ok := l.clock.Boot()
	if !l.known || !ok {
		l.wall, l.boot, l.known = wall, boot, ok
		return 0
	}
	passed := boot - l.boot
	jump := wall.Sub(l.wall) - passed
	if jump.Abs() < leastJump+passed/drift {
		jump = 0
		l.wall, l.boot = wall, boot
	}
	return jump
}

// settle takes the clocks as they stand for the next look.
func (l *line) settle() { l.known = false; l.look() }
