package record

import (
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"
)

func mode(t *testing.T, path string) fs.FileMode {
	t.Helper()
	info, err := os.Stat(path)
	require.NoError(t, err)
	return info.Mode().Perm()
}

func TestOnlyTheOwnerMayLook(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no such modes there")
	}
	base := t.TempDir()
	path := filepath.Join(base, "deep", "er", "record.db")
	r, err := Open(path)
	require.NoError(t, err)
	defer r.Close()
	require.NoError(t, r.Append(sample()))
	for _, name := range []string{path, path + "-wal", path + "-shm"} {
		require.Equal(t, fs.FileMode(0o600), mode(t, name), name)
	}
	require.Equal(t, fs.FileMode(0o700), mode(t, filepath.Dir(path)))
	require.Equal(t, fs.FileMode(0o700), mode(t, filepath.Join(base, "deep")))
}

func TestOddPaths(t *testing.T) {
	for _, name := range []string{
		"what?.db", "no#1.db", "100%.db", "%41.db", "a b.db", "a&mode=ro.db", "?mode=memory", "file:x.db",
		":memory:", "naïve.db", "semi;colon.db", "new\nline.db", "quote'\".db",
	} {
		t.Run(name, func(t *testing.T) {
			folder := t.TempDir()
			r, err := Open(filepath.Join(folder, name))
			require.NoError(t, err)
			require.NoError(t, r.Append(sample()))
			require.NoError(t, r.Close())
			files, err := os.ReadDir(folder)
			require.NoError(t, err)
			require.Len(t, files, 1)
			require.Equal(t, name, files[0].Name())
			r, err = Open(filepath.Join(folder, name))
			require.NoError(t, err)
			defer r.Close()
			require.Len(t, all(t, r), 1)
		})
	}
}

func TestRelativePath(t *testing.T) {
	t.Chdir(t.TempDir())
	r, err := Open("record.db")
	require.NoError(t, err)
	defer r.Close()
	require.True(t, filepath.IsAbs(r.Path()))
	require.FileExists(t, "record.db")
}

func TestFileForAFolder(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	_, err := Open(filepath.Join(file, "record.db"))
	require.ErrorContains(t, err, "open "+filepath.Join(file, "record.db"))
}

// A record may lie behind a link. Its log lies beside the file itself.
func TestLink(t *testing.T) {
	path := closed(t, samples(3)...)
	link := filepath.Join(t.TempDir(), "record.db")
	if err := os.Symlink(path, link); err != nil {
		t.Skip("no links here: ", err)
	}
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
