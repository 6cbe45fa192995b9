package record

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

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
