package share_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule/share"
)

// A second carrier is refused, and the lock goes with the first.
func TestLone(t *testing.T) {
	path := filepath.Join(t.TempDir(), "lock")
	first, err := share.Lone(path)
	require.NoError(t, err)
	_, err = share.Lone(path)
	require.ErrorIs(t, err, share.ErrBeside)
	require.NoError(t, first.Release())
	second, err := share.Lone(path)
	require.NoError(t, err)
	t.Chdir(filepath.Dir(path))
	_, err = share.Lone("lock")
	require.ErrorIs(t, err, share.ErrBeside, "it is the same file by a shorter name")
	require.NoError(t, second.Release())
	_, err = share.Lone(filepath.Join(t.TempDir(), "nowhere", "lock"))
	require.Error(t, err)

	record := filepath.Join(t.TempDir(), "record.db")
	runs := func() bool {
		runs, err := share.Runs(record)
		require.NoError(t, err)
		return runs
	}
	require.False(t, runs(), "none was ever here")
	held, err := share.Lone(share.LockPath(record))
	require.NoError(t, err)
	require.True(t, runs())
	require.NoError(t, held.Release())
	require.False(t, runs())
	require.NotErrorIs(t, err, share.ErrBeside)
}

func TestBeaconFile(t *testing.T) {
	record := filepath.Join(t.TempDir(), "record.db")
	_, err := share.ReadBeacon(record)
	require.ErrorIs(t, err, fs.ErrNotExist)
	b := share.BeaconFile(share.BeaconPath(record))
	now := time.Date(2024, 3, 5, 18, 0, 0, 0, time.UTC)
	left := func() share.Standing {
		require.NoError(t, b.Err())
		s, err := share.ReadBeacon(record)
		require.NoError(t, err)
		return s
	}
	b.Shared(now)
	require.Equal(t, share.Standing{Shared: now}, left())
	b.Shared(now.Add(9 * time.Second))
	require.Equal(t, now, left().Shared, "it is not written with every look")
	b.Shared(now.Add(10 * time.Second))
	require.Equal(t, now.Add(10*time.Second), left().Shared)
	b.Alone(now, "the server does not answer")
	require.Equal(t, share.Standing{AloneSince: now, Why: "the server does not answer"}, left())
	b.Shared(now.Add(11 * time.Second))
	require.Equal(t, share.Standing{Shared: now.Add(11 * time.Second)}, left(), "what changes is written at once")
	b.Shared(now.Add(-time.Hour))
	require.Equal(t, now.Add(-time.Hour), left().Shared, "a clock that was put back does not stop it")
	text, err := os.ReadFile(record + "-share")
	require.NoError(t, err)
	require.JSONEq(t, `{"shared":"2024-03-05T17:00:00Z"}`, string(text))
	files, err := os.ReadDir(filepath.Dir(record))
	require.NoError(t, err)
	require.Len(t, files, 1, "nothing is left beside it")

	gone := share.BeaconFile(filepath.Join(t.TempDir(), "nowhere", "beacon"))
	gone.Shared(now)
	require.Error(t, gone.Err())
}

// A ledger that cannot be read is made anew; one for another store forgets that store.
func TestOpenLedger(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ledger")
	require.NoError(t, os.WriteFile(path, []byte("this is no ledger, though it is long enough to be looked at"), 0o600))
	l, err := share.OpenLedger(path, "a")
	require.NoError(t, err)
	other, err := share.ReadLedger(path, "a")
	require.NoError(t, err, "another may read it meanwhile")
	require.NoError(t, other.Close())
	_, err = share.ReadLedger(path, "b")
	require.ErrorIs(t, err, share.ErrNoLedger)
	require.NoError(t, l.Close())
	_, err = share.ReadLedger(path+".none", "a")
	require.ErrorIs(t, err, share.ErrNoLedger)
	_, err = share.OpenLedger(filepath.Join(t.TempDir(), "nowhere", "ledger"), "a")
	require.Error(t, err)
}
