package record

import (
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"testing/synctest"

	"github.com/stretchr/testify/require"
)

// again opens the record once more, as another program would.
func again(tb testing.TB, r *Record) *Record {
	tb.Helper()
	other, err := Open(r.Path())
	require.NoError(tb, err)
	tb.Cleanup(func() { require.NoError(tb, other.Close()) })
	return other
}

func named(text string) []Label { return []Label{{ID: bowl, Class: PieceClass, Text: text}} }

func requireChanged(tb testing.TB, want bool, r *Record, reason string) {
	tb.Helper()
	changed, err := r.Changed()
	require.NoError(tb, err)
	require.Equal(tb, want, changed, reason)
}

func TestChanged(t *testing.T) {
	appendOne := func(t *testing.T, r *Record) { require.NoError(t, r.Append(sample())) }
	appendTwo := func(t *testing.T, r *Record) { require.NoError(t, r.Append(samples(2)...)) }
	name := func(t *testing.T, r *Record) { require.NoError(t, r.AppendNamed(named("Practice Bowl"))) }
	forget := func(t *testing.T, r *Record) { require.NoError(t, r.Forget(cup)) }
	backup := func(t *testing.T, r *Record) { require.NoError(t, r.Backup(filepath.Join(t.TempDir(), "copy.db"))) }
	read := func(t *testing.T, r *Record) { require.NotEmpty(t, all(t, r)); require.NoError(t, readAll(r)) }
	refused := func(t *testing.T, r *Record) {
		require.ErrorIs(t, r.AppendNamed([]Label{{ID: "other", Class: PieceClass, Text: "cup"}}, sample()), ErrNameTaken)
	}
	nothing := func(*testing.T, *Record) {}
	process := func(t *testing.T, r *Record) {
		_, err := runChild(appendSome, r.Path(), "3")
		require.NoError(t, err)
	}
	opening := func(t *testing.T, r *Record) {
		_, err := runChild(openOnly, r.Path(), "")
		require.NoError(t, err)
	}
	tests := []struct {
		name, reason string
		own, others  func(*testing.T, *Record)
		want         bool
	}{
		{"nothing", "nobody wrote", nothing, nothing, false},
		{"own entry", "we know what we wrote", appendOne, nothing, false},
		{"own entries", "the same in a transaction", appendTwo, nothing, false},
		{"own label", "the same for names", name, nothing, false},
		{"own Forget", "it empties the log too", forget, nothing, false},
		{"own Backup", "it writes to another file", backup, nothing, false},
		{"own reading", "it writes nothing", read, nothing, false},
		{"other's entry", "it is news", nothing, appendOne, true},
		{"other's entries", "one commit or many", nothing, appendTwo, true},
		{"other's label", "a name is shown, too", nothing, name, true},
		{"other's Forget", "a name must go from the screen", nothing, forget, true},
		{"other's Backup", "the record stays as it is", nothing, backup, false},
		{"other's reading", "nobody wrote", nothing, read, false},
		{"other's refused entry", "it was rolled back", nothing, refused, false},
		{"other process's entries", "the usual case", nothing, process, true},
		{"other process opened it", "a command that only shows", nothing, opening, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			r := openNew(t)
			require.NoError(t, r.AppendNamed([]Label{{ID: cup, Class: PieceClass, Text: "Cup"}}, sample()))
			other := again(t, r)
			tt.others(t, other)
			tt.own(t, r)
			requireChanged(t, tt.want, r, tt.reason)
			requireChanged(t, false, r, "it was told")
			appendOne(t, other)
			requireChanged(t, true, r, "it is not deaf")
		})
	}
}

// An entry of ours on top of another's, and the log emptied by us, hide nothing.
func TestOwnWritesHideNoChange(t *testing.T) {
	tests := []struct {
		name, reason string
		write        func(*Record) error
	}{
		{"entry", "our commit reads theirs first", func(r *Record) error { return r.Append(sample()) }},
		{"entries", "the same in a transaction", func(r *Record) error { return r.Append(samples(2)...) }},
		{"Forget", "our log begins anew", func(r *Record) error { return r.Forget(bowl) }},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			r := openNew(t)
			require.NoError(t, again(t, r).Append(sample()))
			require.NoError(t, tt.write(r))
			requireChanged(t, true, r, tt.reason)
			requireChanged(t, false, r, "it was told")
		})
	}
}

