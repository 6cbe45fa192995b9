package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"
	"go.bug.st/serial"

	"dullred/alloys/unit"
	"dullred/cmd/internal/say"
	"dullred/schedule/probe"
	"dullred/tui"
	"dullred/tui/term"
)

// The speeds of a serial port that are taken, in bits per second.
const (
	usualSpeed = 9600
	minSpeed   = 300
	maxSpeed   = 1_000_000
)

const probeHelp = `Print the readings of a thermocouple as they come, to try the probe before a heat:
one temperature a line, from a serial port (9600 8N1, or another speed behind @,
as in /dev/ttyUSB0@115200), a pipe or a file; - is standard input. A line may be
650, 650.5, 650 C, 1200F or T=650.2.

  LOST, BACK  the device is gone, and is tried until it sends again
  SILENT      no reading for five seconds
  FAULT       the thermocouple is broken or not connected
  NOISE       lines that are no temperature, counted

It ends with the input, with a signal, or after --count readings.`

func (a *app) probeCommand() *cobra.Command {
	var count int
	cmd := &cobra.Command{
		Use:   "probe DEVICE|-",
		Short: "print the readings of a thermocouple, to try it before a heat",
		Long:  probeHelp,
		Args:  names("DEVICE|-"),
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case !cmd.Flags().Changed("count"):
				count = -1 // readings left; never none
			case count < 1:
				return refuse("leave it out to read until the end", "--count is %d, expected 1 or more", count)
			}
			return a.probe(args[0], count)
		},
	}
	cmd.Flags().IntVar(&count, "count", 0, "end after `N` readings")
	return cmd
}

// probe prints the events of a source until as many readings were among them.
func (a *app) probe(name string, count int) error {
	first, err := openProbe(name)
	if err != nil {
		return err
	}
	defer catchPipe()()
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	signals := make(chan os.Signal, 1)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	defer signal.Stop(signals)
	events := probe.Follow(ctx, openedBefore(first, name), a.now)
	for {
		select {
		case sig := <-signals:
			return tui.Signalled{Signal: sig}
		case e, more := <-events:
			if !more {
				return nil
			}
			if err := a.tellProbe(e); err != nil {
				return quiet(err)
			}
			if _, ok := e.(probe.Reading); ok {
				count--
			}
			if count == 0 {
				return nil
			}
		}
	}
}

// openedBefore opens a source that is open already the first time. What failed on
// standard input cannot be plugged in again.
func openedBefore(first io.ReadCloser, name string) func() (io.ReadCloser, error) {
	return func() (io.ReadCloser, error) {
		if source := first; source != nil {
			first = nil
			return source, nil
		}
		if name == "-" {
			return nil, probe.ErrEnd
		}
		return openProbe(name)
	}
}

// tellProbe prints an event as one line; for people to a tenth of a kelvin, which
// no thermocouple is better than.
func (a *app) tellProbe(e probe.Event) error {
	text := a.sayLine(e.When().Local().Format(time.TimeOnly) + " " + probeText(e))
	if a.json {
		var err error
		if text, err = probeObject(e); err != nil {
			return err
		}
	}
	if _, err := io.WriteString(a.out, text+"\n"); err != nil {
		return fmt.Errorf("the output cannot be written: %w", err)
	}
	return nil
}

func probeText(e probe.Event) string {
	switch e := e.(type) {
	case probe.Reading:
		return unit.Celsius(math.Round(10*float64(e.Temp)) / 10).String()
	case probe.Noise:
		return fmt.Sprintf("NOISE: %s no temperature, such as %q.", lines(e.Lines), e.Text)
	case probe.Fault:
		return fmt.Sprintf("FAULT: the thermocouple is broken or not connected, it says %q.", e.Text)
	case probe.Silent:
		return fmt.Sprintf("SILENT: no reading for %.0f s.", probe.SilentAfter.Seconds())
	case probe.Lost:
		return "LOST: " + shorten(clean(lostWhy(e.Err))) + "; trying again."
	case probe.Back:
		return "BACK: the probe sends again."
	}
	return fmt.Sprintf("%T", e)
}

// probeWord is the word that an event begins with, for a machine.
func probeWord(e probe.Event) string {
	word, _, _ := strings.Cut(probeText(e), ": ")
	return strings.ToLower(word)
}

func lines(n int) string {
	if n == 1 {
		return "1 line is"
	}
	return strconv.Itoa(n) + " lines are"
}

// lostWhy is why a device is gone, in the words of the bench where it is pulled out.
func lostWhy(err error) string {
	port, isPort := errors.AsType[*serial.PortError](err)
	if isPort && port.Code() == serial.PortClosed || errors.Is(err, syscall.EIO) || errors.Is(err, io.EOF) {
		return "the device was unplugged"
	}
	return err.Error()
}

