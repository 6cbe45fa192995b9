//go:build unix

package share

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// A beacon that is none is passed over at once, whatever lies in its place.
func TestBeaconOfOthers(t *testing.T) {
	record := filepath.Join(t.TempDir(), "record.db")
	path := BeaconPath(record)
	kinds := map[string]func() error{
		"a folder":        func() error { return os.Mkdir(path, 0o700) },
		"a pipe":          func() error { return syscall.Mkfifo(path, 0o600) },
		"a ring of links": func() error { return os.Symlink(path, path) },
		"without end":     func() error { return os.Symlink("/dev/zero", path) },
		"1 GB of nothing": func() error {
			if err := os.WriteFile(path, nil, 0o600); err != nil {
				return err
			}
			return os.Truncate(path, 1<<30)
		},
	}
	for name, make := range kinds {
		t.Run(name, func(t *testing.T) {
			require.NoError(t, make())
			defer os.Remove(path)
			s, err := ReadBeacon(record)
			require.Error(t, err)
			require.Zero(t, s)
		})
	}
}

// What lies beside a record is read by its user alone, as the record is: names are in it.
func TestOnlyTheOwnerMayLookBeside(t *testing.T) {
	record := filepath.Join(t.TempDir(), "record.db")
	ledger, err := OpenLedger(record+"-share-ledger", "store")
	require.NoError(t, err)
	defer ledger.Close()
	lock, err := Lone(LockPath(record))
	require.NoError(t, err)
	defer lock.Release()
	BeaconFile(BeaconPath(record)).Shared(time.Unix(1, 0))
	files, err := filepath.Glob(record + "*")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 5)
	for _, name := range files {
		info, err := os.Stat(name)
		require.NoError(t, err)
		require.Equal(t, os.FileMode(0o600), info.Mode().Perm(), name)
	}
}
