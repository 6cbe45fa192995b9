package postgres

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"dullred/cmd/internal/place"
)

// MostPassword is how long a password may be, in bytes.
const MostPassword = 4096

var errLongPassword = fmt.Errorf("its first line is longer than %d bytes", MostPassword)

// FirstLine reads a password: the first line, without its end. No more is read than a
// password can be long.
func FirstLine(in io.Reader) (string, error) {
	const end = "\r\n"
	line, err := bufio.NewReader(io.LimitReader(in, MostPassword+int64(len(end)))).ReadString('\n')
	if err != nil && !errors.Is(err, io.EOF) {
		return "", err
	}
	line = strings.TrimSuffix(strings.TrimSuffix(line, "\n"), "\r")
	if len(line) > MostPassword {
		return "", errLongPassword
	}
	return line, nil
}

// secretFault is what is wrong with a file that a password is in. It never repeats what
// was given as its name, which may be the password.
type secretFault string

func (f secretFault) Error() string { return "the password file cannot be used: " + string(f) }

// Unwrap makes it an ErrAddress.
func (secretFault) Unwrap() error { return ErrAddress }

// readPassword is the first line of a file that nobody else may read.
func readPassword(path string) (string, error) {
	if err := secret(path); err != nil {
		return "", err
	}
	file, err := place.Open(path)
	if err != nil {
		return "", secretFault(reason(err))
	}
	defer file.Close()
	line, err := FirstLine(file)
	if err != nil {
		return "", secretFault(reason(err))
	}
	if line == "" {
		return "", secretFault(fmt.Sprintf("the first line of %.200q is empty", path))
	}
	return line, nil
}

// secret refuses a file that others may read. Windows has no such bits in the mode of a
// file.
func secret(path string) error {
	info, err := os.Stat(path)
	if err != nil {
		return secretFault(reason(err))
	}
	if runtime.GOOS != "windows" && info.Mode().Perm()&0o077 != 0 {
		return secretFault(fmt.Sprintf("others may read it; close it to them with chmod 600 %.200q", path))
	}
	return nil
}

// reason is an error of a file without the name of the file.
func reason(err error) string {
	if p, ok := errors.AsType[*fs.PathError](err); ok {
		return p.Err.Error()
	}
	return err.Error()
}

// vetUsual refuses the usual file of passwords if the password was found there, and
// others may read it: other programs pass such a file over.
func vetUsual(password string) error {
	if password == "" || os.Getenv("PGPASSWORD") != "" || runtime.GOOS == "windows" {
		return nil
	}
	path := os.Getenv("PGPASSFILE")
	if home, err := os.UserHomeDir(); path == "" && err == nil {
		path = filepath.Join(home, ".pgpass")
	}
	if _, err := os.Stat(path); err != nil {
		return nil // it came from elsewhere
	}
	return secret(path)
}
