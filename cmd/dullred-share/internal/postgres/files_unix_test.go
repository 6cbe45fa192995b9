//go:build unix

package postgres

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// What is no plain file in the place of one is refused at once, and so is one that is very
// large, wherever it was named: who opened a pipe would wait for ever, and a device has no
// end. Nothing at all in the place of the usual passwords is as good as none.
func TestNoFileIsWaitedFor(t *testing.T) {
	quiet(t)
	home := t.TempDir()
	t.Setenv("HOME", home)
	pipe, big := filepath.Join(home, "pipe"), filepath.Join(home, "big")
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	require.NoError(t, os.WriteFile(big, nil, 0o600))
	require.NoError(t, os.Truncate(big, 1<<40))
	const url = "postgres://bench@localhost/school"
	for _, path := range []string{pipe, big, "/dev/zero", home} {
		for _, key := range []string{"sslrootcert", "sslcert", "sslkey", "passfile"} {
			requireNotPlain(t, url+"?sslmode=verify-full&"+key+"="+path, key)
		}
		for key, env := range map[string]string{"sslrootcert": "PGSSLROOTCERT", "sslkey": "PGSSLKEY", "passfile": "PGPASSFILE", "servicefile": "PGSERVICEFILE"} {
			t.Setenv(env, path)
			requireNotPlain(t, url, key)
			require.NoError(t, os.Unsetenv(env))
		}
		_, err := Config{URL: url, PasswordFile: path}.address()
		require.ErrorIs(t, err, ErrAddress, path)
		require.ErrorContains(t, err, "the password file cannot be used: ")
	}
	require.NoError(t, os.Rename(pipe, filepath.Join(home, ".pgpass")))
	requireNotPlain(t, url, "passfile")
	t.Setenv("PGPASSFILE", os.DevNull)
	_, err := Config{URL: url}.address()
	require.NoError(t, err)
}

func requireNotPlain(t *testing.T, url, key string) {
	t.Helper()
	_, err := Config{URL: url}.address()
	require.EqualError(t, err, "the address cannot be used: the file of the setting "+key+" is no plain file of up to 4 MiB")
}
