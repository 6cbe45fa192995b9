package record

import (
	"testing"

	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"
	"golang.org/x/sys/unix"
)

// When the system has no watch to spare, the caller is told and nothing is left.
func TestNoWatchToSpare(t *testing.T) {
	r := openNew(t)
	defer goleak.VerifyNone(t, goleak.IgnoreCurrent())
	var limit unix.Rlimit
	require.NoError(t, unix.Getrlimit(unix.RLIMIT_NOFILE, &limit))
	none := limit
	none.Cur = 3 // those of the standard streams
	require.NoError(t, unix.Setrlimit(unix.RLIMIT_NOFILE, &none))
	stop, err := r.Watch(func() {})
	require.NoError(t, unix.Setrlimit(unix.RLIMIT_NOFILE, &limit))
	require.ErrorIs(t, err, unix.EMFILE)
	require.ErrorContains(t, err, "watch "+r.Path()+": ")
	require.Nil(t, stop)
	require.NoError(t, r.Append(sample()))
}

// A watch must not cost the record its locks, neither while it lasts nor after.
func TestWatchKeepsTheLocks(t *testing.T) {
	r := openNew(t)
	require.NoError(t, r.Append(sample()))
	held := locks(t, r.Path())
	require.Positive(t, held)
	stop, err := r.Watch(func() {})
	require.NoError(t, err)
	require.Equal(t, held, locks(t, r.Path()))
	require.NoError(t, stop())
	require.Equal(t, held, locks(t, r.Path()))
}
