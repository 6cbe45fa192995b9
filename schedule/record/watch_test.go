//go:build linux || windows

package record

import (
	"os"
	"path/filepath"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/fsnotify/fsnotify"
	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"
)

// patient is how long a test waits for an event before it fails.
const patient = 20 * time.Second

// watched opens a new record and watches it. At the end of the test nothing of
// the watch may be left.
func watched(t *testing.T) (*Record, chan struct{}) {
	t.Helper()
	quiet := goleak.IgnoreCurrent()
	t.Cleanup(func() { goleak.VerifyNone(t, quiet) })
	r := openNew(t)
	rung := make(chan struct{}, 1)
	stop, err := r.Watch(func() {
		select {
		case rung <- struct{}{}:
		default:
		}
	})
	require.NoError(t, err)
	t.Cleanup(func() {
		require.NoError(t, stop())
		require.NoError(t, stop(), "twice does nothing")
	})
	return r, rung
}

func awaitRing(t *testing.T, rung chan struct{}, reason string) {
	t.Helper()
	select {
	case <-rung:
	case <-time.After(patient):
		require.Fail(t, "notify was not called", reason)
	}
}

// awaitChange asks after every call, as a screen does, until there is news.
func awaitChange(t *testing.T, r *Record, rung chan struct{}, reason string) {
	t.Helper()
	for {
		awaitRing(t, rung, reason)
		changed, err := r.Changed()
		require.NoError(t, err)
		if changed {
			return
		}
	}
}

func TestWatch(t *testing.T) {
	tests := []struct {
		name, reason string
		write        func(t *testing.T, r *Record)
	}{
		{"entry", "another bench logged a course", func(t *testing.T, r *Record) { require.NoError(t, again(t, r).Append(sample())) }},
		{"entries and label", "another bench began a piece", func(t *testing.T, r *Record) {
			require.NoError(t, again(t, r).AppendNamed(named("Practice Bowl"), samples(3)...))
		}},
		{"label", "a piece got another name", func(t *testing.T, r *Record) { require.NoError(t, again(t, r).AppendNamed(named("Bowl"))) }},
		{"Forget", "a name must go from the screen", func(t *testing.T, r *Record) { require.NoError(t, again(t, r).Forget(bowl)) }},
		{"process", "a command in another window", func(t *testing.T, r *Record) {
			_, err := runChild(appendSome, r.Path(), "1")
			require.NoError(t, err)
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			r, rung := watched(t)
			require.NoError(t, r.AppendNamed(named("Practice Ewer"), sample()))
			awaitRing(t, rung, "our own entry is an event")
			requireChanged(t, false, r, "and no news")
			tt.write(t, r)
			awaitChange(t, r, rung, tt.reason)
			requireChanged(t, false, r, "it was told")
		})
	}
}

// However many commits come, the last one is not missed.
func TestWatchMissesNothing(t *testing.T) {
	r, rung := watched(t)
	other := again(t, r)
	for range fewer(200) {
		require.NoError(t, other.Append(sample()))
		awaitChange(t, r, rung, "every commit shows before the next")
	}
}

func TestWatchOutlivesTheFile(t *testing.T) {
	tests := []struct {
		name, reason string
		lose         func(t *testing.T, path string)
	}{
		{"removed", "by mistake", remove},
		{"replaced", "a backup was put back", func(t *testing.T, path string) { require.NoError(t, os.Rename(closed(t, samples(3)...), path)) }},
		{"log removed", "by a tidy mind", func(t *testing.T, path string) { remove(t, path+"-wal") }},
		{"folder removed", "by mistake", func(t *testing.T, path string) { removeAll(t, filepath.Dir(path)) }},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			r, rung := watched(t)
			tt.lose(t, r.Path())
			awaitRing(t, rung, tt.reason)
			_, err := r.Changed()
			require.ErrorIs(t, err, ErrGone)
		})
	}
}

// A record that was away and is back is watched as before.
func TestWatchSeesTheFileComeBack(t *testing.T) {
	r, rung := watched(t)
	require.NoError(t, os.Rename(r.Path(), r.Path()+" away"))
	awaitRing(t, rung, "away")
	require.NoError(t, os.Rename(r.Path()+" away", r.Path()))
	require.NoError(t, again(t, r).Append(sample()))
	awaitChange(t, r, rung, "back, and written to")
}

func TestWatchRefused(t *testing.T) {
	r := openNew(t)
	removeAll(t, filepath.Dir(r.Path()))
	stop, err := r.Watch(func() {})
	require.ErrorContains(t, err, "watch "+r.Path()+": ")
	require.Nil(t, stop)
}

// overheard gives when an ear rings, counted from the start of the bubble.
func overheard(t *testing.T, happen func(events chan<- fsnotify.Event, failures chan<- error)) []time.Duration {
	t.Helper()
	var rings []time.Duration
	synctest.Test(t, func(t *testing.T) {
		events, failures := make(chan fsnotify.Event), make(chan error)
		e := earOf(filepath.FromSlash("/bench/record.db"))
		e.events, e.errors = events, failures
		start := time.Now()
		var running sync.WaitGroup
		running.Go(e.listen)
		running.Go(func() {
			for range e.bell {
				rings = append(rings, time.Since(start))
			}
		})
		happen(events, failures)
		time.Sleep(time.Hour)
		close(events)
		running.Wait()
	})
	return rings
}

