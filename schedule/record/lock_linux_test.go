package record

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// locks counts the locks this process holds on a file, as the kernel lists them.
func locks(t *testing.T, path string) int {
	t.Helper()
	info, err := os.Stat(path)
	require.NoError(t, err)
	owner, file := fmt.Sprintf(" %d ", os.Getpid()), fmt.Sprintf(":%d ", info.Sys().(*syscall.Stat_t).Ino)
	var counts []int
	for range 21 { // a list that others change while it is read may lack a line, or have one twice
		list, err := os.ReadFile("/proc/locks")
		require.NoError(t, err)
		n := 0
		for line := range strings.Lines(string(list)) {
			if strings.Contains(line, owner) && strings.Contains(line, file) {
				n++
			}
		}
		counts = append(counts, n)
	}
	slices.Sort(counts)
	return counts[len(counts)/2]
}

// A second Record on the same file must not cost the first one its locks:
// another program could then take the log away from under it.
func TestTwiceInOneProcess(t *testing.T) {
	r := openNew(t)
	first, second, last := sample(), sample(), sample()
	require.NoError(t, r.Append(first))
	held := locks(t, r.Path())
	require.Positive(t, held)
	again, err := Open(r.Path())
	require.NoError(t, err)
	require.GreaterOrEqual(t, locks(t, r.Path()), held)
	require.NoError(t, again.Append(second))
	require.NoError(t, again.Close())
	require.Equal(t, held, locks(t, r.Path()))
	require.NoError(t, r.Append(last))
	require.ElementsMatch(t, []Row{first, second, last}, all(t, r))
}
