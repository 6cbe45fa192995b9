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

// look is both clocks as they stand.
func (c Clock) look() schedule.Clocks {
	boot, ok := c.Boot()
	return schedule.Clocks{Wall: c.Wall(), Boot: boot, OK: ok}
}

// line is the bench's line of time: the wall clock, and how far the line is ahead
// of it since the wall clock was last set back.
type line struct {
	clock Clock
	ahead time.Duration
	last  schedule.Clocks // when they were last in order
}

// now is the present moment on the line.
func (l *line) now() time.Time { return schedule.Moment(l.clock.Wall().Add(l.ahead)) }

// look gives the jump of the wall clock since it was last in order, 0 for none. A
// jump is given until it is settled.
func (l *line) look() time.Duration {
	now := l.clock.look()
	jump := now.Jump(l.last)
	if jump == 0 {
		l.last = now
	}
	return jump
}

// settle takes the clocks as they stand for the next look.
func (l *line) settle() { l.last = l.clock.look() }