func TestChangedSinceOpen(t *testing.T) {
	r := openNew(t)
	require.NoError(t, r.Append(sample()))
	requireChanged(t, false, again(t, r), "what was there at Open is no change")
}

// A record that others can no longer reach says so rather than "unchanged".
func TestChangedGone(t *testing.T) {
	r := openNew(t)
	require.NoError(t, os.Rename(r.Path(), r.Path()+" away"))
	_, err := r.Changed()
	require.ErrorIs(t, err, ErrGone)
	require.EqualError(t, err, "read "+r.Path()+": the record was moved or removed while open")
	require.NoError(t, os.Rename(r.Path()+" away", r.Path()))
	requireChanged(t, false, r, "it is back")
}

// A connection that is made later must not read whatever lies at the path by then.
func TestNoNewConnectionToAnotherFile(t *testing.T) {
	r := openNew(t)
	rows := samples(3)
	require.NoError(t, r.Append(rows...))
	require.NoError(t, os.Rename(closed(t, samples(5)...), r.Path()))
	for range r.Stored() { // holds the connection there is
		_, err := r.Count()
		require.ErrorIs(t, err, ErrGone)
	}
	n, err := r.Count()
	require.NoError(t, err)
	require.Equal(t, len(rows), n)
}

// Everything at once from many goroutines: nothing hangs and nothing is lost.
func TestManyGoroutinesUseOneRecord(t *testing.T) {
	const goroutines = 4
	r := openNew(t)
	other := again(t, r)
	rounds := fewer(50)
	failures := make([]error, goroutines)
	var running sync.WaitGroup
	for i := range goroutines {
		running.Go(func() {
			for n := 0; n < rounds && failures[i] == nil; n++ {
				failures[i] = useAll(r, other, fmt.Sprint(i))
			}
		})
	}
	running.Wait()
	for _, err := range failures {
		require.NoError(t, err)
	}
	require.Len(t, all(t, r), goroutines*rounds*4)
	_, err := r.Changed()
	require.NoError(t, err)
	requireChanged(t, false, r, "all is quiet")
}

func useAll(r, other *Record, id string) error {
	label := Label{ID: id, Class: PieceClass, Text: id}
	for _, step := range []func() error{
		func() error { return r.Append(sample()) },
		func() error { return r.AppendNamed([]Label{label}, samples(2)...) },
		func() error { return other.Append(sample()) },
		func() error { return second(r.Changed()) },
		func() error { return second(r.Lately(3)) },
		func() error { return second(r.Labels(PieceClass)) },
		func() error { return r.Forget(id) },
	} {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

func TestChangedAfterClose(t *testing.T) {
	r, err := Open(filepath.Join(t.TempDir(), "record.db"))
	require.NoError(t, err)
	require.NoError(t, r.Close())
	_, err = r.Changed()
	require.ErrorContains(t, err, "read "+r.Path())
}

// A program that is tested on a clock of its own may keep a record in its bubble.
func TestInABubble(t *testing.T) {
	path := filepath.Join(t.TempDir(), "record.db")
	synctest.Test(t, func(t *testing.T) {
		r, err := Open(path)
		require.NoError(t, err)
		require.NoError(t, r.Append(sample()))
		requireChanged(t, false, r, "our own")
		other, err := Open(path)
		require.NoError(t, err)
		require.NoError(t, other.Append(samples(2)...))
		require.NoError(t, other.Close())
		requireChanged(t, true, r, "another's")
		require.NoError(t, r.Close())
	})
}

func BenchmarkChanged(b *testing.B) {
	r := openNew(b)
	require.NoError(b, r.Append(sample()))
	for b.Loop() {
		requireChanged(b, false, r, "nobody writes")
	}
}
