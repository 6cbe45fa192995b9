//go:build !linux && !windows

package record

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/require"
)

// A watch on another system would cost SQLite its locks.
func TestWatchUnsupported(t *testing.T) {
	_, err := openNew(t).Watch(func() {})
	require.ErrorIs(t, err, errors.ErrUnsupported)
}
