package probe

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"
)

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

var errUnplugged = errors.New("unplugged")

// device is a source that a test plugs in, speaks by and pulls out.
type device struct {
	t      *testing.T
	mu     sync.Mutex
	plug   *io.PipeWriter // nil while it is not there
	socket *io.PipeReader
	tries  []time.Time
	stop   context.CancelFunc
	events <-chan Event
	begun  time.Time
}

// follow starts to follow a device that is plugged in.
func follow(t *testing.T) *device {
	ctx, stop := context.WithCancel(t.Context())
	d := &device{t: t, stop: stop, begun: time.Now()}
	d.plugIn()
	d.events = Follow(ctx, d.open, time.Now)
	return d
}

func (d *device) open() (io.ReadCloser, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.tries = append(d.tries, time.Now())
	if d.plug == nil {
		return nil, errUnplugged
	}
	return d.socket, nil
}

func (d *device) plugIn() {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.socket, d.plug = io.Pipe()
}

func (d *device) pullOut() {
	d.mu.Lock()
	defer d.mu.Unlock()
	require.NoError(d.t, d.plug.CloseWithError(errUnplugged))
	d.plug = nil
}

func (d *device) says(text string) {
	d.t.Helper()
	_, err := io.WriteString(d.plug, text)
	require.NoError(d.t, err)
}

// tried is when the device was opened, or was not there.
func (d *device) tried() []time.Time {
	d.mu.Lock()
	defer d.mu.Unlock()
	return slices.Clone(d.tries)
}

// after lets time pass and gives the events of it as words.
func (d *device) after(wait time.Duration) (words []string) {
	d.t.Helper()
	time.Sleep(wait)
	synctest.Wait()
	for {
		select {
		case e, more := <-d.events:
			if !more {
				return append(words, "closed")
			}
			require.False(d.t, e.When().Before(d.begun))
			words = append(words, word(e))
			synctest.Wait()
		default:
			return words
		}
	}
}

func word(e Event) string {
	switch e := e.(type) {
	case Reading:
		return e.Temp.String()
	case Noise:
		return fmt.Sprintf("noise %d %s", e.Lines, e.Text)
	case Fault:
		return "fault " + e.Text
	case Lost:
		return "lost " + e.Err.Error()
	}
	return strings.ToLower(strings.TrimPrefix(fmt.Sprintf("%T", e), "probe."))
}

func TestFollowSurvivesUnplugging(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := follow(t)
		d.says("20\n21\n2")
		require.Equal(t, []string{"20 °C", "21 °C"}, d.after(0))
		d.pullOut()
		require.Equal(t, []string{"lost unplugged"}, d.after(0), "and the half line is nothing")
		require.Empty(t, d.after(time.Minute), "it is told once")
		d.plugIn()
		d.says("hello\n")
		require.Equal(t, []string{"noise 1 hello"}, d.after(time.Second), "it has told no temperature yet")
		d.says("900\n")
		require.Equal(t, []string{"back", "900 °C"}, d.after(0), "whatever it was before")
		d.pullOut()
		require.Equal(t, []string{"lost unplugged"}, d.after(0))
		pulled := time.Now()
		d.after(time.Second)
		require.Equal(t, pulled.Add(firstWait), lastBut(2, d.tried()), "as soon as the first time: after 0.1, 0.3 and 0.7 s")
		d.stop()
		require.Equal(t, []string{"closed"}, d.after(0))
	})
}

func lastBut(n int, moments []time.Time) time.Time { return moments[len(moments)-1-n] }

func TestFollowTriesAgainLessAndLess(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := follow(t)
		d.says("20\n")
		d.after(0)
		d.pullOut()
		require.Equal(t, []string{"lost unplugged"}, d.after(time.Minute))
		var waits []time.Duration
		tries := d.tried()
		for i := range tries[2:] {
			waits = append(waits, tries[i+2].Sub(tries[i+1]))
		}
		require.Equal(t, []time.Duration{200 * time.Millisecond, 400 * time.Millisecond, 800 * time.Millisecond,
			1600 * time.Millisecond, 3200 * time.Millisecond, 5 * time.Second}, waits[:6])
		require.Equal(t, 100*time.Millisecond, tries[1].Sub(d.begun), "the first time at once")
		for _, w := range waits[5:] {
			require.Equal(t, lastWait, w)
		}
		d.stop()
		d.after(0)
	})
}

// A device that opens and fails at once must not fill the screen.
func TestFollowOfADeviceThatFlaps(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var opened atomic.Int64
		open := func() (io.ReadCloser, error) { opened.Add(1); return io.NopCloser(strings.NewReader("")), nil }
		ctx, stop := context.WithTimeout(t.Context(), time.Hour)
		defer stop()
		d := &device{t: t, events: Follow(ctx, open, time.Now)}
		require.Equal(t, []string{"lost EOF"}, d.after(time.Minute))
		require.Less(t, opened.Load(), int64(20), "0.1 + 0.2 + ... + 3.2 s, then every 5 s")
		require.Equal(t, []string{"closed"}, d.after(time.Hour))
	})
}

