//go:build unix

package tui

import (
	"os"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// A real signal cannot be sent into a bubble of fake time, so the bench is brought
// to each step by hand and the program runs in real time for a moment.
func TestSignalEndsAtEveryStep(t *testing.T) {
	self, err := os.FindProcess(os.Getpid())
	require.NoError(t, err)
	for _, s := range steps {
		t.Run(s.name, func(t *testing.T) {
			now := eveningStart
			b, err := NewBench(Config{Desk: memoryDesk(t), Location: time.UTC, Clock: Clock{Wall: func() time.Time { return now },
				Boot: func() (time.Duration, bool) { return now.Sub(eveningStart), true }}})
			require.NoError(t, err)
			for _, r := range s.keys {
				now = now.Add(keyGap)
				p, _ := pressOf(event(r), true)
				b.Press(p)
			}
			over, under := newGlass(t)
			ended := make(chan error, 1)
			go func() { ended <- RunOn(b, over, Channels{}) }()
			<-over.shown
			require.NoError(t, self.Signal(syscall.SIGTERM))
			require.Equal(t, Signalled{syscall.SIGTERM}, <-ended)
			require.Equal(t, int64(1), under.finis.Load())
		})
	}
}
