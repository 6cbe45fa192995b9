package share

import (
	"fmt"
	"time"
)

// The steps in which the age of what was shared is told. A carrier that works writes its
// beacon anew every ten seconds, when it has spoken with the store, which it does every
// three: the beacon is then up to 13 s old, and words that went to and fro with it would
// write to a screen on which nothing happens. So what is younger than justNow is shared
// just now, which is a judgement above that.
const (
	justNow  = 2 * beaconBeat
	ageStep  = 10 * time.Second
	dayHours = 48 // from so many hours on, days are counted
	weekDays = 6  // so many days back the name of a day can be no other
)

// Stale is the age beyond which what was shared tells of a carrier that does no more.
const Stale = time.Minute

// Words is how sharing stands in a few words, for now and in the place of now: "shared
// just now", "shared 40 s ago", "alone since 18:02", with the day where it was another:
// "alone since Tue 18:02", "alone since 2026-03-03 18:02". Ages are rounded down. It is
// empty for the zero Standing and for one that says both. Why has no part in it.
func (s Standing) Words(now time.Time) string {
	switch {
	case s.Shared.IsZero() == s.AloneSince.IsZero():
		return ""
	case s.Shared.IsZero():
		return "alone since " + moment(s.AloneSince, now)
	case s.Shared.After(now.Add(justNow)):
		return "shared at " + moment(s.Shared, now) // by a clock that was set back since
	}
	return "shared " + age(now.Sub(s.Shared))
}

// age is how long ago something was.
func age(d time.Duration) string {
	switch hours := int(d / time.Hour); {
	case d < justNow:
		return "just now"
	case d < time.Minute:
		return fmt.Sprintf("%d s ago", d/ageStep*ageStep/time.Second)
	case d < time.Hour:
		return fmt.Sprintf("%d min ago", d/time.Minute)
	case hours < dayHours:
		return fmt.Sprintf("%d h ago", hours)
	default:
		return fmt.Sprintf("%d days ago", hours/24)
	}
}

// moment is a time of day where now is, with as much of the date as it needs.
func moment(t, now time.Time) string {
	t = t.In(now.Location())
	switch days := daysBetween(t, now); {
	case days == 0:
		return t.Format("15:04")
	case days > 0 && days <= weekDays:
		return t.Format("Mon 15:04")
	}
	return t.Format("2006-01-02 15:04")
}

// daysBetween counts the midnights from one time to another, both in one place.
func daysBetween(from, to time.Time) int {
	return int(dayOf(to).Sub(dayOf(from)) / (24 * time.Hour))
}

// dayOf is the date of a time, as if no day were longer than another.
func dayOf(t time.Time) time.Time {
	return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC)
}

// Stays is how long the Words of now hold at least, more than 0 where they change with
// time; it is 0 for words that never change by themselves.
func (s Standing) Stays(now time.Time) time.Duration {
	switch {
	case s.Words(now) == "":
		return 0
	case s.Shared.IsZero(), s.Shared.After(now.Add(justNow)):
		return untilMidnight(now)
	}
	d := now.Sub(s.Shared)
	switch {
	case d < justNow:
		return justNow - d
	case d < time.Minute:
		return ageStep - d%ageStep
	case d < time.Hour:
		return time.Minute - d%time.Minute
	}
	return time.Hour - d%time.Hour
}

// untilMidnight is how long the day of now lasts, where it is.
func untilMidnight(now time.Time) time.Duration {
	next := time.Date(now.Year(), now.Month(), now.Day()+1, 0, 0, 0, 0, now.Location())
	for !next.After(now) {
		next = next.Add(time.Hour) // that midnight is in the hour that was left out
	}
	return next.Sub(now)
}
