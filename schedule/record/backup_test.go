package record

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestBackup(t *testing.T) {
	r := openNew(t)
	rows := samples(50)
	require.NoError(t, r.AppendNamed([]Label{{ID: bowl, Class: PieceClass, Text: "Practice Bowl"}}, rows...))
	path := filepath.Join(t.TempDir(), "copy.db")
	require.NoError(t, r.Backup(path))
	require.NoError(t, r.Append(sample()), "the record goes on")
	require.Len(t, contents(t, filepath.Dir(path)), 1, "nothing is left beside the copy")

	copied, err := Open(path)
	require.NoError(t, err)
	defer copied.Close()
	require.ElementsMatch(t, rows, all(t, copied), "the record as it stood then")
	report, err := copied.Check()
	require.NoError(t, err)
	require.Equal(t, Report{Entries: 50, Pieces: 1, Labels: 1}, report)
	require.NoError(t, copied.Append(sample()), "a copy is a record to go on with")
}

// What was forgotten does not come back with a backup.
func TestBackupHoldsNothingForgotten(t *testing.T) {
	r := openNew(t)
	require.NoError(t, r.AppendNamed([]Label{{ID: hand, Class: HandClass, Text: "Wilhelmina"}}, sample()))
	require.NoError(t, r.Forget(hand))
	path := filepath.Join(t.TempDir(), "copy.db")
	require.NoError(t, r.Backup(path))
	whole, err := os.ReadFile(path)
	require.NoError(t, err)
	require.False(t, bytes.Contains(whole, []byte("Wilhelmina")))
	require.True(t, bytes.Contains(whole, []byte("edge held")), "entries can be found so")
}

func TestBackupRefuses(t *testing.T) {
	tests := []struct {
		name, reason, want string
		is                 error
		path               func(t *testing.T, r *Record, folder string) string
	}{
		{"file", "a backup may be all that is left of a record", "file already exists", fs.ErrExist, func(t *testing.T, _ *Record, folder string) string {
			write("the backup of last week")(t, filepath.Join(folder, "copy.db"))
			return filepath.Join(folder, "copy.db")
		}},
		{"empty file", "it is somebody's", "file already exists", fs.ErrExist, func(t *testing.T, _ *Record, folder string) string {
			write("")(t, filepath.Join(folder, "copy.db"))
			return filepath.Join(folder, "copy.db")
		}},
		{"the record itself", "it would be replaced by its copy", "file already exists", fs.ErrExist, func(_ *testing.T, r *Record, _ string) string { return r.Path() }},
		{"folder", "it has no name for a file", "file already exists", fs.ErrExist, func(_ *testing.T, _ *Record, folder string) string { return folder }},
		{"missing folder", "the stick is not in", "no such file or directory", fs.ErrNotExist, func(_ *testing.T, _ *Record, folder string) string {
			return filepath.Join(folder, "stick", "copy.db")
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			r, folder := openNew(t), t.TempDir()
			require.NoError(t, r.Append(sample()))
			path := tt.path(t, r, folder)
			before := contents(t, folder)
			err := r.Backup(path)
			require.ErrorIs(t, err, tt.is, tt.reason)
			require.ErrorContains(t, err, "back up "+r.Path()+": to "+path+": ")
			require.ErrorContains(t, err, tt.want)
			require.Equal(t, before, contents(t, folder), "what is there is as it was")
			require.Len(t, all(t, r), 1)
		})
	}
}

// A backup holds whole transactions, while another program appends as fast as it can.
func TestBackupWhileAnotherAppends(t *testing.T) {
	r := openNew(t)
	before := samples(200)
	require.NoError(t, r.Append(before...))
	done := make(chan error)
	go func() {
		_, err := runChild(appendSome, r.Path(), "500")
		done <- err
	}()
	for running := true; running; {
		path := filepath.Join(t.TempDir(), "copy.db")
		require.NoError(t, r.Backup(path))
		requireWhole(t, path, idsOf(before))
		select {
		case err := <-done:
			require.NoError(t, err)
			running = false
		default:
		}
	}
	path := filepath.Join(t.TempDir(), "last.db")
	require.NoError(t, r.Backup(path))
	copied, err := Open(path)
	require.NoError(t, err)
	defer copied.Close()
	require.Len(t, all(t, copied), 700)
}
