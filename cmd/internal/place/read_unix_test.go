//go:build unix

package place

import (
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// A pipe to which nobody writes is not waited for.
func TestNoPipeIsWaitedFor(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "pipe")
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	_, err := Read(pipe, 1)
	require.ErrorIs(t, err, ErrNotPlain)
	_, err = settled(pipe)
	require.ErrorIs(t, err, ErrNotPlain)
}
