package record

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// folderOf is every file of a folder with its content.
func folderOf(t *testing.T, folder string) map[string]string {
	all := map[string]string{}
	files, err := os.ReadDir(folder)
	require.NoError(t, err)
	for _, f := range files {
		text, err := os.ReadFile(filepath.Join(folder, f.Name()))
		require.NoError(t, err)
		all[f.Name()] = string(text)
	}
	return all
}

// left are the copies that were not taken away.
func left(t *testing.T) []string {
	found, err := filepath.Glob(filepath.Join(os.TempDir(), "dullred-copy-*"))
	require.NoError(t, err)
	return found
}

func TestOpenCopyLeavesTheFileAsItIs(t *testing.T) {
	t.Setenv("TMPDIR", t.TempDir())
	folder := t.TempDir()
	path := filepath.Join(folder, "record.db")
	r, err := Open(path)
	require.NoError(t, err)
	row := sample()
	require.NoError(t, r.AppendNamed([]Label{{ID: row.Piece, Class: PieceClass, Text: "spoon"}}, row))
	require.NoError(t, r.Close())
	before := folderOf(t, folder)

	c, done, err := OpenCopy(path)
	require.NoError(t, err)
	n, err := c.Count()
	require.NoError(t, err)
	require.Equal(t, 1, n)
	labels, err := c.Labels(PieceClass)
	require.NoError(t, err)
	require.Equal(t, []Label{{ID: row.Piece, Class: PieceClass, Text: "spoon"}}, labels)
	require.Len(t, left(t), 1, "the copy")
	require.NoError(t, c.Append(sample()))
	require.NoError(t, done())
	require.Equal(t, before, folderOf(t, folder))
	require.Empty(t, left(t), "the copy is gone")
}

// What a killed program left in the log is in the copy, and stays in the log.
func TestOpenCopyReadsTheLog(t *testing.T) {
	t.Setenv("TMPDIR", t.TempDir())
	r, err := Open(filepath.Join(t.TempDir(), "record.db"))
	require.NoError(t, err)
	require.NoError(t, r.Append(sample()))
	folder := t.TempDir()
	path := filepath.Join(folder, "killed.db")
	for _, ending := range []string{"", "-wal"} {
		text, err := os.ReadFile(r.Path() + ending)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(path+ending, text, 0o600))
	}
	require.NoError(t, r.Close())
	before := folderOf(t, folder)
	require.NotEmpty(t, before["killed.db-wal"])

	c, done, err := OpenCopy(path)
	require.NoError(t, err)
	n, err := c.Count()
	require.NoError(t, err)
	require.Equal(t, 1, n)
	require.NoError(t, done())
	require.Equal(t, before, folderOf(t, folder))
}

func TestOpenCopyRefuses(t *testing.T) {
	t.Setenv("TMPDIR", t.TempDir())
	folder := t.TempDir()
	file := func(name, text string) string {
		path := filepath.Join(folder, name)
		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
		return path
	}
	r, err := Open(filepath.Join(folder, "open.db"))
	require.NoError(t, err)
	defer r.Close()
	cases := []struct {
		name, path string
		is         error
		says       string
		reason     string
	}{
		{"missing", filepath.Join(folder, "none.db"), fs.ErrNotExist, "none.db", "no record is made of it"},
		{"empty", file("empty.db", ""), ErrNotRecord, "empty.db", "there is nothing to read"},
		{"letter", file("letter.txt", "Dear class,"), ErrNotRecord, "letter.txt: not a dullred record; the file was left untouched", "the name is that of the file, not of the copy"},
		{"folder", folder, ErrNotRecord, folder, "not a file"},
		{"open here", r.Path(), nil, "this program has it open", "closing it would drop its locks"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, _, err := OpenCopy(c.path)
			require.ErrorContains(t, err, c.says, c.reason)
			if c.is != nil {
				require.ErrorIs(t, err, c.is, c.reason)
			}
			require.NotContains(t, err.Error(), "dullred-copy-")
			require.Empty(t, left(t), "no copy stays")
		})
	}
	require.NoFileExists(t, filepath.Join(folder, "none.db"))
}

// A write to the file or its log, and a log that comes or goes, can be seen from outside.
func TestGlance(t *testing.T) {
	path := filepath.Join(t.TempDir(), "record.db")
	write := func(name, text string) { require.NoError(t, os.WriteFile(name, []byte(text), 0o600)) }
	seen := func() glimpse {
		g, err := glance(path)
		require.NoError(t, err)
		return g
	}
	write(path, "a")
	first := seen()
	require.Equal(t, first, seen(), "nobody wrote")
	write(path, "ab")
	require.NotEqual(t, first, seen(), "it grew")
	first = seen()
	write(path+"-wal", "log")
	require.NotEqual(t, first, seen(), "a log came")
	require.NoError(t, os.Remove(path+"-wal"))
	require.Equal(t, first, seen(), "and went")
}
