//go:build !linux

package main

import "time"

// sinceBoot is not known here: other systems have no clock that goes on in sleep
// and that Go's libraries reach. A wall clock that is set then changes what runs.
func sinceBoot() (time.Duration, bool) { return 0, false }
