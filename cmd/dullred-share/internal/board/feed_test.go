package board_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/board"
	"dullred/schedule"
	"dullred/schedule/share"
	"dullred/schedule/share/sharetest"
)

// What comes is shown; what is lost is said, and what was known stays.
func TestFeed(t *testing.T) {
	s := newShop(t)
	s.send("bench 3", "spoon", rod(), to(7))
	f := s.feed()
	p := until(t, f, shows(1))
	require.Equal(t, []string{"spoon", "bench 3", "carry on"}, []string{p.Rows[0].Piece, p.Rows[0].Bench, p.Rows[0].State()})

	s.send("bench 4", "bowl", rod(), to(5))
	p = until(t, f, shows(2))
	require.Equal(t, "bowl", p.Rows[0].Piece)

	s.lose(errors.New("the cable is out"))
	p = until(t, f, func(p *board.Picture) bool { return !p.Alone.IsZero() })
	require.Equal(t, "the cable is out", p.Why)
	require.Equal(t, now(), p.Alone)
	require.Len(t, p.Rows, 2, "what was known")

	s.send("bench 4", "cup", rod())
	s.lose(nil)
	until(t, f, shows(3))
}

// A server that was put back to an earlier state, or holds another record, is read anew.
func TestFeedOfAnotherRecord(t *testing.T) {
	s := newShop(t)
	s.send("bench 3", "spoon", rod(), to(7), to(6.5))
	s.send("bench 3", "bowl", rod())
	f := s.feed()
	until(t, f, shows(2))
	earlier := share.NewMemory(id("shared"))
	_, err := earlier.As(id("bench 3")).Send(t.Context(), batch("bench 3", "cup", rod()))
	require.NoError(t, err)
	s.replace(earlier)
	p := until(t, f, shows(1))
	require.Equal(t, "cup", p.Rows[0].Piece)

	other := share.NewMemory(id("another"))
	for i := range 5 {
		_, err := other.As(id("bench 3")).Send(t.Context(), batch("bench 3", fmt.Sprint("bar ", i), rod()))
		require.NoError(t, err)
	}
	s.replace(other)
	until(t, f, shows(5))
}

// Of a long record the end is read, and of what is worked at the beginning too.
func TestFeedOfALongRecord(t *testing.T) {
	s := newShop(t)
	s.send("bench 3", "spoon", rod())
	s.send("bench 3", "forgotten", rod())
	for range 31 {
		_, err := s.shared.As(id("bench 5")).Send(t.Context(), share.Batch{Rows: sharetest.Notes(1000, id("bench 5"), id("bench 5"))})
		require.NoError(t, err)
	}
	s.send("bench 3", "spoon", to(7))
	p := until(t, s.feed(), shows(1))
	require.Equal(t, "spoon", p.Rows[0].Piece)
	require.Equal(t, schedule.VerdictCarryOn, p.Rows[0].Verdict, "its beginning is known")
	require.Equal(t, "bench 3", p.Rows[0].Bench)
}

// A name that was erased in the shared record goes from a board that is open, though nothing
// else happens.
func TestFeedForgetsNames(t *testing.T) {
	s := newShop(t)
	s.send("bench 3", "spoon of nobody", rod())
	f := board.NewFeed(s.open, now)
	board.Renew(f, 50*time.Millisecond)
	ctx, cancel := context.WithCancel(t.Context())
	over := make(chan struct{})
	go func() { defer close(over); f.Run(ctx) }()
	defer func() { cancel(); <-over }()
	called := func(words string) func(*board.Picture) bool {
		return func(p *board.Picture) bool {
			return len(p.Rows) == 1 && strings.HasPrefix(p.Rows[0].Piece, words) && p.Alone.IsZero()
		}
	}
	until(t, f, called("spoon of nobody"))
	s.shared.Forget(id("spoon of nobody"))
	until(t, f, called("piece without a name"))
}
