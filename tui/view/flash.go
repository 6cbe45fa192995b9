package view

import "time"

// The two rates at which the alert bar may flash, each as the time it is on and
// again the time it is off. IEC 60601-1-8 (quoted by others; not read) flashes
// 1.4 to 2.8 times a second for high priority and 0.4 to 0.8 for medium, and WCAG
// 2.3.1 allows three flashes a second at most.
const (
	FlashUrgent = 250 * time.Millisecond // 2 Hz: danger or loss now
	FlashCall   = 714 * time.Millisecond // 0.7 Hz: anneal now, quench now
)

// FlashOn tells whether something that flashes with this half period is in its
// first half at now. It counts from the Unix epoch in whole milliseconds, so that
// two windows flash together. A half period below a millisecond does not flash:
// it is always on.
func FlashOn(now time.Time, half time.Duration) bool {
	step := half.Milliseconds()
	if step <= 0 {
		return true
	}
	phase := now.UnixMilli() % (2 * step)
	if phase < 0 {
		phase += 2 * step
	}
	return phase < step
}
