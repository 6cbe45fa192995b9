package main

import (
	"time"

	"golang.org/x/sys/unix"
)

// sinceBoot is the time since the machine was started, sleep included
// (CLOCK_BOOTTIME, clock_gettime(2)): a clock that nobody can set.
func sinceBoot() (time.Duration, bool) {
	var ts unix.Timespec
	if err := unix.ClockGettime(unix.CLOCK_BOOTTIME, &ts); err != nil {
		return 0, false
	}
	return time.Duration(ts.Nano()), true
}
