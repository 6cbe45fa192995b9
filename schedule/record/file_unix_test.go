//go:build unix

package record

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// Modes and links, which not every system has.

func mode(t *testing.T, path string) fs.FileMode {
	t.Helper()
	info, err := os.Stat(path)
	require.NoError(t, err)
	return info.Mode().Perm()
}

func TestOnlyTheOwnerMayLook(t *testing.T) {
	base := t.TempDir()
	path := filepath.Join(base, "deep", "er", "record.db")
	r, err := Open(path)
	require.NoError(t, err)
	defer r.Close()
	require.NoError(t, r.Append(sample()))
	for _, name := range []string{path, path + "-wal", path + "-shm"} {
		require.Equal(t, fs.FileMode(0o600), mode(t, name), name)
	}
	copied := filepath.Join(base, "copy.db")
	require.NoError(t, r.Backup(copied))
	require.Equal(t, fs.FileMode(0o600), mode(t, copied))
	require.Equal(t, fs.FileMode(0o700), mode(t, filepath.Dir(path)))
	require.Equal(t, fs.FileMode(0o700), mode(t, filepath.Join(base, "deep")))
}

// A record may lie behind a link. Its log lies beside the file itself.
func TestLink(t *testing.T) {
	path := closed(t, samples(3)...)
	link := filepath.Join(t.TempDir(), "record.db")
	require.NoError(t, os.Symlink(path, link))
	r, err := Open(link)
	require.NoError(t, err)
	defer r.Close()
	row := sample()
	require.NoError(t, r.Append(row))
	require.Len(t, all(t, r), 4)
	require.FileExists(t, path+"-wal")
	require.NoError(t, os.Rename(filepath.Dir(path), filepath.Dir(path)+" away"))
	require.ErrorIs(t, r.Append(sample()), ErrGone, "the link leads nowhere now")
}

// A link that leads nowhere is a name that is taken, too.
func TestBackupFollowsNoLink(t *testing.T) {
	r, folder := openNew(t), t.TempDir()
	link := filepath.Join(folder, "copy.db")
	require.NoError(t, os.Symlink(filepath.Join(folder, "elsewhere"), link))
	require.ErrorIs(t, r.Backup(link), fs.ErrExist)
	require.NoFileExists(t, filepath.Join(folder, "elsewhere"))
}
