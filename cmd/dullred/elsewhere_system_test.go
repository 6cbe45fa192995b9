//go:build system

package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// Both programs pass the type checker on the systems that no test here runs on, with all
// that they are made of; of what others wrote only the declarations are looked at. It
// takes seconds, where building them takes a minute; .ci/reach does that.
func TestSystemTypesElsewhere(t *testing.T) {
	t.Parallel()
	for _, system := range []string{"windows", "darwin"} {
		t.Run(system, func(t *testing.T) {
			all := depsOf(t, system, "./cmd/...")
			require.Greater(t, len(all), 100, "the list is read")
			require.Empty(t, faults(t, all))
		})
	}
}

// The same look finds what does not fit.
func TestSystemTypesCanFail(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "a.go"), []byte("package a\n\nfunc f() int { return \"one\" }\n"), 0o600))
	require.Len(t, faults(t, []dep{{ImportPath: "dullred/a", Dir: dir, GoFiles: []string{"a.go"}}}), 1)
}

// faults are what the type checker finds in packages, each of which stands behind those
// that it imports.
func faults(t *testing.T, all []dep) (found []string) {
	t.Helper()
	known := imported{"unsafe": types.Unsafe}
	for _, d := range all {
		if d.ImportPath == "unsafe" {
			continue
		}
		places := token.NewFileSet()
		var files []*ast.File
		for _, name := range d.GoFiles {
			file, err := parser.ParseFile(places, filepath.Join(d.Dir, name), nil, parser.SkipObjectResolution)
			require.NoError(t, err)
			files = append(files, file)
		}
		config := types.Config{Importer: known.through(d.ImportMap), IgnoreFuncBodies: !under(d.ImportPath, "dullred"),
			Sizes: types.SizesFor("gc", "amd64"), Error: func(err error) { found = append(found, err.Error()) }}
		known[d.ImportPath], _ = config.Check(d.ImportPath, places, files, nil) // each error was told
	}
	return found
}

// imported are the packages that were checked.
type imported map[string]*types.Package

// seenAs are imported packages under the names that a package knows them by.
type seenAs struct {
	imported
	names map[string]string
}

func (i imported) through(names map[string]string) seenAs { return seenAs{i, names} }

// Import gives a package that was checked before.
func (r seenAs) Import(path string) (*types.Package, error) {
	if name, is := r.names[path]; is {
		path = name
	}
	if p := r.imported[path]; p != nil {
		return p, nil
	}
	return nil, fmt.Errorf("%s was not checked before", path)
}
