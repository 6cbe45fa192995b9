package postgres

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestPasswordFile(t *testing.T) {
	quiet(t)
	cases := []struct {
		name, content string
		mode          os.FileMode
		want          string
		refused       string
		reason        string
	}{
		{"a line", "anvil\n", 0o600, "anvil", "", "as an editor leaves it"},
		{"no line feed", "anvil", 0o400, "anvil", "", "as printf leaves it"},
		{"of Windows", "anvil\r\n", 0o600, "anvil", "", "as an editor there leaves it"},
		{"with blanks", " an vil \nmore", 0o600, " an vil ", "", "blanks belong to it"},
		{"empty", "\nanvil", 0o600, "", "is empty", "the first line is what counts"},
		{"open to all", "anvil", 0o644, "", "chmod 600", "others would read it"},
		{"open to a group", "anvil", 0o640, "", "chmod 600", "others would read it"},
		{"as long as can be", strings.Repeat("x", MostPassword) + "\r\nmore", 0o600, strings.Repeat("x", MostPassword), "", "the bound is of the line"},
		{"longer", strings.Repeat("x", MostPassword+1), 0o600, "", "its first line is longer than 4096 bytes", "that is another file"},
		{"much longer", strings.Repeat("\x00", 1<<20), 0o600, "", "its first line is longer than 4096 bytes", "that is no text"},
		{"missing", "", 0, "", "no such file", "a mistyped path"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			path := filepath.Join(t.TempDir(), "secret")
			if c.mode != 0 {
				require.NoError(t, os.WriteFile(path, []byte(c.content), 0o600))
				require.NoError(t, os.Chmod(path, c.mode))
			}
			at, err := Config{URL: "postgres://bench@localhost/school", PasswordFile: path}.address()
			if c.refused != "" {
				requireRefused(t, err, c.refused)
				return
			}
			require.NoError(t, err)
			require.Equal(t, c.want, at.conn.Password)
		})
	}
}

// TestMistypedPassword: who gives the password where its file belongs does not see it again.
func TestMistypedPassword(t *testing.T) {
	quiet(t)
	_, err := Config{URL: "postgres://bench@localhost/school", PasswordFile: "anvil"}.address()
	require.ErrorIs(t, err, ErrAddress)
	require.EqualError(t, err, "the password file cannot be used: no such file or directory")
}

// TestUsualPasswordFile is of the one that is looked into when none is named.
func TestUsualPasswordFile(t *testing.T) {
	quiet(t)
	path := filepath.Join(t.TempDir(), "pgpass")
	require.NoError(t, os.WriteFile(path, []byte("*:*:*:bench:anvil\n"), 0o600))
	t.Setenv("PGPASSFILE", path)
	address := func(role string) (*address, error) {
		return Config{URL: "postgres://" + role + "@localhost/school"}.address()
	}
	at, err := address("bench")
	require.NoError(t, err)
	require.Equal(t, "anvil", at.conn.Password)

	require.NoError(t, os.Chmod(path, 0o644))
	_, err = address("bench")
	require.ErrorIs(t, err, ErrAddress)
	require.ErrorContains(t, err, "others may read it; close it to them with chmod 600")
	require.NotContains(t, err.Error(), "anvil")
	_, err = address("another")
	require.NoError(t, err, "it has no password for that role")
	t.Setenv("PGPASSWORD", "tongs")
	at, err = address("bench")
	require.NoError(t, err, "the password comes from elsewhere")
	require.Equal(t, "tongs", at.conn.Password)
}
