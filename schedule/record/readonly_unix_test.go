//go:build unix

package record

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// The super-user may write everywhere, so for him the record is opened by a
// child process that runs as nobody.
func TestReadOnly(t *testing.T) {
	tests := []struct {
		name, reason string
		folder, file os.FileMode // 0 is no file
	}{
		{"new record in a read-only folder", "the file cannot be made", 0o555, 0},
		{"record in a read-only folder", "the log cannot be made", 0o555, 0o666},
		{"read-only record", "nothing can be appended", 0o777, 0o444},
		{"unreadable record", "nothing can be read", 0o777, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			path := closed(t, sample())
			if tt.name == "new record in a read-only folder" {
				require.NoError(t, os.Remove(path))
			} else {
				require.NoError(t, os.Chmod(path, tt.file))
			}
			folder := filepath.Dir(path)
			require.NoError(t, os.Chmod(filepath.Dir(folder), 0o755))
			require.NoError(t, os.Chmod(folder, tt.folder))
			t.Cleanup(func() { _ = os.Chmod(folder, 0o755) })

			require.Equal(t, "open "+path+": the file or its folder cannot be written\n", openAsNobody(t, path))
			files, err := os.ReadDir(folder)
			require.NoError(t, err)
			require.LessOrEqual(t, len(files), 1, "files were left beside the record")
		})
	}
}

// openAsNobody opens the record without the super-user's rights and returns the complaint.
func openAsNobody(t *testing.T, path string) string {
	t.Helper()
	cmd := child(openOnly, path, "")
	if os.Getuid() == 0 {
		cmd.Path = "/proc/self/exe" // the test program may lie in a folder closed to nobody
		cmd.Dir = "/"
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
	}
	_, err := cmd.Output()
	exit, ok := errors.AsType[*exec.ExitError](err)
	require.True(t, ok, "opened after all, or did not start: %v", err)
	return string(exit.Stderr)
}
