// Package built gives tests the programs of this module as they are delivered, each of
// them built once for all tests of a package:
//
//	out, err := exec.Command(built.Program(t, "dullred/cmd/dullred"), "safety").Output()
package built

import (
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"runtime"
	"strconv"
	"sync"
	"testing"
)

// shelf holds what was built, by what it was built of.
var shelf struct {
	sync.Mutex
	dir      string // "" while nothing was built
	programs map[string]string
}

// Program is the path of a program, built of a package or of a single file. Its file is
// called as the package is. The test ends where it does not compile.
func Program(tb testing.TB, of string) string {
	tb.Helper()
	shelf.Lock()
	defer shelf.Unlock()
	if program, there := shelf.programs[of]; there {
		return program
	}
	if shelf.dir == "" {
		dir, err := os.MkdirTemp("", "built")
		if err != nil {
			tb.Fatal(err)
		}
		shelf.dir, shelf.programs = dir, map[string]string{}
	}
	program := filepath.Join(shelf.dir, strconv.Itoa(len(shelf.programs)), path.Base(filepath.ToSlash(of)))
	if runtime.GOOS == "windows" {
		program += ".exe"
	}
	cmd := exec.Command("go", "build", "-o", program, of)
	cmd.Env = append(os.Environ(), "CGO_ENABLED=0", "GOFLAGS=-buildvcs=false")
	if out, err := cmd.CombinedOutput(); err != nil {
		tb.Fatalf("build %s: %v\n%s", of, err, out)
	}
	shelf.programs[of] = program
	return program
}

// Remove takes away what was built. TestMain calls it when the tests are over.
func Remove() {
	shelf.Lock()
	defer shelf.Unlock()
	_ = os.RemoveAll(shelf.dir) // what stays lies in the folder for temporary files
	shelf.dir, shelf.programs = "", nil
}
