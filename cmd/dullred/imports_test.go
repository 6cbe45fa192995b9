package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// house is one package of ours, by its folder. A pure house computes: it reads
// no file, no clock and no environment, opens no record and draws no screen.
type house struct {
	dir       string
	mayImport []string // houses of ours
	pure      bool
}

// houses is who may import whom. Some are not built yet; every one that is
// built is here.
var houses = []house{
	{dir: "alloys/unit", pure: true},
	{dir: "alloys", pure: true, mayImport: []string{"alloys/unit"}},

	{dir: "schedule/coldwork", pure: true, mayImport: []string{"alloys", "alloys/unit"}},
	{dir: "schedule/heat", pure: true, mayImport: []string{"alloys", "alloys/unit"}},
	{dir: "schedule/stock", pure: true, mayImport: []string{"alloys", "alloys/unit"}},
	{dir: "schedule", pure: true, mayImport: []string{"schedule/coldwork", "schedule/heat", "schedule/split", "schedule/stock", "alloys", "alloys/unit"}},
	{dir: "schedule/drill", pure: true, mayImport: []string{"schedule", "schedule/coldwork", "alloys", "alloys/unit"}},
	{dir: "schedule/class", pure: true, mayImport: []string{"schedule", "schedule/coldwork", "alloys", "alloys/unit"}},
	{dir: "schedule/demo", pure: true, mayImport: []string{"schedule", "schedule/coldwork", "schedule/stock", "alloys/unit"}},

	{dir: "schedule/totals", pure: true, mayImport: []string{"schedule", "alloys/unit"}},

	{dir: "schedule/split", pure: true, mayImport: []string{"alloys/unit"}},
	{dir: "schedule/trial", pure: true, mayImport: []string{"schedule/split", "schedule/coldwork", "alloys/unit"}},

	{dir: "schedule/internal/published"},
	{dir: "schedule/internal/pdfread"},
	{dir: "schedule/newfile"},
	{dir: "schedule/record", mayImport: []string{"schedule/newfile"}},
	{dir: "schedule/probe", mayImport: []string{"alloys/unit"}},
	{dir: "schedule/alert", pure: true, mayImport: []string{"schedule", "alloys/unit"}},
	{dir: "schedule/alert/desktop"},
	{dir: "schedule/exchange", pure: true, mayImport: []string{"schedule"}},
	{dir: "schedule/paper", pure: true},
	{dir: "schedule/picture", pure: true, mayImport: []string{"schedule", "schedule/coldwork", "schedule/heat", "schedule/probe", "schedule/trial", "alloys", "alloys/unit"}},
	{dir: "schedule/benchcard", pure: true, mayImport: []string{"schedule", "schedule/heat", "schedule/paper", "alloys", "alloys/unit"}},
	{dir: "schedule/sheet", pure: true, mayImport: []string{"schedule", "schedule/coldwork", "schedule/heat", "schedule/paper", "alloys", "alloys/unit"}},

	{dir: "tui/view", pure: true, mayImport: []string{"schedule", "schedule/coldwork", "schedule/heat", "alloys", "alloys/unit"}},
	{dir: "tui/term"},
	{dir: "tui", mayImport: []string{"tui/view", "tui/term", "schedule", "schedule/alert", "schedule/probe", "schedule/record", "schedule/coldwork", "schedule/heat",
		"schedule/stock", "schedule/drill", "schedule/picture", "alloys", "alloys/unit"}},
	{dir: "cmd/dullred", mayImport: []string{"alloys", "alloys/unit", "schedule", "schedule/coldwork", "schedule/heat",
		"schedule/stock", "schedule/demo", "schedule/newfile", "schedule/record", "schedule/probe", "schedule/alert", "schedule/alert/desktop", "schedule/exchange", "schedule/sheet", "schedule/benchcard", "schedule/picture", "schedule/totals", "schedule/split", "schedule/trial", "schedule/drill", "schedule/class", "schedule/share", "cmd/internal/manual", "cmd/internal/place", "cmd/internal/say", "tui", "tui/term"}},

	{dir: "schedule/share", mayImport: []string{"schedule", "schedule/exchange", "schedule/record"}},
	{dir: "schedule/share/sharetest", mayImport: []string{"schedule", "schedule/exchange", "schedule/record", "schedule/share"}},
	{dir: "schedule/board", pure: true, mayImport: []string{"schedule", "schedule/alert", "schedule/coldwork"}},
	{dir: "cmd/internal/built"},
	{dir: "cmd/internal/manual"},
	{dir: "cmd/internal/place"},
	{dir: "cmd/internal/years", pure: true, mayImport: []string{"schedule", "schedule/coldwork", "alloys/unit"}},
	{dir: "cmd/internal/say"},
	{dir: "cmd/dullred-share", mayImport: []string{"schedule/record", "schedule/share", "cmd/internal/manual", "cmd/internal/place", "cmd/internal/say", "cmd/dullred-share/internal/postgres", "cmd/dullred-share/internal/board"}},
	{dir: "cmd/dullred-share/internal/board", mayImport: []string{"schedule", "schedule/board", "schedule/share", "cmd/internal/place", "cmd/internal/say"}},
	{dir: "cmd/dullred-share/internal/postgres", mayImport: []string{"schedule", "schedule/share", "schedule/exchange", "cmd/internal/place", "cmd/internal/say"}},
	{dir: "cmd/dullred-share/internal/pgtest", mayImport: []string{"cmd/dullred-share/internal/postgres"}},
}

