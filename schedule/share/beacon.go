package share

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"
)

// Beacon leaves for the bench screen how sharing stands.
type Beacon interface {
	// Shared says that at a moment nothing was left to be carried.
	Shared(at time.Time)
	// Alone says since when, and why, the bench is by itself. It goes on as it is.
	Alone(since time.Time, why string)
}

// Standing is what a beacon leaves: exactly one of the times is set once anything is
// known.
type Standing struct {
	Shared     time.Time `json:"shared,omitzero"`      // when nothing was left to be carried, if it was so last
	AloneSince time.Time `json:"alone_since,omitzero"` // if the bench is by itself
	Why        string    `json:"why,omitempty"`        // it is
}

// BeaconPath is where the beacon of a record lies.
func BeaconPath(record string) string { return record + "-share" }

// beaconBeat is how often a beacon is written while nothing changes but the time.
const beaconBeat = 10 * time.Second

// File is a beacon in a file, which is replaced as a whole. That it cannot be written is
// no reason not to carry; Err says so.
type File struct {
	path    string
	left    Standing
	written time.Time
	err     error
}

// BeaconFile is the beacon at a path.
func BeaconFile(path string) *File { return &File{path: path} }

// Shared writes the moment, at most every ten seconds.
func (f *File) Shared(at time.Time) {
	sooner := at.Sub(f.written) < beaconBeat && !at.Before(f.written)
	if !f.left.Shared.IsZero() && sooner {
		return
	}
	f.write(at, Standing{Shared: at})
}

// Alone writes the reason when it changes.
func (f *File) Alone(since time.Time, why string) {
	if s := (Standing{AloneSince: since, Why: why}); s != f.left {
		f.write(since, s)
	}
}

// Err is why the beacon could not be written, nil if it could.
func (f *File) Err() error { return f.err }

func (f *File) write(at time.Time, s Standing) {
	text, err := json.Marshal(s)
	if err == nil {
		err = replace(f.path, append(text, '\n'))
	}
	if f.err = err; err == nil {
		f.left, f.written = s, at
	}
}

// replace writes a file beside the one at path and puts it there.
func replace(path string, text []byte) error {
	part, err := os.CreateTemp(filepath.Dir(path), filepath.Base(path)+"-*.part")
	if err != nil {
		return err
	}
	_, err = part.Write(text)
	if closed := part.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = os.Rename(part.Name(), path)
	}
	if err != nil {
		_ = os.Remove(part.Name())
	}
	return err
}

// ReadBeacon reads what the beacon of a record says. Without one the error is
// fs.ErrNotExist: no carrier was ever here.
func ReadBeacon(record string) (s Standing, err error) {
	path := BeaconPath(record)
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return s, err
	case !info.Mode().IsRegular():
		return s, errNoBeacon // whoever opened a pipe would wait for ever
	}
	file, err := os.Open(path)
	if err != nil {
		return s, err
	}
	defer file.Close()
	text, err := io.ReadAll(io.LimitReader(file, mostBeacon))
	if err != nil {
		return s, err
	}
	return parseBeacon(text)
}

// mostBeacon is the most bytes that are read of a beacon; a whole one has some hundreds.
const mostBeacon = 64 << 10

var errNoBeacon = errors.New("the beacon is no file that a carrier wrote")

// parseBeacon reads what a beacon says, and nothing of one that is damaged.
func parseBeacon(text []byte) (s Standing, err error) {
	if err := json.Unmarshal(text, &s); err != nil {
		return Standing{}, fmt.Errorf("%w: %w", errNoBeacon, err)
	}
	return s, nil
}
