package postgres

import (
	"cmp"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
)

// mostFile is how large a file that the library reads to its end may be: the certificates
// that a system trusts come to a quarter of a megabyte.
const mostFile = 4 << 20

// settings are those that name such a file: in a URL, in the environment, and else its
// usual place in the home folder.
var settings = []struct{ key, env, usual string }{
	{"sslrootcert", "PGSSLROOTCERT", ".postgresql/root.crt"},
	{"sslcert", "PGSSLCERT", ".postgresql/postgresql.crt"},
	{"sslkey", "PGSSLKEY", ".postgresql/postgresql.key"},
	{"passfile", "PGPASSFILE", ".pgpass"},
	{"servicefile", "PGSERVICEFILE", ".pg_service.conf"},
}

// vetFiles refuses a pipe, which would be waited for, and a file that is endless or very
// large. Whether a file is there and any good is for the library to say.
func vetFiles(text string) error {
	u, err := url.Parse(text)
	if err != nil {
		return err
	}
	home, _ := os.UserHomeDir()
	for _, s := range settings {
		paths := u.Query()[s.key]
		if len(paths) == 0 {
			paths = []string{cmp.Or(os.Getenv(s.env), filepath.Join(home, s.usual))}
		}
		for _, path := range paths {
			if info, err := os.Stat(path); err == nil && path != os.DevNull && (!info.Mode().IsRegular() || info.Size() > mostFile) {
				return fmt.Errorf("%w: the file of the setting %s is no plain file of up to %d MiB", ErrAddress, s.key, mostFile>>20)
			}
		}
	}
	return nil
}
