package desktop

import (
	"errors"
	"io"
	"os"
	"strings"

	"github.com/godbus/dbus/v5"
)

// fault is a sentence for the smith with its cause behind it.
type fault struct {
	sentence string
	cause    error
}

func (f *fault) Error() string { return f.sentence }
func (f *fault) Unwrap() error { return f.cause }

// reason is a cause that is plain already.
type reason string

func (r reason) Error() string { return string(r) }

const (
	noBus   = reason("this session has no message bus")
	crowded = reason("the desktop is slower than the notices come")
)

func noNotice(cause error) error {
	return &fault{"no desktop notice can be shown: " + plainly(cause) + "; the screen and the bell go on", cause}
}

// plainly says an error of the desktop in words of the bench. The names are from
// the D-Bus Specification of freedesktop.org and its reference implementation.
func plainly(err error) string {
	var own reason
	if errors.As(err, &own) {
		return own.Error()
	}
	var answer dbus.Error
	if errors.As(err, &answer) {
		return answered(answer)
	}
	var socket *os.SyscallError
	if errors.As(err, &socket) || errors.Is(err, io.EOF) || errors.Is(err, dbus.ErrClosed) {
		return "the message bus of this session does not answer"
	}
	return "the desktop refused it: " + clean(err.Error(), mostReason)
}

func answered(e dbus.Error) string {
	switch {
	case e.Name == "org.freedesktop.DBus.Error.ServiceUnknown":
		return "no program of this desktop shows notices"
	case strings.HasPrefix(e.Name, "org.freedesktop.DBus.Error.Spawn."):
		return "the program of this desktop that shows notices does not start"
	}
	return "the desktop refused it: " + clean(e.Error(), mostReason)
}
