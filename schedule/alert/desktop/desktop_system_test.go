//go:build system

package desktop

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/godbus/dbus/v5"
	"github.com/stretchr/testify/require"
)

// open is a channel to the real desktop, which is the bus of the test.
func open(t *testing.T, patience time.Duration) (*Channel, *desk) {
	t.Helper()
	var d desk
	c := Open(Options{Patience: patience, Fault: d.fault})
	t.Cleanup(c.Close)
	return c, &d
}

// awaitFault gives the one fault; it fails when a second follows.
func (d *desk) awaitFault(t *testing.T, longest time.Duration) string {
	t.Helper()
	require.Eventually(t, func() bool { return len(d.sentences()) > 0 }, longest, time.Millisecond, "no fault was told")
	require.Len(t, d.sentences(), 1)
	return d.sentences()[0]
}

func TestNoticeArrives(t *testing.T) {
	var r recorder
	startRecorder(t, &r)
	c, d := open(t, 0)
	c.Tell(Notice{Title: "--piece 3: soak is over\x00", Body: "5 < 6 & <b>quench</b>\n\xffnow\u202e"})
	r.await(t, 1)
	c.Tell(Notice{Title: "gone cold", Body: "light the torch", Urgent: true})
	r.await(t, 2)
	require.Equal(t, []shown{
		{"dullred", "", "piece 3: soak is over", "5 ( 6 and (b)quench(/b) \ufffdnow", byte(1), 5000},
		{"dullred", "", "gone cold", "light the torch", byte(2), -1},
	}, r.seen(), "urgencies 1 normal and 2 critical of the Desktop Notifications Specification")
	require.Empty(t, d.sentences())
}

func TestTwoHundredNotices(t *testing.T) {
	var r recorder
	startRecorder(t, &r)
	c, d := open(t, 0)
	start := time.Now()
	for i := range 200 {
		c.Tell(Notice{Title: fmt.Sprint(i), Urgent: i%2 == 1})
		r.await(t, i+1)
	}
	t.Logf("200 notices, one after the other, in %v", time.Since(start))
	for i, s := range r.seen() {
		require.Equal(t, fmt.Sprint(i), s.title)
		require.Equal(t, byte(1+i%2), s.urgency)
	}
	require.Empty(t, d.sentences())
}

func TestSlowDesktop(t *testing.T) {
	r := recorder{delay: 2 * time.Second}
	startRecorder(t, &r)
	c, d := open(t, 3*time.Second)
	c.Tell(Notice{Title: "first"})
	c.Tell(Notice{Title: "second"})
	r.await(t, 2)
	require.Empty(t, d.sentences(), "2 s is within the patience")
}

func TestDesktopThatNeverAnswers(t *testing.T) {
	for _, urgent := range []bool{false, true} {
		t.Run(fmt.Sprintf("urgent %v", urgent), func(t *testing.T) {
			r := recorder{hold: make(chan struct{})}
			startRecorder(t, &r)
			defer close(r.hold) // nothing is answered until the test ends
			c, d := open(t, 500*time.Millisecond)
			start := time.Now()
			c.Tell(Notice{Title: "first", Urgent: urgent})
			sentence := d.awaitFault(t, 5*time.Second)
			require.GreaterOrEqual(t, time.Since(start), 500*time.Millisecond)
			require.Equal(t, "no desktop notice can be shown: the desktop has not answered for 0.5 s; the screen and the bell go on", sentence)
			t.Logf("fault after %v", time.Since(start))
		})
	}
}

// A stopped bus answers nothing, not even to a new connection. When it goes on,
// so do the notices.
func TestStoppedBus(t *testing.T) {
	var r recorder
	bus := startRecorder(t, &r)
	c, d := open(t, 500*time.Millisecond)
	bus.pause()
	c.Tell(Notice{Title: "into the silence"})
	require.Contains(t, d.awaitFault(t, 5*time.Second), "the desktop has not answered for 0.5 s")
	for range 20 {
		c.Tell(Notice{Title: "dropped"})
	}
	require.Eventually(t, func() bool { return len(c.queue) == 0 }, 5*time.Second, time.Millisecond)
	require.Empty(t, r.seen())

	bus.resume()
	r.await(t, 1)
	require.Eventually(t, func() bool {
		c.Tell(Notice{Title: "after it"})
		all := r.seen()
		return all[len(all)-1].title == "after it"
	}, 5*time.Second, 20*time.Millisecond)
	require.Equal(t, "into the silence", r.seen()[0].title)
	require.Equal(t, "after it", r.seen()[1].title, "what came meanwhile is dropped")
	require.Len(t, d.sentences(), 1)
}

