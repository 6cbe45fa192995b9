package newfile

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func text(s string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, s); return err }
}

// contents are the files of a folder by name.
func contents(t *testing.T, folder string) map[string]string {
	t.Helper()
	all := map[string]string{}
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(folder, e.Name()))
		require.NoError(t, err)
		all[e.Name()] = string(data)
	}
	return all
}

func TestWrite(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, strings.Repeat("n", 255)) // as long as a name may be
	require.NoError(t, Write(path, text("whole")))
	require.ErrorIs(t, Write(path, text("another")), fs.ErrExist)
	require.Equal(t, map[string]string{filepath.Base(path): "whole"}, contents(t, folder))
	require.NoError(t, Replace(path, text("new")))
	require.Equal(t, map[string]string{filepath.Base(path): "new"}, contents(t, folder))
}

// While it is written there is nothing under the name, and after a failure neither
// there nor beside it.
func TestNothingIsHalfMade(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "sheet.txt")
	failed := errors.New("the disk is full")
	err := Write(path, func(w io.Writer) error {
		require.NoError(t, text("half")(w))
		require.NoFileExists(t, path)
		require.Len(t, contents(t, folder), 1, "the part")
		return failed
	})
	require.ErrorIs(t, err, failed)
	require.Empty(t, contents(t, folder))
}

func TestReplaceThatFailsKeepsWhatIsThere(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "sheet.txt")
	require.NoError(t, Write(path, text("old")))
	failed := errors.New("the disk is full")
	require.ErrorIs(t, Replace(path, func(io.Writer) error { return failed }), failed)
	require.Equal(t, map[string]string{"sheet.txt": "old"}, contents(t, folder))
}

// A name that was taken meanwhile stays with the other.
func TestSettleNeverOverwrites(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "copy.db")
	err := Make(path, func(part string) error {
		require.NoError(t, os.WriteFile(part, []byte("copy"), 0o600))
		return os.WriteFile(path, []byte("another"), 0o600)
	})
	require.ErrorIs(t, err, fs.ErrExist)
	require.Equal(t, map[string]string{"copy.db": "another"}, contents(t, folder))
}

func TestErrorsNameTheFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "no", "sheet.txt")
	err := Write(path, text("x"))
	require.ErrorIs(t, err, fs.ErrNotExist)
	require.EqualError(t, Make(path, nil), "no such file or directory")
	require.EqualError(t, err, "write "+path+": no such file or directory")
}
