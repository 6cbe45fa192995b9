//go:build system && linux

package record

import (
	"os/exec"
	"testing"

	"github.com/stretchr/testify/require"
)

// A disk that takes 300 ms for every sync: the commit can be seen that long
// after the last event, and is seen all the same.
//
// Outside check (reference): strace: a record on a disk that takes 300 ms for every sync.
func TestSystemWatchOnASlowDisk(t *testing.T) {
	r, rung := watched(t)
	write := child(appendSome, r.Path(), "1")
	slowly := exec.Command("strace", "-f", "-qq", "-o", "/dev/null",
		"-e", "trace=fsync,fdatasync", "-e", "inject=fsync,fdatasync:delay_exit=300000", write.Path)
	slowly.Env = write.Env
	require.NoError(t, slowly.Start())
	awaitChange(t, r, rung, "the commit came after the event")
	require.NoError(t, slowly.Wait())
}
