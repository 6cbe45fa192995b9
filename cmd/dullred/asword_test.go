package main

import (
	"os/exec"
	"testing"

	"github.com/stretchr/testify/require"
)

// What is shown to be typed is one word of a shell, the same.
func TestAsWord(t *testing.T) {
	for name, want := range map[string]string{
		"spoon": "spoon", "spoon-2": "spoon-2", "löffel": "löffel",
		"my spoon": `"my spoon"`, "smith's": `"smith's"`, "smith's $": `'smith'\''s $'`, "": "''", "a$b": "'a$b'", "#1": `"#1"`, "no `x`": "'no `x`'",
	} {
		require.Equal(t, want, asWord(name))
		if shell, err := exec.LookPath("sh"); err == nil {
			out, err := exec.Command(shell, "-c", "printf %s "+asWord(name)).Output()
			require.NoError(t, err)
			require.Equal(t, name, string(out))
		}
	}
}
