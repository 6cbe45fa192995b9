package class

import (
	"fmt"
	"math"
	"strings"
)

// Leaning says in one sentence what is done too early and what too late, and
// names nobody. Struck at or over the limit is late; a heat begun before half of
// the limit was spent is early, and so is the hammer before the bend check.
func (c Counts) Leaning() string {
	var parts []string
	say := func(n int, format string, args ...any) {
		if n > 0 {
			parts = append(parts, fmt.Sprintf(format, args...))
		}
	}
	say(c.Over, "too late in %d of %d courses", c.Over, c.Courses)
	say(c.Early, "too early in %d of %d heats", c.Early, c.Heats)
	hasty := c.Unproven - c.Open
	say(hasty, "no bend check after %d", hasty)
	if off, asked := c.Drill.Error(); asked {
		parts = append(parts, "drill "+Off(off))
	}
	if len(parts) == 0 {
		return "The class: nothing too early, nothing too late."
	}
	return "The class: " + strings.Join(parts, ", ") + "."
}

// Off is an error of a forecast in words: who says too many courses comes to the
// anneal late, who says too few comes early. An error that would print as 0.0 is even.
func Off(courses float64) string {
	size := math.Abs(courses)
	switch {
	case size < 0.05:
		return "even"
	case courses > 0:
		return fmt.Sprintf("%s late", short(size))
	}
	return fmt.Sprintf("%s early", short(size))
}

// short is a number in at most four places. No lesson that is believable goes past
// them, and a column has no room for more.
func short(size float64) string {
	switch {
	case size < 99.95:
		return fmt.Sprintf("%.1f", size)
	case size < 999.5:
		return fmt.Sprintf("%.0f", size)
	}
	return ">999"
}
