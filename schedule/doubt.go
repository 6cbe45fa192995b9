package schedule

import (
	"cmp"
	"fmt"
	"time"

	"dullred/schedule/coldwork"
)

// LeftOut is what a reading would have said of a hand, had there not been something
// odd about it. It is told and not averaged in.
type LeftOut struct {
	coldwork.Course
	Why string
}

// pace is how many courses were logged from a moment on.
type pace struct {
	from  time.Time
	count int
}

// mostInAMinute is more courses than are hammered in a minute, also by one who logs
// the work of an evening in one go; a judgement.
const mostInAMinute = 100

// hurry counts courses, and doubts more of them than anybody hammers.
func (z *Zone) hurry(at time.Time, n int) {
	if at.Sub(z.pace.from) > time.Minute {
		z.pace = pace{from: at}
	}
	if z.pace.count += n; z.pace.count > mostInAMinute {
		z.Doubt = cmp.Or(z.Doubt, fmt.Sprintf("more than %d courses within a minute: nobody hammers so fast", mostInAMinute))
	}
}

// doubtClock doubts the order of what is under way when a clock is set back.
func (s *State) doubtClock(c ClockStep) {
	if c.Wall >= 0 {
		return
	}
	for i := range s.Zones {
		if z := &s.Zones[i]; z.Courses > 0 {
			z.Doubt = cmp.Or(z.Doubt, "a clock was set back while it was worked: the order of its passes is not sure")
		}
	}
}

// hearHand keeps what a reading says of a hand, or why it is left out.
func (s *State) hearHand(z *Zone, c coldwork.Course) {
	if why := cmp.Or(coldwork.Doubtful(c), z.Doubt); why != "" {
		s.LeftOut = append(s.LeftOut, LeftOut{c, why})
		return
	}
	s.Courses = append(s.Courses, c)
}
