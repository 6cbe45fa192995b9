package main

import (
	"io/fs"
	"os"
	"time"

	"dullred/schedule/record"
	"dullred/schedule/share"
	"dullred/tui"
)

// beaconAt is what the carrier beside a record left, with the file that it left it in.
// Without one, and with one that is damaged, nothing is known and info may be nil.
func beaconAt(path string) (left share.Standing, info fs.FileInfo) {
	info, err := os.Stat(share.BeaconPath(path))
	if err != nil {
		return left, nil
	}
	if left, err = share.ReadBeacon(path); err != nil {
		return share.Standing{}, info
	}
	return left, info
}

// carried is what a carrier left, and whether it ended.
type carried struct {
	share.Standing
	ended bool
}

// Words are those of what was left, and that no carrier works where that is known.
func (c carried) Words(now time.Time) string {
	words := c.Standing.Words(now)
	if words != "" && c.ended {
		words += ", dullred-share does not run"
	}
	return words
}

// lookout looks for what a carrier leaves beside a record. The beacon is read when its
// file is another one, and the carrier is looked for when the beacon has been silent for
// longer than one that shares would be, and then as seldom.
type lookout struct {
	record string
	now    func() time.Time
	ended  func(path string) bool

	seen  fs.FileInfo // the file as it was last looked at; nil for none
	last  carried
	heard time.Time // when the file was written, or the carrier was looked for since
}

// Watch calls notify when a carrier left word beside the record.
func (l *lookout) Watch(notify func()) (stop func() error, err error) {
	return record.WatchFile(share.BeaconPath(l.record), notify)
}

// Look is that of a tui.Lookout. Without a beacon nothing is looked for again.
func (l *lookout) Look() (s tui.Sharing, changed bool, again time.Duration) {
	info, err := os.Stat(share.BeaconPath(l.record))
	if err != nil {
		info = nil
	}
	before := l.last
	switch now := l.now(); {
	case !unchanged(info, l.seen):
		l.last = carried{}
		if l.last.Standing, l.seen = beaconAt(l.record); l.seen != nil {
			l.heard = l.seen.ModTime()
		}
	case info != nil && now.Sub(l.heard).Abs() > share.Stale:
		l.last.ended, l.heard = l.ended(l.record), now
	}
	if l.seen != nil {
		again = max(share.Stale-l.now().Sub(l.heard).Abs(), 0) + time.Second
	}
	return l.last, l.last != before, again
}

// unchanged reports whether a file is the one that it was, unchanged; nil is none.
func unchanged(a, b fs.FileInfo) bool {
	if a == nil || b == nil {
		return a == b
	}
	return os.SameFile(a, b) && a.Size() == b.Size() && a.ModTime().Equal(b.ModTime())
}

// carrierEnded reports whether it is known that no carrier works beside a record.
func carrierEnded(path string) bool {
	runs, err := share.Runs(path)
	return err == nil && !runs
}