// neverPure is what a pure house does without, with all that is under it.
var neverPure = []string{"os", "io/ioutil", "syscall", "database/sql", "modernc.org/sqlite",
	"github.com/gdamore/tcell", "github.com/rivo/tview"}

// network is for the house that shares a record and for no other. Addresses
// alone, such as net/url, are not the network.
var network = []string{"net", "net/http"}

const sharing = "cmd/dullred-share"

// dials reports whether a house may go out: the one that shares, and what is in it.
func dials(dir string) bool { return under(dir, sharing) }

// neverCalled are the functions by which a pure house would read the clock or
// the environment.
var neverCalled = []string{"time.Now", "time.Since", "time.Until", "time.After", "time.AfterFunc", "time.Tick",
	"time.NewTimer", "time.NewTicker", "time.Sleep", "os.Getenv", "os.LookupEnv", "os.Environ"}

// source is one file that is not a test.
type source struct {
	dir     string // folder in the module, with slashes
	imports []string
	calls   []string // selectors on imported packages, such as time.Now
}

func TestImports(t *testing.T) {
	seen := map[string]bool{}
	for name, file := range sources(t) {
		seen[file.dir] = true
		require.Empty(t, breaches(file), name)
	}
	require.True(t, seen["schedule"] && seen["cmd/dullred"], "the files of the module are not found")
}

func TestImportsOfAHouse(t *testing.T) {
	cases := []struct {
		name   string
		file   source
		breach string // empty is allowed
		reason string
	}{
		{"curves use units", source{dir: "alloys", imports: []string{"dullred/alloys/unit", "embed"}}, "", "the way the picture points"},
		{"units use curves", source{dir: "alloys/unit", imports: []string{"dullred/alloys"}}, "may not import dullred/alloys", "against the picture"},
		{"the core reads a file", source{dir: "schedule", imports: []string{"os"}}, "is pure and may not import os", "rows come from outside"},
		{"the core runs a program", source{dir: "schedule", imports: []string{"os/exec"}}, "is pure and may not import os/exec", "what is under os is os"},
		{"the core opens the record", source{dir: "schedule", imports: []string{"dullred/schedule/record"}}, "may not import", "the store knows rows, the core entries"},
		{"the core opens a database", source{dir: "schedule/coldwork", imports: []string{"modernc.org/sqlite/lib"}}, "is pure and may not", "whichever part of it"},
		{"the core draws", source{dir: "schedule/heat", imports: []string{"github.com/gdamore/tcell/v2"}}, "is pure and may not", "whichever version of it"},
		{"the core sorts", source{dir: "schedule", imports: []string{"slices", "time"}}, "", "the standard library without machinery is free"},
		{"the core asks the clock", source{dir: "schedule", calls: []string{"time.Now"}}, "calls time.Now", "the moment comes in as an argument"},
		{"the command asks the clock", source{dir: "cmd/dullred", imports: []string{"os"}, calls: []string{"time.Now"}}, "", "somebody must"},
		{"the record names a file", source{dir: "schedule/record", imports: []string{"net/url", "os"}}, "", "net/url is text"},
		{"the record goes out", source{dir: "schedule/record", imports: []string{"net/http"}}, "only cmd/dullred-share", "the bench is offline"},
		{"the command goes out", source{dir: "cmd/dullred", imports: []string{"net"}}, "only cmd/dullred-share", "the bench is offline"},
		{"sharing goes out", source{dir: sharing, imports: []string{"net/http", "dullred/schedule/record"}}, "", "it is for that"},
		{"the carrier goes out", source{dir: "schedule/share", imports: []string{"net"}}, "only cmd/dullred-share", "what carrying means needs no link"},
		{"the store of sharing goes out", source{dir: sharing + "/internal/postgres", imports: []string{"net"}}, "", "it is part of the house that shares"},
		{"the bench reads what a carrier left", source{dir: "cmd/dullred", imports: []string{"dullred/schedule/share"}}, "", "a file beside the record"},
		{"the bench opens the shared record", source{dir: "cmd/dullred", imports: []string{"dullred/cmd/dullred-share/internal/postgres"}}, "may not import", "that is the other program"},
		{"sharing draws", source{dir: sharing, imports: []string{"dullred/tui"}}, "may not import dullred/tui", "the screen is for cmd/dullred"},
		{"an alert draws", source{dir: "schedule/alert", imports: []string{"dullred/tui"}}, "may not import dullred/tui", "the screen is for cmd/dullred"},
		{"a house nobody drew", source{dir: "schedule/shed"}, "is not in the picture", "every house is in the table"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			got := strings.Join(breaches(c.file), "; ")
			if c.breach == "" {
				require.Empty(t, got, c.reason)
				return
			}
			require.Contains(t, got, c.breach, c.reason)
		})
	}
}

