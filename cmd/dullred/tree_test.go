package main

import (
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// topLevel is all that stands at the top of the tree beside dot files and what
// .gitignore leaves out.
var topLevel = []string{"alloys", "cmd", "schedule", "testdata", "tui", "go.mod", "go.sum",
	"README.md", "SAFETY.md", "DEVELOPERS.md", "LICENSE"}

func TestTopLevel(t *testing.T) {
	root := moduleRoot(t)
	ignore, err := os.ReadFile(filepath.Join(root, ".gitignore"))
	require.NoError(t, err)
	entries, err := os.ReadDir(root)
	require.NoError(t, err)
	for _, e := range entries {
		require.True(t, belongs(e.Name(), strings.Fields(string(ignore))), "%s has no place at the top of the tree", e.Name())
	}
	require.False(t, belongs("notes.txt", strings.Fields(string(ignore))), "this check can fail")
}

func belongs(name string, ignored []string) bool {
	return slices.Contains(topLevel, name) || name[0] == '.' || slices.ContainsFunc(ignored, func(pattern string) bool {
		ok, _ := path.Match(strings.TrimPrefix(pattern, "/"), name)
		return ok
	})
}
