//go:build system

package desktop

import (
	"sync"
	"testing"
	"time"

	"github.com/godbus/dbus/v5"
	"github.com/stretchr/testify/require"
)

// shown are the arguments of one Notify call.
type shown struct {
	app, icon, title, body string
	urgency                any
	expiry                 int32
}

// recorder is a service that shows notices by writing them down. It answers
// after delay, and not before hold is closed if there is one.
type recorder struct {
	delay time.Duration
	hold  chan struct{}

	lock  sync.Mutex
	calls []shown
}

// Notify has the arguments of the Desktop Notifications Specification.
func (r *recorder) Notify(app string, _ uint32, icon, title, body string, _ []string,
	hints map[string]dbus.Variant, expiry int32,
) (uint32, *dbus.Error) {
	r.lock.Lock()
	r.calls = append(r.calls, shown{app, icon, title, body, hints["urgency"].Value(), expiry})
	id := uint32(len(r.calls))
	r.lock.Unlock()
	time.Sleep(r.delay)
	if r.hold != nil {
		<-r.hold
	}
	return id, nil
}

func (r *recorder) seen() []shown {
	r.lock.Lock()
	defer r.lock.Unlock()
	return append([]shown(nil), r.calls...)
}

func (r *recorder) await(t *testing.T, n int) {
	t.Helper()
	require.Eventually(t, func() bool { return len(r.seen()) >= n }, 10*time.Second, 200*time.Microsecond,
		"%d of %d notices", len(r.seen()), n)
}

// startRecorder is a bus with the recorder on it.
func startRecorder(t *testing.T, r *recorder) *daemon {
	t.Helper()
	d := startBus(t)
	d.serve(noticeService, r, noticePath)
	return d
}
