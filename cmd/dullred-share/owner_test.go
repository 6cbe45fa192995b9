package main

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/postgres"
)

// endless is input that goes on for ever.
type endless struct{}

func (endless) Read(b []byte) (int, error) {
	for i := range b {
		b[i] = 'x'
	}
	return len(b), nil
}

// The password of a new role is one line, wherever it comes from, of which no more is read
// than a password can be long.
func TestPasswordOfANewRole(t *testing.T) {
	file := filepath.Join(t.TempDir(), "anvil")
	require.NoError(t, os.WriteFile(file, []byte("tongs\r\nmore"), 0o600))
	cases := []struct {
		name, file string
		in         io.Reader
		want, says string
		reason     string
	}{
		{"a file", file, nil, "tongs", "", "its first line"},
		{"typed", "", strings.NewReader("tongs\n"), "tongs", "", "as it is piped in"},
		{"nothing typed", "", strings.NewReader("\n"), "", "is empty", "no password is no safety"},
		{"without an end", "", endless{}, "", "its first line is longer than 4096 bytes", "it would fill the memory"},
		{"no file", filepath.Dir(file), nil, "", "is no plain file that can be read", "nothing is waited for"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			got, err := (&app{in: c.in}).password(c.file)
			require.Equal(t, c.want, got)
			if c.says == "" {
				require.NoError(t, err)
				return
			}
			require.ErrorContains(t, err, c.says)
			require.NotContains(t, err.Error(), "anvil")
		})
	}
	require.Error(t, (&app{in: endless{}}).agree(consent{name: "spoon", ask: io.Discard}, "It is erased."))
	require.Equal(t, 4096, postgres.MostPassword, "as the sentence says")
}
