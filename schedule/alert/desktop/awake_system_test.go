//go:build system

package desktop

import (
	"context"
	"sync"
	"testing"
	"time"

	"github.com/godbus/dbus/v5"
	"github.com/stretchr/testify/require"
)

// wished is who keeps the screen awake, by which connection, and what was released.
type wished struct {
	app, why string
	sender   dbus.Sender
	released []uint32
}

// saver is a screen lock that writes it down.
type saver struct {
	hold chan struct{} // answers when it is closed; nil is at once

	lock sync.Mutex
	has  wished
}

func (s *saver) noted() wished {
	s.lock.Lock()
	defer s.lock.Unlock()
	return s.has
}

func (s *saver) Inhibit(sender dbus.Sender, app, why string) (uint32, *dbus.Error) {
	s.lock.Lock()
	s.has.app, s.has.why, s.has.sender = app, why, sender
	s.lock.Unlock()
	if s.hold != nil {
		<-s.hold
	}
	return 41, nil
}

func (s *saver) UnInhibit(cookie uint32) *dbus.Error {
	s.lock.Lock()
	defer s.lock.Unlock()
	s.has.released = append(s.has.released, cookie)
	return nil
}

// onBus says whether the connection that made the wish is still there.
func (s *saver) onBus(t *testing.T, address string) (there bool) {
	t.Helper()
	conn, err := dbus.Connect(address)
	require.NoError(t, err)
	defer func() { require.NoError(t, conn.Close()) }()
	require.NoError(t, conn.BusObject().Call("org.freedesktop.DBus.NameHasOwner", 0, string(s.noted().sender)).Store(&there))
	return there
}

func TestStayAwake(t *testing.T) {
	for _, path := range []dbus.ObjectPath{"/org/freedesktop/ScreenSaver", "/ScreenSaver"} {
		t.Run(string(path), func(t *testing.T) {
			var s saver
			bus := startBus(t)
			bus.serve(saverService, &s, path)
			start := time.Now()
			release, err := StayAwake("a piece\nis in the fire")
			require.NoError(t, err)
			t.Logf("awake after %v", time.Since(start))
			require.Equal(t, "dullred", s.noted().app)
			require.Equal(t, "a piece is in the fire", s.noted().why)
			require.True(t, s.onBus(t, bus.address), "the wish lives as long as its connection")
			require.Empty(t, s.noted().released)

			require.NoError(t, release())
			require.NoError(t, release(), "may be called again")
			require.Equal(t, []uint32{41}, s.noted().released, "once, with the cookie it was given")
			require.Eventually(t, func() bool { return !s.onBus(t, bus.address) }, 5*time.Second, time.Millisecond)
		})
	}
}

func TestStayAwakeThatIsNotToBeHad(t *testing.T) {
	const sentence = "the desktop does not offer to stay awake: set its screen lock off yourself"
	t.Run("no service", func(t *testing.T) {
		startBus(t)
		_, err := StayAwake("annealing")
		require.EqualError(t, err, sentence)
		var answer dbus.Error
		require.ErrorAs(t, err, &answer)
		require.Equal(t, "org.freedesktop.DBus.Error.ServiceUnknown", answer.Name)
	})
	t.Run("never answers", func(t *testing.T) {
		s := saver{hold: make(chan struct{})}
		startBus(t).serve(saverService, &s, saverPaths...)
		defer close(s.hold)
		start := time.Now()
		_, err := StayAwake("annealing")
		require.EqualError(t, err, sentence)
		require.Equal(t, "dullred", s.noted().app, "it was asked")
		require.GreaterOrEqual(t, time.Since(start), saverPatience)
		t.Logf("given up after %v", time.Since(start))
	})
	t.Run("stopped bus", func(t *testing.T) {
		startBus(t).pause()
		_, err := StayAwake("annealing")
		require.EqualError(t, err, sentence)
	})
	t.Run("release is not answered", func(t *testing.T) {
		var s saver
		bus := startBus(t)
		bus.serve(saverService, &s, saverPaths...)
		release, err := StayAwake("annealing")
		require.NoError(t, err)
		bus.pause()
		require.ErrorIs(t, release(), context.DeadlineExceeded)
		require.EqualError(t, release(), "the desktop did not confirm that it may sleep again: context deadline exceeded")
		bus.resume()
		require.Eventually(t, func() bool { return !s.onBus(t, bus.address) }, 5*time.Second, time.Millisecond,
			"its connection is closed all the same")
	})
}
