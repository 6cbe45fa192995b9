package record

import (
	"errors"
	"fmt"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/fsnotify/fsnotify"
)

// A commit can be seen a while after it was written: the writer puts its bytes
// in the log, which the system reports, waits for the disk, and only then tells
// the other programs through memory, which the system does not report. So a
// write is looked into at once and again after soonest, twice that and so on;
// the looks end five seconds after the last write, as long as a writer waits
// for others.
const (
	soonest = 5 * time.Millisecond
	latest  = 512 * soonest // the waits add up to 5.1 s
)

// Watch calls notify when anybody writes to the record, this Record included,
// or when its file, its log or its folder is removed, moved or replaced. It
// does so from a goroutine of its own, one call at a time: what happens during
// a call brings about one more. notify asks Changed what it was; after one
// write it is called several times within five seconds (see Changed for what
// that costs), and then not before the next. A commit that the disk takes
// longer for shows with the next one.
//
// Ask Changed once after Watch has returned, for what came before. stop ends
// the watch and returns when the last call has; call it before Close, and never
// from notify. Calling it twice does nothing.
//
// An error means that there will be no events: the system has none to spare, or
// (errors.ErrUnsupported) it is neither Linux nor Windows. Elsewhere a folder is
// watched by opening the files in it, and closing ours again would cost SQLite
// its locks. Ask Changed every now and then instead. A folder that was moved
// away is not watched any more, even if it comes back.
func (r *Record) Watch(notify func()) (stop func() error, err error) {
	watcher, err := watchFolder(filepath.Dir(r.path))
	if err != nil {
		return nil, r.fail("watch", err)
	}
	return earOf(r.path).hear(watcher, notify), nil
}

// WatchFile is Watch for another file, which need not be there: it calls notify when the
// file is made, written, replaced or removed, once for what happens during a call.
func WatchFile(path string, notify func()) (stop func() error, err error) {
	watcher, err := watchFolder(filepath.Dir(path))
	if err != nil {
		return nil, fmt.Errorf("watch %s: %w", path, err)
	}
	e := ear{paths: []string{path}, bell: make(chan struct{}, 1)}
	return e.hear(watcher, notify), nil
}

// hear calls notify for what rings until stop.
func (e ear) hear(watcher *fsnotify.Watcher, notify func()) (stop func() error) {
	e.events, e.errors = watcher.Events, watcher.Errors
	var running sync.WaitGroup
	running.Go(e.listen)
	running.Go(func() {
		for range e.bell {
			notify()
		}
	})
	return sync.OnceValue(func() error {
		err := watcher.Close()
		running.Wait()
		return err
	})
}

func watchFolder(folder string) (*fsnotify.Watcher, error) {
	if runtime.GOOS != "linux" && runtime.GOOS != "windows" {
		return nil, fmt.Errorf("on %s: %w", runtime.GOOS, errors.ErrUnsupported)
	}
	watcher, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, err
	}
	if err := watcher.Add(folder); err != nil {
		return nil, errors.Join(err, watcher.Close())
	}
	return watcher, nil
}

// ear hears what happens in a folder and rings when it concerns one of the paths, and
// again for as long after it as what was written may be seen later.
type ear struct {
	events <-chan fsnotify.Event
	errors <-chan error
	paths  []string
	latest time.Duration // of the waits for what is seen later; 0 for none
	bell   chan struct{} // holds one ring
}

// earOf is the ear for a record.
func earOf(path string) ear {
	return ear{paths: []string{path, path + "-wal", filepath.Dir(path)}, latest: latest, bell: make(chan struct{}, 1)}
}

// listen ends when the watcher closes its channels. An error is most often that
// events came too fast and some were lost, so it counts as one.
func (e ear) listen() {
	defer close(e.bell)
	wait := soonest
	again := time.NewTimer(wait)
	again.Stop()
	defer again.Stop()
	for {
		select {
		case event, open := <-e.events:
			if !open {
				return
			}
			if !e.concerns(event) {
				continue
			}
			wait = soonest
		case _, open := <-e.errors:
			if !open {
				return
			}
			wait = soonest
		case <-again.C:
			wait *= 2
		}
		e.ring()
		if wait <= e.latest {
			again.Reset(wait)
		}
	}
}

func (e ear) ring() {
	select {
	case e.bell <- struct{}{}:
	default:
	}
}

// concerns reports whether an event is about one of the paths. What a record keeps in
// memory (-shm) is written without events. Windows tells names in
// the case they have on disk, which need not be that of the path.
func (e ear) concerns(event fsnotify.Event) bool {
	const counts = fsnotify.Create | fsnotify.Write | fsnotify.Remove | fsnotify.Rename
	if event.Op&counts == 0 {
		return false
	}
	return slices.ContainsFunc(e.paths, func(path string) bool { return strings.EqualFold(event.Name, path) })
}
