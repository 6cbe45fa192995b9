//go:build unix

package share

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"

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
