//go:build unix

package term

import (
	"fmt"
	"os"
	"os/signal"
	"syscall"
	"time"

	"golang.org/x/sys/unix"
)

const (
	stopSignal     = syscall.SIGTSTP
	continueSignal = syscall.SIGCONT
)

// haltSignal is what Suspend stops the process group with. Once SIGTSTP was
// caught, Go does not give it its usual meaning back: signal.Reset leaves the
// handler in place, and the signal does nothing. SIGTTIN is never caught here
// and does the same, so that a shell may say "stopped (tty input)". SIGSTOP
// would also stop a process that no shell can continue.
const haltSignal = syscall.SIGTTIN

// settle is how long Suspend waits to be continued while it runs. A process
// that was stopped does not run, so that this passes only when the system did
// not stop it: no shell is there to continue it.
const settle = 200 * time.Millisecond

func quitSignals() []os.Signal {
	return []os.Signal{syscall.SIGTERM, syscall.SIGHUP, syscall.SIGINT, syscall.SIGPIPE}
}

func jobSignals() []os.Signal {
	return []os.Signal{stopSignal, continueSignal}
}

// Suspend gives the terminal back and stops the process group, as Ctrl-Z does
// to a program that leaves the keys to the terminal. When the shell continues
// it, Suspend takes the terminal again, sends every cell and returns; the caller
// then draws. It is for the goroutine of the event loop. Without a shell that
// could continue the process, it returns after a fifth of a second.
//
// Continued in the background, the system stops it again as soon as it takes the
// terminal, unless a signal ended the screen before.
//
// If the terminal cannot be taken again the error says so, and the screen gives
// a tcell.EventError.
func Suspend(screen Suspender) error {
	if err := screen.Suspend(); err != nil {
		return fmt.Errorf("leaving the terminal: %w", err)
	}
	stopped := stopGroup()
	if !foreground() {
		time.Sleep(settle) // the call to quit may have come with the one to go on, as from a shell's kill
	}
	if err := screen.Resume(); err != nil {
		return fmt.Errorf("taking the terminal again: %w", err)
	}
	screen.Sync()
	return stopped
}

// stopGroup stops this process and those that share its job, and returns when
// it was continued. Another SIGTSTP meanwhile is dropped.
func stopGroup() error {
	watches.Lock()
	defer watches.Unlock()
	signal.Reset(jobSignals()...)
	continued := make(chan os.Signal, 1)
	signal.Notify(continued, continueSignal)
	err := syscall.Kill(0, haltSignal)
	if err == nil {
		select {
		case <-continued:
		case <-time.After(settle):
		}
	}
	signal.Stop(continued)
	for w := range watches.all {
		signal.Notify(w.caught, jobSignals()...)
	}
	return err
}

// foreground is true while the terminal on standard input listens to this
// process group, or if there is none.
func foreground() bool {
	group, err := unix.IoctlGetInt(syscall.Stdin, unix.TIOCGPGRP)
	return err != nil || group == syscall.Getpgrp()
}

// number is the number of a signal, 0 if it has none.
func number(sig os.Signal) int {
	n, _ := sig.(syscall.Signal)
	return int(n)
}
