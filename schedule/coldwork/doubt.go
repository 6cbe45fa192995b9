package coldwork

import (
	"fmt"

	"dullred/alloys/unit"
)

// The least and the most that one course is believed to put in, as soft metal would
// take it. The most is half as much again as the hardest draw of a rolling mill; the
// least is a hundredth of a usual course. Judgements.
const (
	leastCourse unit.Strain = 0.001
	mostCourse  unit.Strain = 1
)

// Doubtful says why an observation is left out of what is known of a hand; empty for
// one that counts. It is never averaged in.
func Doubtful(c Course) string {
	if c.Count <= 0 || c.Strain <= 0 {
		return ""
	}
	switch per := c.Effort() / unit.Strain(c.Count); {
	case per > mostCourse:
		return fmt.Sprintf("a strain of %.2f in one course is more than any hammer gives", float64(per))
	case per < leastCourse:
		return fmt.Sprintf("%d courses for a strain of %.3f: that is hardly work", c.Count, float64(c.Strain))
	}
	return ""
}
