package place

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestRead(t *testing.T) {
	folder := t.TempDir()
	keep := func(name string, size int64) string {
		path := filepath.Join(folder, name)
		require.NoError(t, os.WriteFile(path, nil, 0o600))
		require.NoError(t, os.Truncate(path, size))
		return path
	}
	link := filepath.Join(folder, "link")
	require.NoError(t, os.Symlink(keep("linked", 3), link))
	cases := []struct {
		name, path string
		size       int
		fault      error
		reason     string
	}{
		{"empty", keep("empty", 0), 0, nil, "that is a file too"},
		{"as large as may be", keep("full", 2048), 2048, nil, "the bound is in it"},
		{"by a link", link, 3, nil, "a link to a file is one"},
		{"one byte more", keep("over", 2049), 0, ErrTooLarge, "the bound holds"},
		{"huge", keep("huge", 1<<40), 0, ErrTooLarge, "no more than the bound is read"},
		{"a folder", folder, 0, ErrNotPlain, "there is nothing to read"},
		{"a device", os.DevNull, 0, ErrNotPlain, "others of them have no end"},
		{"nothing", filepath.Join(folder, "none"), 0, fs.ErrNotExist, "it is told from one that is no good"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			text, err := Read(c.path, 2048)
			require.ErrorIs(t, err, c.fault)
			require.Len(t, text, c.size)
			if c.fault != nil {
				require.ErrorAs(t, err, new(*fs.PathError))
			}
		})
	}
}