// breaches says how a file goes against the picture.
func breaches(f source) (all []string) {
	i := slices.IndexFunc(houses, func(h house) bool { return h.dir == f.dir })
	if i < 0 {
		return []string{f.dir + " is not in the picture"}
	}
	h := houses[i]
	for _, imported := range f.imports {
		ours, isOurs := strings.CutPrefix(imported, "dullred/")
		switch {
		case isOurs && !slices.Contains(h.mayImport, ours):
			all = append(all, h.dir+" may not import "+imported)
		case h.pure && slices.ContainsFunc(neverPure, func(never string) bool { return under(imported, never) }):
			all = append(all, h.dir+" is pure and may not import "+imported)
		case !dials(h.dir) && slices.Contains(network, imported):
			all = append(all, h.dir+" may not import "+imported+", only "+sharing+" may")
		}
	}
	for _, call := range f.calls {
		if h.pure && slices.Contains(neverCalled, call) {
			all = append(all, h.dir+" is pure and calls "+call)
		}
	}
	return all
}

func under(imported, parent string) bool {
	return imported == parent || strings.HasPrefix(imported, parent+"/")
}

// TestHousesAreDrawnOnce keeps the table itself in order.
func TestHousesAreDrawnOnce(t *testing.T) {
	drawn := map[string]bool{}
	for _, h := range houses {
		require.False(t, drawn[h.dir], "%s is drawn twice", h.dir)
		drawn[h.dir] = true
	}
	for _, h := range houses {
		for _, other := range h.mayImport {
			require.True(t, drawn[other], "%s imports %s, which is not drawn", h.dir, other)
		}
	}
}

// TestPureHousesAsTheRunReadsThem: .ci/run takes from the table, line by line, whose
// tests it runs for another processor.
func TestPureHousesAsTheRunReadsThem(t *testing.T) {
	text, err := os.ReadFile("imports_test.go")
	require.NoError(t, err)
	var read, drawn []string
	for _, m := range regexp.MustCompile(`(?m)^\s*\{dir: "([^"]*)", pure: true`).FindAllSubmatch(text, -1) {
		read = append(read, string(m[1]))
	}
	for _, h := range houses {
		if h.pure {
			drawn = append(drawn, h.dir)
		}
	}
	require.Equal(t, drawn, read, "pure stands right after the folder")
}

// sources are the files of the module that are not tests, by path.
func sources(t *testing.T) map[string]source {
	t.Helper()
	root, files := moduleRoot(t), map[string]source{}
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && name != root && (d.Name()[0] == '.' || d.Name() == "testdata"):
			return fs.SkipDir
		case d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go"):
			return nil
		}
		in, err := filepath.Rel(root, name)
		if err == nil {
			in = filepath.ToSlash(in)
			files[in], err = read(name, path.Dir(in))
		}
		return err
	})
	require.NoError(t, err)
	return files
}

func read(name, dir string) (source, error) {
	tree, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
	if err != nil {
		return source{}, err
	}
	f := source{dir: dir}
	known := map[string]string{} // package name in the file -> last part of its path
	for _, i := range tree.Imports {
		imported, err := strconv.Unquote(i.Path.Value)
		if err != nil {
			return source{}, err
		}
		f.imports = append(f.imports, imported)
		name := path.Base(imported)
		if i.Name != nil {
			known[i.Name.Name] = name
			continue
		}
		known[name] = name
	}
	f.calls = selectors(tree, known)
	return f, nil
}

// selectors are the names a file takes from packages, whatever it calls them.
func selectors(tree *ast.File, known map[string]string) []string {
	found := map[string]bool{}
	ast.Inspect(tree, func(n ast.Node) bool {
		s, ok := n.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		if x, ok := s.X.(*ast.Ident); ok && known[x.Name] != "" {
			found[known[x.Name]+"."+s.Sel.Name] = true
		}
		return true
	})
	return slices.Sorted(maps.Keys(found))
}

func TestSelectorsSeeThroughARename(t *testing.T) {
	name := filepath.Join(t.TempDir(), "clock.go")
	require.NoError(t, os.WriteFile(name, []byte("package p\nimport clock \"time\"\nvar now = clock.Now\n"), 0o600))
	f, err := read(name, "schedule")
	require.NoError(t, err)
	require.Equal(t, []string{"time.Now"}, f.calls)
}

// moduleRoot is the folder with go.mod, looked for upwards.
func moduleRoot(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	require.NoError(t, err)
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		up := filepath.Dir(dir)
		require.NotEqual(t, dir, up, "no go.mod above the tests")
		dir = up
	}
}
