//go:build linux || freebsd || netbsd || openbsd || illumos

package desktop

import (
	"context"
	"os"

	"github.com/gen2brain/beeep"
	"github.com/godbus/dbus/v5"
)

// The service that shows notices, its object and the arguments that stand for
// "no notice to replace" and "as long as the desktop thinks right".
const (
	noticeService = "org.freedesktop.Notifications"
	noticePath    = "/org/freedesktop/Notifications"

	replacesNone = uint32(0)
	ownExpiry    = int32(-1)
	critical     = byte(2)
)

// show gives a notice to the desktop: over D-Bus, else by notify-send or kdialog
// if they are installed. Without a message bus it calls nobody. It sets the
// address of the bus for this process when only the default socket tells it.
func show(ctx context.Context, n Notice) error {
	address, err := busAddress()
	if err != nil {
		return err
	}
	if os.Getenv(addressName) != address {
		if err := os.Setenv(addressName, address); err != nil {
			return err
		}
	}
	if n.Urgent {
		err := showUrgent(ctx, n)
		if err == nil || ctx.Err() != nil {
			return err
		}
	}
	return beeep.Notify(n.Title, n.Body, "")
}

// showUrgent sends a notice of critical urgency on the connection that beeep
// uses too.
func showUrgent(ctx context.Context, n Notice) error {
	conn, err := dbus.SessionBus()
	if err != nil {
		return err
	}
	hints := map[string]dbus.Variant{"urgency": dbus.MakeVariant(critical)}
	call := conn.Object(noticeService, noticePath).CallWithContext(ctx, noticeService+".Notify", 0,
		appName, replacesNone, "", n.Title, n.Body, []string{}, hints, ownExpiry)
	return call.Err
}
