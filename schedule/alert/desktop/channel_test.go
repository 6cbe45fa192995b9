package desktop

import (
	"context"
	"errors"
	"os"
	"strconv"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"
)

// TestMain points every test at a bus that is not there, so that none reaches
// the desktop of who runs it.
func TestMain(m *testing.M) {
	if err := os.Setenv("DBUS_SESSION_BUS_ADDRESS", deadBus); err != nil {
		panic(err)
	}
	goleak.VerifyTestMain(m)
}

const deadBus = "unix:path=/nonexistent/bus"

// numbered are notices "first" to "last" by number.
func numbered(c *Channel, first, last int) {
	for i := first; i <= last; i++ {
		c.Tell(Notice{Title: strconv.Itoa(i)})
	}
}

func fast(context.Context) error { return nil }

// takes answers after a time and does not listen to the context.
func takes(d time.Duration) func(context.Context) error {
	return func(context.Context) error { time.Sleep(d); return nil }
}

const silent = "no desktop notice can be shown: the desktop has not answered for 3 s; the screen and the bell go on"

func TestChannel(t *testing.T) {
	refusal := errors.New("not today")
	cases := []struct {
		name   string
		call   func(context.Context) error
		tell   func(*Channel)
		came   []string
		faults []string
		reason string
	}{
		{"fast", fast, func(c *Channel) { numbered(c, 1, 8) },
			[]string{"1", "2", "3", "4", "5", "6", "7", "8"}, nil, "in the order told"},
		{"slow", takes(2 * time.Second), func(c *Channel) { numbered(c, 1, 3) },
			[]string{"1", "2", "3"}, nil, "2 s is within the patience"},
		{"failing", func(context.Context) error { return refusal }, func(c *Channel) { numbered(c, 1, 3) },
			[]string{"1", "2", "3"}, []string{"no desktop notice can be shown: the desktop refused it: not today; the screen and the bell go on"},
			"each is tried, the first failure is told"},
		{"panicking", func(context.Context) error { panic("nil map") }, func(c *Channel) { numbered(c, 1, 2) },
			[]string{"1", "2"}, []string{"no desktop notice can be shown: the desktop refused it: panic: nil map; the screen and the bell go on"},
			"a broken library does not end the program"},
		{"stuck", takes(50 * time.Second), func(c *Channel) {
			numbered(c, 1, 4)
			time.Sleep(20 * time.Second)
			numbered(c, 5, 20) // while it hangs
			time.Sleep(40 * time.Second)
			numbered(c, 21, 21)
		}, []string{"1", "21"}, []string{silent}, "what comes while a call hangs is dropped, what comes after it is shown"},
		{"stuck until told to end", func(ctx context.Context) error { <-ctx.Done(); return ctx.Err() }, func(c *Channel) { numbered(c, 1, 1) },
			[]string{"1"}, []string{silent}, "a call that listens ends at the patience, with the same sentence"},
		{"too many at once", takes(time.Second), func(c *Channel) {
			numbered(c, 1, 1)
			synctest.Wait() // the first is under way
			numbered(c, 2, 12)
		}, []string{"1", "2", "3", "4", "5", "6", "7", "8", "9"},
			[]string{"no desktop notice can be shown: the desktop is slower than the notices come; the screen and the bell go on"},
			"one under way and eight in the queue"},
		{"after Close", fast, func(c *Channel) { c.Close(); numbered(c, 1, 20) }, nil, nil, "dropped without a word"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			synctest.Test(t, func(t *testing.T) {
				var d desk
				channel := Open(d.options(c.call))
				defer channel.Close()
				c.tell(channel)
				time.Sleep(10 * time.Minute)
				require.Equal(t, c.came, d.titles(), c.reason)
				require.Equal(t, c.faults, d.sentences(), c.reason)
				require.LessOrEqual(t, d.busiest(), 1, "calls at once")
			})
		})
	}
}

// In the bubble time stands still while anything can run, so a Tell that waited
// would show.
func TestTellTakesNoTime(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var d desk
		c := Open(d.options(takes(time.Hour)))
		start := time.Now()
		numbered(c, 1, 1000)
		require.Zero(t, time.Since(start), "1000 notices to a desktop that hangs")
		time.Sleep(3*time.Second - 1)
		synctest.Wait()
		require.NotContains(t, d.sentences(), silent, "before the patience")
		c.Close()
		time.Sleep(2 * time.Hour)
		require.Equal(t, []string{"1"}, d.titles())
	})
}

func TestFaultComesAtThePatience(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var d desk
		o := d.options(takes(time.Minute))
		o.Patience = 1500 * time.Millisecond
		c := Open(o)
		c.Tell(Notice{})
		time.Sleep(o.Patience - 1)
		synctest.Wait()
		require.Empty(t, d.sentences())
		time.Sleep(time.Nanosecond)
		synctest.Wait()
		require.Equal(t, []string{"no desktop notice can be shown: the desktop has not answered for 1.5 s; the screen and the bell go on"},
			d.sentences())
		require.EqualError(t, errors.Unwrap(d.faults[0]), "the desktop has not answered for 1.5 s")
		c.Close()
		time.Sleep(time.Minute)
	})
}

func TestCloseDoesNotWait(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var d desk
		c := Open(d.options(takes(time.Hour)))
		numbered(c, 1, 5)
		synctest.Wait()
		start := time.Now()
		c.Close()
		c.Close()
		require.Zero(t, time.Since(start))
		time.Sleep(2 * time.Hour)
		require.Equal(t, []string{"1"}, d.titles(), "the queue is dropped")
		require.Empty(t, d.sentences(), "a call cut short by Close has not failed")
	})
}

func TestCloseEndsACallThatListens(t *testing.T) {
	defer goleak.VerifyNone(t)
	var d desk
	c := Open(d.options(func(ctx context.Context) error { <-ctx.Done(); return ctx.Err() }))
	c.Tell(Notice{Title: "quench it"})
	require.Eventually(t, func() bool { return len(d.titles()) == 1 }, 5*time.Second, time.Millisecond)
	c.Close()
	require.Empty(t, d.sentences())
}

func TestManyTellers(t *testing.T) {
	defer goleak.VerifyNone(t)
	var d desk
	c := Open(d.options(fast))
	var tellers sync.WaitGroup
	for range 8 {
		tellers.Go(func() { numbered(c, 1, 100) })
	}
	tellers.Wait()
	require.Eventually(t, func() bool { return len(d.titles()) >= Room }, 5*time.Second, time.Millisecond, "the queue's worth comes through")
	c.Close()
	require.LessOrEqual(t, len(d.sentences()), 1)
	require.Equal(t, 1, d.busiest())
}

func TestNoFaultWanted(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var d desk
		o := d.options(func(context.Context) error { return errors.New("refused") })
		o.Fault = nil
		c := Open(o)
		numbered(c, 1, 2)
		synctest.Wait()
		require.Equal(t, []string{"1", "2"}, d.titles())
		c.Close()
	})
}
