//go:build linux || freebsd || netbsd || openbsd || illumos

package desktop

import (
	"context"
	"fmt"
	"sync"
	"time"

	"github.com/godbus/dbus/v5"
)

const saverService = "org.freedesktop.ScreenSaver"

// saverPaths are where desktops have the service, the drafted path first.
var saverPaths = []dbus.ObjectPath{"/org/freedesktop/ScreenSaver", "/ScreenSaver"}

// saverPatience is the longest wait for the desktop.
const saverPatience = 2 * time.Second

// wish is one request to stay awake. It lives as long as its connection, which
// is therefore its own.
type wish struct {
	conn   *dbus.Conn
	saver  dbus.BusObject
	cookie uint32 // by which the desktop knows the wish
}

func stayAwake(reason string) (func() error, error) {
	address, err := busAddress()
	if err != nil {
		return nil, err
	}
	w, err := inhibit(address, reason)
	if err != nil {
		return nil, err
	}
	return sync.OnceValue(w.release), nil
}

// inhibit connects and makes the wish. Ending the context of a connection closes
// it, which frees whatever waits on it.
func inhibit(address, reason string) (*wish, error) {
	ctx, cancel := context.WithCancel(context.Background())
	late := time.AfterFunc(saverPatience, cancel)
	conn, err := dbus.Connect(address, dbus.WithContext(ctx))
	if err != nil {
		late.Stop()
		cancel()
		return nil, err
	}
	w, err := ask(conn, reason)
	if !late.Stop() && err == nil {
		err = context.DeadlineExceeded
	}
	if err != nil {
		cancel()
		_ = conn.Close()
		return nil, err
	}
	return w, nil
}

// ask tries the paths in turn.
func ask(conn *dbus.Conn, reason string) (*wish, error) {
	var err error
	for _, path := range saverPaths {
		w := wish{conn: conn, saver: conn.Object(saverService, path)}
		err = w.saver.CallWithContext(conn.Context(), saverService+".Inhibit", 0, appName, reason).Store(&w.cookie)
		if err == nil {
			return &w, nil
		}
	}
	return nil, err
}

// release takes the wish back. The connection is closed in any case, at which
// the desktop forgets the wish too.
func (w *wish) release() error {
	ctx, cancel := context.WithTimeout(context.Background(), saverPatience)
	defer cancel()
	err := w.saver.CallWithContext(ctx, saverService+".UnInhibit", 0, w.cookie).Err
	_ = w.conn.Close()
	if err != nil {
		return fmt.Errorf("the desktop did not confirm that it may sleep again: %w", err)
	}
	return nil
}
