package published

import (
	"fmt"
	"go/ast"
	"go/doc/comment"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Kinds are what a check can be held against outside the project, in the order of the page.
var Kinds = []struct{ Name, What string }{
	{"standard", "a standard or a law"},
	{"handbook", "a handbook, a paper or a maker's printed figures"},
	{"worked example", "a printed computation, done again by our code"},
	{"reference", "another program or library, which is run or whose figures are read"},
	{"common practice", "what the trade does, printed by nobody with authority"},
}

// Check is a test that compares with something outside the project. The comment of the
// test says so, in a line for each:
//
//	Outside check (standard): gauges of ASTM B258.
type Check struct {
	Kind, What   string
	Test, Folder string
	System       bool // carries the build tag system
}

// outsideLine is what the comment of a test says of its outside check.
var outsideLine = regexp.MustCompile(`^Outside check \(([a-z ]+)\): (.+)$`)

// Tests are the test functions under a folder, and what they and the functions around
// them are made of.
type Tests struct {
	Checks []Check
	funcs  []Func
	names  map[string][]Func
}

// byName finds a function by its folder and name.
func (all *Tests) byName() map[string][]Func {
	if all.names == nil {
		all.names = map[string][]Func{}
		for _, f := range all.funcs {
			all.names[f.Folder+" "+f.Name] = append(all.names[f.Folder+" "+f.Name], f)
		}
	}
	return all.names
}

// Func is a function of a test file.
type Func struct {
	Folder, Name, Text string // with its comment
	System             bool
	Literals, Uses     []string
}

// ReadTests parses every test file under the root of the tree.
func ReadTests(t *testing.T, root string) *Tests {
	t.Helper()
	var all Tests
	require.NoError(t, filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		if err == nil && entry.IsDir() && entry.Name() == ".git" {
			return filepath.SkipDir
		}
		if err == nil && strings.HasSuffix(path, "_test.go") {
			all.read(t, root, path)
		}
		return err
	}))
	return &all
}

func (all *Tests) read(t *testing.T, root, path string) {
	t.Helper()
	files := token.NewFileSet()
	file, err := parser.ParseFile(files, path, nil, parser.ParseComments)
	require.NoError(t, err)
	folder, err := filepath.Rel(root, filepath.Dir(path))
	require.NoError(t, err)
	for _, d := range file.Decls {
		f := Func{Folder: filepath.ToSlash(folder), System: strings.HasSuffix(path, "_system_test.go")}
		if f.take(d) {
			all.funcs = append(all.funcs, f)
			all.Checks = append(all.Checks, f.checks(t)...)
		}
	}
}

// take fills in what a declaration is made of, and says whether it has a name.
func (f *Func) take(d ast.Decl) bool {
	switch d := d.(type) {
	case *ast.FuncDecl:
		f.Name, f.Text = d.Name.Name, d.Doc.Text()
	case *ast.GenDecl:
		f.Text = d.Doc.Text()
		for _, s := range d.Specs {
			if v, ok := s.(*ast.ValueSpec); ok {
				f.Name = v.Names[0].Name
			}
		}
	}
	ast.Inspect(d, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.BasicLit:
			f.Literals = append(f.Literals, strings.Trim(n.Value, "\"`"))
		case *ast.Ident:
			f.Uses = append(f.Uses, n.Name)
		}
		return true
	})
	return f.Name != ""
}

// checks are the outside checks that the comment of a function names.
func (f Func) checks(t *testing.T) (out []Check) {
	t.Helper()
	for _, block := range new(comment.Parser).Parse(f.Text).Content {
		paragraph, ok := block.(*comment.Paragraph)
		if !ok {
			continue
		}
		for _, line := range outsideLines(paragraph) {
			m := outsideLine.FindStringSubmatch(line)
			require.NotNil(t, m, "%s of %s: %q", f.Name, f.Folder, line)
			require.True(t, IsKind(m[1]), "%s of %s: no such kind as %q", f.Name, f.Folder, m[1])
			require.True(t, f.IsTest(), "%s of %s is no test", f.Name, f.Folder)
			out = append(out, Check{m[1], m[2], f.Name, f.Folder, f.System})
		}
	}
	return out
}

// outsideLines are the statements of a paragraph, which may go on over several lines.
func outsideLines(p *comment.Paragraph) (out []string) {
	var text strings.Builder
	for _, part := range p.Text {
		switch part := part.(type) {
		case comment.Plain:
			text.WriteString(string(part))
		case comment.Italic:
			text.WriteString(string(part))
		}
	}
	for part := range strings.SplitSeq(strings.Join(strings.Fields(text.String()), " "), "Outside check ") {
		if part = strings.TrimSpace(part); strings.HasPrefix(part, "(") {
			out = append(out, "Outside check "+part)
		}
	}
	return out
}

// IsKind reports whether checks are of such a kind.
func IsKind(name string) bool {
	return slices.ContainsFunc(Kinds, func(k struct{ Name, What string }) bool { return k.Name == name })
}

// IsTest reports whether go test runs it.
func (f Func) IsTest() bool { return testName.MatchString(f.Name) }

var testName = regexp.MustCompile(`^(Test|Fuzz)[A-Z]`)

// Marked reports whether a test says what it is checked by.
func (all *Tests) Marked(folder, test string) bool {
	return slices.ContainsFunc(all.Checks, func(c Check) bool { return c.Folder == folder && c.Test == test })
}

// Page is the list of all checks by kind.
func (all *Tests) Page() string {
	var b strings.Builder
	for _, k := range Kinds {
		fmt.Fprintf(&b, "\n### By %s: %s\n\n| what | test | in |\n|---|---|---|\n", k.Name, k.What)
		var lines []string
		for _, c := range all.Checks {
			if c.Kind == k.Name {
				lines = append(lines, fmt.Sprintf("| %s | `%s`%s | %s |\n", Cell(strings.TrimSuffix(c.What, ".")), c.Test, map[bool]string{true: " (system)"}[c.System], c.Folder))
			}
		}
		slices.Sort(lines)
		b.WriteString(strings.Join(lines, ""))
	}
	return b.String()
}