// looks are the times after a write at which somebody looks.
func looks(write time.Duration) []time.Duration {
	times := []time.Duration{write}
	for wait := 5 * time.Millisecond; wait < 3*time.Second; wait *= 2 {
		times = append(times, times[len(times)-1]+wait)
	}
	return times
}

// A commit may become visible long after its bytes were written, without a
// further event: it is looked for until five seconds have gone by, and no longer.
func TestEarLooksAgain(t *testing.T) {
	wrote := fsnotify.Event{Name: filepath.FromSlash("/bench/record.db-wal"), Op: fsnotify.Write}
	once := looks(0)
	require.Len(t, once, 11)
	require.Equal(t, 5115*time.Millisecond, once[10])
	tests := []struct {
		name, reason string
		happen       func(events chan<- fsnotify.Event, failures chan<- error)
		want         []time.Duration
	}{
		{"nothing", "it sleeps while nobody writes", func(chan<- fsnotify.Event, chan<- error) { time.Sleep(time.Hour) }, nil},
		{"one write", "the disk may be slow", func(events chan<- fsnotify.Event, _ chan<- error) { events <- wrote }, once},
		{"lost events", "they may have been ours", func(_ chan<- fsnotify.Event, failures chan<- error) { failures <- fsnotify.ErrEventOverflow }, once},
		{"two writes", "the second begins the waiting anew", func(events chan<- fsnotify.Event, _ chan<- error) {
			events <- wrote
			time.Sleep(7 * time.Millisecond)
			events <- wrote
		}, append([]time.Duration{0, 5 * time.Millisecond}, looks(7*time.Millisecond)...)},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			require.Equal(t, tt.want, overheard(t, tt.happen), tt.reason)
		})
	}
}

// While one call is under way, all that happens makes one more.
func TestEarHoldsOneRing(t *testing.T) {
	events, failures := make(chan fsnotify.Event), make(chan error)
	e := earOf("record.db")
	e.events, e.errors = events, failures
	var running sync.WaitGroup
	running.Go(e.listen)
	for range 1000 {
		events <- fsnotify.Event{Name: "record.db", Op: fsnotify.Write}
	}
	close(events)
	running.Wait()
	rings := 0
	for range e.bell {
		rings++
	}
	require.Equal(t, 1, rings)
}

func TestEarConcerns(t *testing.T) {
	e := earOf(filepath.FromSlash("/bench/record.db"))
	tests := []struct {
		name, reason string
		op           fsnotify.Op
		want         bool
	}{
		{"/bench/record.db", "a log folded in", fsnotify.Write, true},
		{"/bench/record.db-wal", "a commit", fsnotify.Write, true},
		{"/bench/record.db-wal", "a log begun", fsnotify.Create, true},
		{"/bench/record.db", "removed", fsnotify.Remove, true},
		{"/bench/record.db", "moved", fsnotify.Rename, true},
		{"/bench/record.db", "its times or its mode, no entry", fsnotify.Chmod, false},
		{"/bench", "the folder moved", fsnotify.Rename, true},
		{"/bench/record.db-shm", "made when a program opens the record", fsnotify.Create, false},
		{"/bench/other.db", "another file", fsnotify.Write, false},
		{"/bench/record.db.1.part", "a backup in the making", fsnotify.Write, false},
		{"", "what the watcher makes of an event it does not know", fsnotify.Write, false},
	}
	for _, tt := range tests {
		t.Run(tt.name+" "+tt.op.String(), func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			event := fsnotify.Event{Name: filepath.FromSlash(tt.name), Op: tt.op}
			require.Equal(t, tt.want, e.concerns(event), tt.reason)
		})
	}
}

// A file that is made, written, replaced or removed is told of, and nothing else is.
func TestWatchFile(t *testing.T) {
	quiet := goleak.IgnoreCurrent()
	defer goleak.VerifyNone(t, quiet)
	path := filepath.Join(t.TempDir(), "beacon")
	rung := make(chan struct{}, 1)
	stop, err := WatchFile(path, func() { rung <- struct{}{} })
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path+"-other", nil, 0o600))
	require.NoError(t, os.WriteFile(path, nil, 0o600))
	awaitRing(t, rung, "the file was made")
	require.NoError(t, os.Rename(path+"-other", path))
	awaitRing(t, rung, "the file was replaced")
	require.NoError(t, os.Remove(path))
	awaitRing(t, rung, "the file was removed")
	require.NoError(t, os.WriteFile(path+"-other", nil, 0o600))
	require.NoError(t, stop())
	require.Empty(t, rung, "another file is nobody's concern")
	_, err = WatchFile(filepath.Join(t.TempDir(), "none", "beacon"), func() {})
	require.Error(t, err)
}