func TestBusWithoutADesktop(t *testing.T) {
	startBus(t)
	for _, urgent := range []bool{false, true} {
		c, d := open(t, 0)
		c.Tell(Notice{Title: "nobody shows it", Urgent: urgent})
		require.Equal(t, "no desktop notice can be shown: no program of this desktop shows notices; the screen and the bell go on",
			d.awaitFault(t, 5*time.Second))
	}
}

func TestDeadSocket(t *testing.T) {
	t.Setenv(addressName, deadBus)
	c, d := open(t, 0)
	for range 3 {
		c.Tell(Notice{Title: "nobody hears it"})
	}
	require.Equal(t, "no desktop notice can be shown: the message bus of this session does not answer; the screen and the bell go on",
		d.awaitFault(t, 5*time.Second))
}

func TestBusAtTheDefaultSocket(t *testing.T) {
	var r recorder
	bus := startRecorder(t, &r)
	dir := t.TempDir()
	path, found := addressPath(bus.address)
	require.True(t, found, bus.address)
	require.NoError(t, os.Symlink(path, filepath.Join(dir, "bus")))
	t.Setenv("XDG_RUNTIME_DIR", dir)
	t.Setenv(addressName, "")
	c, d := open(t, 0)
	c.Tell(Notice{Title: "found"})
	r.await(t, 1)
	require.Empty(t, d.sentences())
}

// Without an address the libraries run dbus-launch, whose bus would stay behind.
// A stand-in on the PATH writes down that it was run.
func TestNoBusIsLaunched(t *testing.T) {
	dir, real := t.TempDir(), userSocket
	userSocket = filepath.Join(dir, "none") // whatever this machine has
	t.Cleanup(func() { userSocket = real })
	trace := filepath.Join(dir, "launched")
	script := "#!/bin/sh\necho run >>" + trace + "\nexit 1\n"
	require.NoError(t, os.WriteFile(filepath.Join(dir, "dbus-launch"), []byte(script), 0o700))
	t.Setenv("PATH", dir+":"+os.Getenv("PATH"))
	t.Setenv("XDG_RUNTIME_DIR", dir)
	before := launched(t, "dbus-daemon")
	for _, stated := range []string{"", "autolaunch:"} {
		t.Setenv(addressName, stated)
		c, d := open(t, 0)
		c.Tell(Notice{Title: "no bus"})
		c.Tell(Notice{Title: "no bus", Urgent: true})
		require.Equal(t, "no desktop notice can be shown: this session has no message bus; the screen and the bell go on",
			d.awaitFault(t, 5*time.Second))
		_, err := StayAwake("annealing")
		require.ErrorIs(t, err, noBus)
		require.NoFileExists(t, trace)
		require.Equal(t, stated, os.Getenv(addressName))
	}
	require.Equal(t, before, launched(t, "dbus-daemon"))

	if isSocket(real) {
		return // the library alone would find that one
	}
	_, err := dbus.SessionBusPrivate()
	require.Error(t, err)
	require.FileExists(t, trace, "the library alone does run it")
}

// The worker makes no process of its own: the buses that run are those of the test.
func TestNoDaemonStaysBehind(t *testing.T) {
	before := launched(t, "dbus-daemon")
	t.Run("with a bus", func(t *testing.T) {
		var r recorder
		startRecorder(t, &r)
		require.Len(t, launched(t, "dbus-daemon"), len(before)+1, "the test sees daemons")
		c, _ := open(t, 0)
		c.Tell(Notice{Title: "first"})
		r.await(t, 1)
		require.Len(t, launched(t, "dbus-daemon"), len(before)+1)
	})
	require.Equal(t, before, launched(t, "dbus-daemon"))
}
