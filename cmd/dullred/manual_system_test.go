//go:build system

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/built"
)

// groff reads every page of both programs without a warning, and man shows one.
//
// Outside check (reference): groff and man: every page of the manual is read without a warning.
func TestSystemManualIsRead(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	for _, program := range []string{"dullred", "dullred-share"} {
		out, err := exec.Command(built.Program(t, "dullred/cmd/"+program), "manual", "--into", folder).CombinedOutput()
		require.NoError(t, err, string(out))
	}
	pages, err := filepath.Glob(filepath.Join(folder, "*.1"))
	require.NoError(t, err)
	require.Greater(t, len(pages), 80)
	said, err := exec.Command("groff", append([]string{"-man", "-ww", "-z", "-Tutf8"}, pages...)...).CombinedOutput()
	require.NoError(t, err, string(said))
	require.Empty(t, string(said))

	bad := filepath.Join(folder, "bad.1")
	require.NoError(t, os.WriteFile(bad, []byte(".TH BAD 1\n.SH NAME\nbad \\[nosuchletter] \\*[nosuchstring]\n"), 0o600))
	said, _ = exec.Command("groff", "-man", "-ww", "-z", "-Tutf8", bad).CombinedOutput() // its words count
	require.NotEmpty(t, string(said), "groff warns of a page that is wrong")

	shown := exec.Command("man", "-l", filepath.Join(folder, "dullred-heat-begin.1"))
	shown.Env = append(os.Environ(), "MANWIDTH=80", "LC_ALL=C.UTF-8", "MANPAGER=cat", "TERM=dumb")
	text, err := shown.Output()
	require.NoError(t, err)
	require.Contains(t, string(text), "the piece is in the flame")
	require.Contains(t, string(text), "--temp")
}