func TestFollowTellsSilenceOnce(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := follow(t)
		require.Empty(t, d.after(SilentAfter-time.Millisecond))
		require.Equal(t, []string{"silent"}, d.after(time.Millisecond))
		require.Empty(t, d.after(time.Hour))
		d.says("20\n")
		require.Equal(t, []string{"20 °C"}, d.after(SilentAfter-time.Millisecond))
		d.says("OPEN\n")
		require.Equal(t, []string{"fault OPEN"}, d.after(SilentAfter-time.Millisecond), "a fault is no silence")
		d.says("chatter\n")
		require.Equal(t, []string{"noise 1 chatter", "silent"}, d.after(time.Second), "noise is")
		d.says("T=1200\n")
		require.Equal(t, []string{"1200 °C"}, d.after(0), "after a silence anything may come, under any label")
		d.stop()
		require.Equal(t, []string{"closed"}, d.after(0))
	})
}

func TestFollowCountsNoise(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := follow(t)
		d.says("a\n")
		require.Equal(t, []string{"noise 1 a"}, d.after(0), "the first at once")
		for range 8 {
			d.says("20\nb\x1b\n\n \n")
			require.Equal(t, []string{"20 °C"}, d.after(time.Second))
		}
		require.Equal(t, []string{"noise 8 b"}, d.after(3*time.Second), "the others together, an empty line is none")
		d.says("c\n")
		d.says("d\n")
		d.pullOut()
		require.Equal(t, []string{"noise 2 d", "lost unplugged"}, d.after(0), "none is left out")
		d.stop()
		d.after(0)
	})
}

// 100 kB of noise each second for a minute: few events, every line counted, and
// the readings in between come through.
func TestFollowOfAFlood(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := follow(t)
		burst := strings.Repeat("\x1b[31mnoise\x00\n", 100_000/12)
		counted, readings, events := 0, 0, 0
		count := func(words []string) {
			for _, w := range words {
				events++
				n := 0
				if _, err := fmt.Sscanf(w, "noise %d", &n); err == nil {
					counted += n
				}
				if w == "650 °C" {
					readings++
				}
			}
		}
		for range 60 {
			go d.says(burst + "650\n")
			count(d.after(time.Second))
		}
		d.pullOut()
		count(d.after(0))
		require.Equal(t, 60*(100_000/12), counted)
		require.Equal(t, 60, readings)
		require.LessOrEqual(t, events, 60+8+1, "noise at most every 10 s")
		d.stop()
		d.after(0)
	})
}

func TestFollowEndsWithAFile(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		open := func() (io.ReadCloser, error) { return Once(io.NopCloser(strings.NewReader("650\n651"))), nil }
		d := &device{t: t, events: Follow(t.Context(), open, time.Now)}
		require.Equal(t, []string{"650 °C", "651 °C", "closed"}, d.after(0))
	})
}

func TestFollowOpensLate(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := &device{t: t, begun: time.Now()}
		ctx, stop := context.WithCancel(t.Context())
		d.events = Follow(ctx, d.open, time.Now)
		require.Equal(t, []string{"lost unplugged"}, d.after(time.Second))
		stop()
		require.Equal(t, []string{"closed"}, d.after(0))
	})
}

// Nobody takes the events: Follow ends all the same, and leaves nothing behind.
func TestFollowStopsWhileNobodyListens(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := follow(t)
		go func() { _, _ = io.WriteString(d.plug, strings.Repeat("650\n", 1000)) }() // it ends when the device is closed
		synctest.Wait()
		d.stop()
		synctest.Wait()
		_, err := d.plug.Write([]byte("650\n"))
		require.ErrorIs(t, err, io.ErrClosedPipe, "the source is closed")
	})
}

// An opening that ends after nobody wants it any more is closed.
func TestFollowStopsWhileOpening(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		r, w := io.Pipe()
		ctx, stop := context.WithCancel(t.Context())
		open := func() (io.ReadCloser, error) { time.Sleep(time.Minute); return r, nil }
		d := &device{t: t, events: Follow(ctx, open, time.Now)}
		require.Empty(t, d.after(time.Second))
		stop()
		require.Equal(t, []string{"closed"}, d.after(linger))
		time.Sleep(time.Minute)
		synctest.Wait()
		_, err := w.Write([]byte("650\n"))
		require.ErrorIs(t, err, io.ErrClosedPipe)
	})
}
