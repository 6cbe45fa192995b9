package desktop

import (
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"testing"

	"github.com/godbus/dbus/v5"
	"github.com/stretchr/testify/require"
)

func TestPlainly(t *testing.T) {
	named := func(name, text string) error { return dbus.Error{Name: name, Body: []any{text}} }
	joined := func(err error) error {
		return fmt.Errorf("beeep: dbus: %w; notify-send: %w; kdialog: %w", err, exec.ErrNotFound, exec.ErrNotFound)
	}
	cases := []struct {
		name   string
		err    error
		want   string
		reason string
	}{
		{"no bus", noBus, "this session has no message bus", "says it itself"},
		{"dead socket", joined(&net.OpError{Op: "dial", Err: os.NewSyscallError("connect", syscall.ECONNREFUSED)}), "the message bus of this session does not answer", "nobody listens"},
		{"bus goes away", joined(io.EOF), "the message bus of this session does not answer", "in the middle of a call"},
		{"bus is gone", joined(dbus.ErrClosed), "the message bus of this session does not answer", "before a call"},
		{"no daemon", joined(named("org.freedesktop.DBus.Error.ServiceUnknown", "not provided by any .service files")),
			"no program of this desktop shows notices", "the usual case on a bare window manager"},
		{"daemon aborts", joined(named("org.freedesktop.DBus.Error.Spawn.ChildExited", "exit 1")),
			"the program of this desktop that shows notices does not start", "such as one without a display"},
		{"another answer", joined(named("org.example.Full", "too\nmany <b>")), "the desktop refused it: too many (b)", "its own words, made safe"},
		{"an answer without words", dbus.Error{Name: "org.example.Full"}, "the desktop refused it: org.example.Full", "its name then"},
		{"anything else", errors.New(strings.Repeat("x", 500)), "the desktop refused it: " + strings.Repeat("x", 117) + "...", "bounded"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.Equal(t, c.want, plainly(c.err), c.reason)
			require.Equal(t, c.err, errors.Unwrap(noNotice(c.err)))
		})
	}
}