// probeObject is an event as one JSON object.
func probeObject(e probe.Event) (string, error) {
	var o struct {
		At    time.Time `json:"at"`
		Temp  *float64  `json:"temp_c,omitempty"`
		Event string    `json:"event,omitempty"`
		Text  string    `json:"text,omitempty"`
	}
	o.At = e.When().Round(0).UTC()
	if r, ok := e.(probe.Reading); ok {
		temp := figure(float64(r.Temp))
		o.Temp = &temp
	} else {
		_, text, _ := strings.Cut(probeText(e), ": ")
		o.Event, o.Text = probeWord(e), text
	}
	object, err := say.JSON(o, "")
	return strings.TrimSuffix(string(object), "\n"), err
}

// openProbe opens a source of readings: - is standard input, a file ends with its
// end, a pipe and a serial port do not. Behind a port, @ and its speed may stand.
// Close ends a Read that waits. A refusal tells what to do.
func openProbe(name string) (io.ReadCloser, error) {
	if name == "-" {
		return probe.Once(input()), nil
	}
	path, speed, err := portOf(name)
	if err != nil {
		return nil, err
	}
	info, err := os.Stat(path)
	switch {
	case err == nil && info.IsDir():
		return nil, missing("name a serial port, a pipe or a file", "%.200q is a folder", path)
	case err == nil && info.Mode().IsRegular():
		file, err := os.Open(path)
		if err != nil {
			return nil, unopened(path, err)
		}
		return probe.Once(file), nil
	case err == nil && info.Mode()&fs.ModeNamedPipe != 0:
		return openPipe(path)
	case err == nil && ownTerminal(path, info):
		return nil, refuse("name the port of the probe, or - for standard input", "%.200q is the terminal of this program", path)
	}
	port, err := serial.Open(path, &serial.Mode{BaudRate: speed})
	if err != nil {
		return nil, unopened(path, err)
	}
	return probe.FromNextLine(port), nil
}

func unopened(path string, err error) error {
	do := "see that it is plugged in"
	port, isPort := errors.AsType[*serial.PortError](err)
	if errors.Is(err, fs.ErrPermission) || isPort && port.Code() == serial.PermissionDenied {
		do = "make yourself a member of the group that owns it, often dialout"
	}
	if isPort && port.Code() == serial.PortBusy {
		do = "end the other program that reads it"
	}
	return missing(do, "the probe %.200q cannot be opened: %w", path, err)
}

// portOf parts a name from the speed behind it; a file that has an @ in its name
// goes before.
func portOf(name string) (path string, speed int, err error) {
	at := strings.LastIndex(name, "@")
	if _, missing := os.Stat(name); at < 0 || missing == nil {
		return name, usualSpeed, nil
	}
	speed, err = strconv.Atoi(name[at+1:])
	if err != nil || speed < minSpeed || speed > maxSpeed {
		return "", 0, refuse("as in /dev/ttyUSB0@115200", "%.60q is no speed of a serial port, expected %d to %d", name[at+1:], minSpeed, maxSpeed)
	}
	return name[:at], speed, nil
}

// openPipe opens a named pipe for writing too where that is allowed, so that it
// neither waits for a writer nor ends with one.
func openPipe(path string) (io.ReadCloser, error) {
	file, err := os.OpenFile(path, os.O_RDWR|syscall.O_NONBLOCK, 0)
	if errors.Is(err, fs.ErrPermission) {
		file, err = os.OpenFile(path, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	}
	if err != nil {
		return nil, unopened(path, err)
	}
	return file, nil
}

// ownTerminal reports whether a device is the terminal that somebody types in: it
// would be left without echo.
func ownTerminal(path string, info fs.FileInfo) bool {
	if real, err := filepath.EvalSymlinks(path); err == nil && real == "/dev/tty" {
		return true
	}
	for _, f := range []*os.File{os.Stdin, os.Stdout, os.Stderr} {
		if own, err := f.Stat(); err == nil && os.SameFile(own, info) && info.Mode()&fs.ModeCharDevice != 0 {
			return true
		}
	}
	return false
}

// readings is where the readings of - come from: standard input, also when the keys
// do not.
var readings = os.Stdin

// keysFromTerminal leaves standard input to the readings and takes the keys of the
// screen from the terminal that the program was started in.
func keysFromTerminal() error {
	if term.Check() == nil {
		return refuse("pipe the readings into it, or name a port with --probe", "standard input is the terminal, where the keys come from")
	}
	tty, err := os.OpenFile("/dev/tty", os.O_RDWR, 0)
	if err != nil {
		return refuse("name a port with --probe, or start it in a terminal", "readings come by standard input, and there is no terminal for the keys: %w", err)
	}
	os.Stdin = tty
	return nil
}

// input is standard input behind a pipe, since a Read of it may not end by Close:
// what reads it then waits until the program ends.
func input() io.ReadCloser {
	r, w := io.Pipe()
	go func() {
		_, err := io.Copy(w, readings)
		w.CloseWithError(err) // none is EOF
	}()
	return r
}
