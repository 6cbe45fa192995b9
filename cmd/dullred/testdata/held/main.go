//go:build unix

// Held runs a command and writes the most memory that it ever held, in KiB, to a file:
//
//	held FILE COMMAND...
//
// Linux begins to count with what the process held that started the command, be it before
// its exec. A test holds more than what it tests; this program holds next to nothing.
package main

import (
	"log"
	"os"
	"os/exec"
	"strconv"
	"syscall"
)

func main() {
	cmd := exec.Command(os.Args[2], os.Args[3:]...)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = os.Stdin, os.Stdout, os.Stderr
	err := cmd.Run()
	if cmd.ProcessState == nil {
		log.Fatal(err)
	}
	most := cmd.ProcessState.SysUsage().(*syscall.Rusage).Maxrss
	if err := os.WriteFile(os.Args[1], []byte(strconv.FormatInt(int64(most), 10)), 0o600); err != nil {
		log.Fatal(err)
	}
	os.Exit(cmd.ProcessState.ExitCode())
}
