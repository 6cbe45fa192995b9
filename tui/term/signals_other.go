//go:build !unix

package term

import (
	"errors"
	"os"
	"syscall"
)

// No signal stops or continues a process here.
var stopSignal, continueSignal os.Signal

func quitSignals() []os.Signal {
	return []os.Signal{os.Interrupt, syscall.SIGTERM}
}

func jobSignals() []os.Signal {
	return nil
}

// Suspend is an error: a process cannot be stopped and continued here. The
// screen is untouched.
func Suspend(Suspender) error {
	return errors.New("the program cannot be suspended on this system")
}

// number is the number of a signal, 0 if it has none.
func number(sig os.Signal) int {
	n, _ := sig.(syscall.Signal)
	return int(n)
}
