package record

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
)

// The test program runs itself as a child process where a second process is
// needed. The environment names the work, the record and an argument.
const (
	childWork     = "RECORD_TEST_WORK"
	childPath     = "RECORD_TEST_PATH"
	childArgument = "RECORD_TEST_ARGUMENT"

	appendForever = "append forever" // until killed
	appendSome    = "append some"    // as many as the argument says
	openOnly      = "open only"
	migrateOnly   = "migrate only"    // to the version after ours
	backUpForever = "back up forever" // to the argument and a number, until killed
)

func TestMain(m *testing.M) {
	work := os.Getenv(childWork)
	if work == "" {
		os.Exit(m.Run())
	}
	if err := runWork(work); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func runWork(work string) error {
	fmt.Println("ready")
	steps := migrations
	if work == migrateOnly {
		steps = beyond(later)
	}
	r, err := open(os.Getenv(childPath), steps)
	if err != nil {
		return err
	}
	switch work {
	case backUpForever:
		for i := 0; err == nil; i++ {
			err = backUpOne(r, fmt.Sprint(os.Getenv(childArgument), i))
		}
	case appendForever:
		for err == nil {
			err = appendOne(r)
		}
	case appendSome:
		n, _ := strconv.Atoi(os.Getenv(childArgument))
		for i := 0; i < n && err == nil; i++ {
			err = appendOne(r)
		}
	}
	if err != nil {
		return err
	}
	return r.Close()
}

// appendOne acknowledges an entry on standard output, unbuffered, once it is stored.
func appendOne(r *Record) error {
	row := sample()
	if err := r.Append(row); err != nil {
		return err
	}
	_, err := fmt.Println(row.ID)
	return err
}

// backUpOne acknowledges a backup by its path, once it is complete.
func backUpOne(r *Record, path string) error {
	if err := r.Backup(path); err != nil {
		return err
	}
	_, err := fmt.Println(path)
	return err
}

// fewer is how often to repeat something: many times, or a tenth of that where
// every step is slow or the run is to be short.
func fewer(many int) int {
	if slow || testing.Short() {
		return max(many/10, 1)
	}
	return many
}

func child(work, path, argument string) *exec.Cmd {
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), childWork+"="+work, childPath+"="+path, childArgument+"="+argument,
		"GORACE=atexit_sleep_ms=0 "+os.Getenv("GORACE")) // else the race detector waits a second at every exit
	return cmd
}

// runChild runs a child to its end and returns the ids it acknowledged, or
// what it complained of.
func runChild(work, path, argument string) ([]string, error) {
	cmd := child(work, path, argument)
	out, err := cmd.Output()
	if exit, ok := errors.AsType[*exec.ExitError](err); ok {
		err = fmt.Errorf("%w: %s", err, exit.Stderr)
	}
	if err != nil {
		return nil, err
	}
	return strings.Fields(string(out))[1:], nil
}

// nextLine returns the next whole line, and false at the end. A line cut off
// by the death of its writer does not count.
func nextLine(r *bufio.Reader) (string, bool) {
	line, err := r.ReadString('\n')
	return strings.TrimSuffix(line, "\n"), err == nil
}
