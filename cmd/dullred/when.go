package main

import (
	"strings"
	"time"

	"dullred/schedule"
)

// layouts are the ways a person writes an instant with its date.
var layouts = []string{time.RFC3339, "2006-01-02 15:04:05", "2006-01-02 15:04", "2006-01-02T15:04:05", "2006-01-02T15:04"}

// parseWhen reads an instant in local time; a clock time alone is today. Empty
// is now. Dates that no calendar has are refused.
func parseWhen(s string, now time.Time) (time.Time, error) {
	s = strings.TrimSpace(s)
	if s == "" {
		return schedule.Moment(now), nil
	}
	for _, layout := range layouts {
		if t, err := time.ParseInLocation(layout, s, now.Location()); err == nil {
			return believable(s, t)
		}
	}
	for _, layout := range []string{"15:04:05", "15:04"} {
		if t, err := time.Parse(layout, s); err == nil {
			y, m, d := now.Date()
			return believable(s, time.Date(y, m, d, t.Hour(), t.Minute(), t.Second(), 0, now.Location()))
		}
	}
	return time.Time{}, refuse("write 14:05 for today, or 2006-01-02 14:05", "%.60q is not a time that a calendar and a clock have", s)
}

func believable(s string, t time.Time) (time.Time, error) {
	if !schedule.Plausible(t) {
		return time.Time{}, refuse("check the year", "%.60q is not a believable time", s)
	}
	return schedule.Moment(t), nil
}
