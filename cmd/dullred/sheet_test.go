package main

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/class"
)

func TestWorkedIn(t *testing.T) {
	noon := time.Date(2024, time.March, 5, 12, 0, 0, 0, time.UTC)
	at := func(hours time.Duration, id schedule.ID, body schedule.Body) schedule.Entry {
		return schedule.Entry{ID: id, At: noon.Add(hours * time.Hour), Body: body}
	}
	note := schedule.Note{Text: "n"}
	cases := []struct {
		name, reason string
		entries      []schedule.Entry
		want         bool
	}{
		{"at noon", "it is that day", []schedule.Entry{at(0, "a", note)}, true},
		{"first moment", "the day begins at midnight", []schedule.Entry{at(-12, "a", note)}, true},
		{"next midnight", "and ends before the next", []schedule.Entry{at(12, "a", note)}, false},
		{"advice", "nobody was at the piece", []schedule.Entry{at(0, "a", schedule.Shown{})}, false},
		{"taken back", "it did not happen", []schedule.Entry{at(0, "a", note), at(30, "b", schedule.Void{Target: "a"})}, false},
		{"taking back", "what was taken back is of another day", []schedule.Entry{at(-30, "a", note), at(0, "b", schedule.Void{Target: "a"})}, false},
		{"none", "no entry", nil, false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.Equal(t, c.want, workedIn(c.entries, class.DayOf(noon)), c.reason)
		})
	}
}
