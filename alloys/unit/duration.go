package unit

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"time"
)

// MaxDuration is one year of 365 days.
const MaxDuration = 365 * 24 * time.Hour

// durations are the lengths of the units of time; m is the minute.
var durations = map[string]time.Duration{
	"s": time.Second, "sec": time.Second, "secs": time.Second, "second": time.Second, "seconds": time.Second,
	"m": time.Minute, "min": time.Minute, "mins": time.Minute, "minute": time.Minute, "minutes": time.Minute,
	"h": time.Hour, "hr": time.Hour, "hrs": time.Hour, "hour": time.Hour, "hours": time.Hour,
	"d": 24 * time.Hour, "day": 24 * time.Hour, "days": 24 * time.Hour,
}

var (
	errDuration      = errors.New("expected a time such as 90s, 1:30, 1:02:03, 5 min or 1h30m")
	errDurationRange = errors.New("expected a time above zero and of one year at most")
)

// ParseDuration reads a length of time such as 90, 90s, 5 min, 1h30m, 1:30
// (minutes and seconds) or 1:02:03 (hours, minutes and seconds), to the
// nanosecond. A bare number is in seconds, and only when it stands alone: what
// 1h30 leaves out is not guessed. Units go from large to small. It refuses
// zero and what is above MaxDuration.
func ParseDuration(s string) (time.Duration, error) { return parse(s, readDuration) }

func readDuration(words []string) (time.Duration, error) {
	read := readParts
	if len(words) > 1 && words[1] == ":" {
		read = readClock
	}
	d, err := read(words)
	if err == nil && (d <= 0 || d > MaxDuration) {
		err = errDurationRange
	}
	return d, err
}

// readParts adds up numbers with units, each smaller than the one before.
func readParts(words []string) (time.Duration, error) {
	if r, ok := only(words); ok && r.unit == "" {
		return r.times(time.Second)
	}
	var sum time.Duration
	for last := MaxDuration; ; {
		r, rest := next(words)
		unit := durations[r.unit]
		if unit == 0 || unit >= last {
			return 0, errDuration
		}
		part, err := r.times(unit)
		if err != nil || len(rest) == 0 {
			return sum + part, err
		}
		sum, last, words = sum+part, unit, rest
	}
}

// readClock reads min:s or h:min:s, with two figures behind each colon.
func readClock(words []string) (time.Duration, error) {
	fields := strings.Split(strings.Join(words, ""), ":")
	unit := time.Minute
	if len(fields) == 3 {
		unit = time.Hour
	}
	if len(fields) > 3 || len(words) != 2*len(fields)-1 {
		return 0, errDuration
	}
	var sum time.Duration
	for i, field := range fields {
		n, ok := whole(field)
		if !ok || i > 0 && (len(field) != 2 || n >= 60) {
			return 0, errDuration
		}
		part, err := reading{number: field}.times(unit)
		if err != nil {
			return 0, err
		}
		sum, unit = sum+part, unit/60
	}
	return sum, nil
}

// times multiplies the number with a unit, and refuses what is above
// MaxDuration before it can overflow.
func (r reading) times(unit time.Duration) (time.Duration, error) {
	v, ok := decimal(r.number, "")
	if !ok {
		return 0, errDuration
	}
	ns := math.Round(v * float64(unit))
	if ns > float64(MaxDuration) {
		return 0, errDurationRange
	}
	return time.Duration(ns), nil
}

// FormatDuration prints a text such as "6 min 12 s" or "1 h 5 min" that
// ParseDuration reads back to the same nanosecond. Round d first for whole
// seconds. Parts that are zero are left out; zero itself is "0 s".
func FormatDuration(d time.Duration) string {
	rest := d.Abs()
	seconds := float64(rest%time.Minute) / float64(time.Second)
	var parts []string
	if h := rest / time.Hour; h > 0 {
		parts = append(parts, strconv.FormatInt(int64(h), 10)+" h")
	}
	if m := rest % time.Hour / time.Minute; m > 0 {
		parts = append(parts, strconv.FormatInt(int64(m), 10)+" min")
	}
	if seconds > 0 || len(parts) == 0 {
		parts = append(parts, strconv.FormatFloat(seconds, 'f', -1, 64)+" s")
	}
	text := strings.Join(parts, " ")
	if d < 0 {
		return "-" + text
	}
	return text
}
