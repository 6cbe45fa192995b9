//go:build system

package main

import (
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

var goEnv = []string{"GOFLAGS=-buildvcs=false", "CGO_ENABLED=0"}

// The first command of the README, as it stands, opens the bench of the class.
func TestSystemReadmeFirstCommand(t *testing.T) {
	t.Parallel()
	warm := exec.Command("go", "run", "./cmd/dullred", "--help") // so that little is left to be compiled
	warm.Dir, warm.Env = moduleRoot(t), append(os.Environ(), goEnv...)
	out, err := warm.CombinedOutput()
	require.NoError(t, err, string(out))
	first, _, _ := strings.Cut(block(t, readme(t), "sh"), "\n")
	folder := "cd '" + moduleRoot(t) + "' && "
	term := start(t, session{command: []string{"sh", "-c", folder + "exec " + first},
		env: append([]string{"HOME=" + os.Getenv("HOME"), "XDG_CACHE_HOME=" + os.Getenv("XDG_CACHE_HOME")}, goEnv...)})
	term.until("the bench of the class", func(s string) bool { return strings.Contains(s, " DEMO") })
	term.slowly("nnnxx")
	require.Zero(t, term.exitCode())
}
