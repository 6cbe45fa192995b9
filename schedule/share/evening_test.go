package share_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// Links that are down or silent for hours, in which all benches log, heal within 5 s.
func TestSharingAfterAnEvening(t *testing.T) {
	cases := []struct {
		name   string
		state  string
		breaks bool // connections when the link heals
		hours  int
		reason string
	}{
		{"pulled for an evening", "down", true, 4, "the benches try again and again"},
		{"silent for an evening", "hung", true, 4, "what was open is half open, and nobody says so"},
		{"silent for an evening, and then all of it comes through", "hung", false, 4, "what was asked for hours ago is answered now"},
		{"pulled over a night", "down", true, 9, "pauses between two tries grow no longer"},
		{"silent for a day", "hung", true, 24, "a clock goes round once"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			inShop(t, 3, func(t *testing.T, s *shop) {
				s.log(0, 5)
				s.open()
				pause(time.Minute)
				for i := range 2 { // the third bench stays with the shared record
					s.posts[i].wire.set(c.state, c.breaks)
				}
				entries := 5 + s.evening(time.Duration(c.hours)*time.Hour)
				for i := range 2 {
					require.False(t, s.posts[i].beacon.left().AloneSince.IsZero(), "it is alone")
					require.Less(t, s.posts[i].beacon.left().AloneSince, time.Now().Add(-time.Duration(c.hours)*time.Hour+time.Minute), "since then")
					s.posts[i].wire.set("", c.breaks)
				}
				pause(5 * time.Second)
				require.NoError(t, s.equal(nil))
				require.Len(t, s.stored(), entries)
				for i, p := range s.posts {
					require.False(t, p.beacon.left().Shared.IsZero(), fmt.Sprint("bench ", i))
				}
			})
		})
	}
}

// evening passes, in which every bench logs an entry each seven minutes. It gives how
// many there were.
func (s *shop) evening(length time.Duration) (entries int) {
	for end := time.Now().Add(length); time.Now().Before(end); pause(7 * time.Minute) {
		for i := range s.posts {
			s.log(i, 1)
			entries++
		}
	}
	return entries
}
