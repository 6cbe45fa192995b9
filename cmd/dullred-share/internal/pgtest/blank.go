//go:build system && linux

package pgtest

import (
	"fmt"
	"os"
	"path/filepath"
	"sync"
)

// blank is the data of a new server, made with the first of a test program. To copy it
// takes a tenth of what initdb does.
var blank blankData

type blankData struct {
	sync.Mutex
	dir string // "" before the first server
}

// made is where it lies, made as that server does which asks first.
func (b *blankData) made(s *Server) (path string, err error) {
	b.Lock()
	defer b.Unlock()
	if b.dir != "" {
		return filepath.Join(b.dir, "data"), nil
	}
	dir, err := os.MkdirTemp("", "pgblank")
	if err != nil {
		return "", err
	}
	if err := s.Give(dir); err != nil {
		return "", err
	}
	path = filepath.Join(dir, "data")
	cmd := s.command("initdb", "-D", path, "-U", Owner, "--auth=scram-sha-256", "--pwfile="+s.PasswordFile,
		"--locale=C.UTF-8", "--encoding=UTF8", "--no-sync")
	if out, err := cmd.CombinedOutput(); err != nil {
		_ = os.RemoveAll(dir) // in the folder for what may be lost
		return "", fmt.Errorf("initdb: %w: %s", err, out)
	}
	b.dir = dir
	return path, nil
}

func (b *blankData) remove() { _ = os.RemoveAll(b.dir) } // in the folder for what may be lost
