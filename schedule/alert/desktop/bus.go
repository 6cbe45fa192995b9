//go:build linux || freebsd || netbsd || openbsd || illumos

package desktop

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/godbus/dbus/v5"
)

// addressName is the variable with the address of the session's message bus, see
// the D-Bus Specification of freedesktop.org, "Well-known Message Bus Instances".
const addressName = "DBUS_SESSION_BUS_ADDRESS"

// busAddress is where the message bus of the session is, or noBus. The libraries
// below start a bus of their own when they find none, and leave it behind; with
// an address from here they never come to that.
func busAddress() (string, error) {
	return findBus(os.Getenv(addressName), defaultSockets())
}

// userSocket is where the bus of a user is when nothing says so.
var userSocket = fmt.Sprintf("/run/user/%d/bus", os.Getuid())

// defaultSockets are where systemd's user session has its bus.
func defaultSockets() (paths []string) {
	if dir := os.Getenv("XDG_RUNTIME_DIR"); dir != "" {
		paths = append(paths, filepath.Join(dir, "bus"))
	}
	return append(paths, userSocket)
}

// findBus prefers the stated address. One that asks for a launch is as good as none.
func findBus(stated string, sockets []string) (string, error) {
	if stated != "" && !strings.Contains(stated, "autolaunch:") {
		return stated, nil
	}
	for _, path := range sockets {
		if isSocket(path) {
			return "unix:path=" + dbus.EscapeBusAddressValue(path), nil
		}
	}
	return "", noBus
}

func isSocket(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Mode()&os.ModeSocket != 0
}
