package published

import (
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const root = "../../../" // the top of the tree, from here

// authorities are who prints what a test can be held against.
var authorities = regexp.MustCompile(`ASTM|\bISO \d|WCAG|NIST|NIOSH|OSHA|\bCFR\b|MIL-STD|HDBK|EEMUA|\bIEC\b|CODATA|` +
	`Dieter|Callister|Askeland|Incropera|Holman|\bRFC \d|ITS-90|[Hh]andbook|CIE 1|NUREG|common practice`)

// references are the programs and libraries that a test compares with, as the tests name
// them, and what the page calls each.
var references = map[string]string{
	"units": "units (GNU)", "debianPython": "Python", "g++": "libelemental", "pdfinfo": "poppler", "pdftotext": "poppler",
	"jsonschema": "jsonschema", "integrate": "gonum", "quad": "gonum", "distuv": "gonum",
}

// installed is what each package that .ci/run installs is for: what the page calls it, or
// why nothing is compared with it.
var installed = map[string]string{
	"libelemental-dev": "libelemental", "python3-periodictable": "periodictable", "python3-scipy": "SciPy", "colord-data": "colord-data",
	"python3-jsonschema": "jsonschema of Python", "poppler-utils": "poppler", "units": "units (GNU)", "chromium": "Chromium", "strace": "strace", "tmux": "tmux", "groff-base": "groff", "man-db": "groff and man",
	"fish": "fish", "zsh": "zsh",
	"qemu-user-static": surroundings, "gcc": surroundings, "libc6-dev": surroundings, "g++": surroundings, "pkg-config": surroundings, "npm": surroundings,
	"postgresql": surroundings, "fonts-liberation": surroundings, "dbus-daemon": surroundings,
}

const surroundings = "-" // it is what something runs on, or builds with

// noCheck are the tests that name an authority, or run a program, and compare nothing
// with it; each with the reason.
var noCheck = map[string]string{
	"alloys TestEveryCurveThatIsComputedWithIsProved":                        "walks the table of TestCurvesPassThroughWhatIsPublished",
	"alloys TestCurvesAreMonotoneBetweenPoints":                              "walks the same table",
	"alloys TestCurvesAreSilentOutside":                                      "walks the same table",
	"alloys TestReadOwnStandsBesideTheEmbedded":                              "names a source as text",
	"alloys TestReadOwnNamesThePlace":                                        "names a source as text",
	"alloys TestReadOwnRefusesWhatItCannotHold":                              "names a source as text",
	"alloys FuzzReadOwn":                                                     "names a source as text",
	"alloys/unit TestStyleKeeps":                                             "names standards as text that must stay",
	"alloys/unit TestStyleTwice":                                             "names standards as text that must stay",
	"alloys/unit FuzzStyleText":                                              "names standards as text that must stay",
	"cmd/dullred-share TestCompareJSON":                                      "an id of the form that RFC 9562 gives",
	"cmd/dullred-share TestTypedWrong":                                       "an address that leads nowhere (RFC 5737)",
	"cmd/dullred-share TestSystemBoardOfThirty":                              "an id of the form that RFC 9562 gives",
	"cmd/dullred-share TestSystemWhatGoesWrong":                              "a name that is nobody's (RFC 2606)",
	"cmd/dullred-share TestRun":                                              "an id of the form that RFC 9562 gives",
	"cmd/dullred-share TestRunAlone":                                         "an id of the form that RFC 9562 gives",
	"cmd/dullred-share TestRunThroughARestore":                               "an id of the form that RFC 9562 gives",
	"cmd/dullred-share TestSystemSharing":                                    "an id of the form that RFC 9562 gives",
	"cmd/dullred-share TestSystemForgottenHand":                              "an id of the form that RFC 9562 gives",
	"cmd/dullred-share TestBenches":                                          "an id of the form that RFC 9562 gives",
	"cmd/dullred-share TestRelease":                                          "an id of the form that RFC 9562 gives",
	"cmd/dullred-share TestForget":                                           "an id of the form that RFC 9562 gives",
	"cmd/dullred-share/internal/postgres TestOnlyThisMachineIsDialledOpenly": "an address that leads nowhere (RFC 5737)",
	"schedule TestExplanations":                                              "shows a sentence that says so",
	"schedule TestHotShortMetalThatWasHammeredHot":                           "says so of a step that it tells, and holds it against nothing",
	"schedule/coldwork TestAccuracyPage":                                     "writes the page",
	"schedule/heat TestAccuracyPage":                                         "writes the page",
	"schedule/stock FuzzParsePart":                                           "names a form of ring sizes as text to begin from",
	"tui TestBarsInOneBit":                                                   "shows a sentence that names its source",
}

func TestEveryOutsideCheckSaysSo(t *testing.T) {
	all := ReadTests(t, root)
	for key := range noCheck {
		folder, name, _ := strings.Cut(key, " ")
		require.True(t, slices.ContainsFunc(all.funcs, func(f Func) bool { return f.Folder == folder && f.Name == name }), "%s is not there", key)
		require.False(t, all.Marked(folder, name), "%s says that it is an outside check", key)
	}
	var silent []string
	for _, f := range all.funcs {
		key := f.Folder + " " + f.Name
		if f.IsTest() && f.Folder != "schedule/internal/published" && !all.Marked(f.Folder, f.Name) && noCheck[key] == "" {
			if found := all.heldAgainst(f); found != nil {
				silent = append(silent, key+": "+strings.Join(found, ", "))
			}
		}
	}
	require.Empty(t, silent, "held against something outside: say so in the comment (see Check), or in noCheck why it is not")
}

// heldAgainst are the authorities that a test names, and the references it comes to use.
func (all *Tests) heldAgainst(f Func) (found []string) {
	text := f.Text + "\n" + strings.Join(f.Literals, "\n")
	for _, g := range all.around(f, 1) {
		text += "\n" + g.Text + "\n" + strings.Join(g.Literals, "\n")
	}
	found = authorities.FindAllString(text, -1)
	for _, g := range append(all.around(f, 9), f) {
		for _, word := range append(slices.Clone(g.Literals), g.Uses...) {
			if references[word] != "" && (word != "units" || g.System) {
				found = append(found, word)
			}
		}
	}
	return found
}

// around are the functions and tables of its folder that one comes to use, so many steps
// away at most, and no other test.
func (all *Tests) around(f Func, steps int) (out []Func) {
	seen, last := map[string]bool{f.Name: true}, []Func{f}
	for ; steps > 0 && len(last) > 0; steps-- {
		var next []Func
		for _, from := range last {
			for _, name := range from.Uses {
				if !seen[name] {
					seen[name] = true
					next = append(next, all.named(f.Folder, name)...)
				}
			}
		}
		out, last = append(out, next...), next
	}
	return out
}

func (all *Tests) named(folder, name string) []Func {
	return slices.DeleteFunc(slices.Clone(all.byName()[folder+" "+name]), Func.IsTest)
}

func TestTheSearchFindsWhatDoesNotSaySo(t *testing.T) {
	all := &Tests{funcs: []Func{
		{Folder: "a", Name: "TestTable", Uses: []string{"cases"}},
		{Folder: "a", Name: "cases", Literals: []string{"ASTM B258"}},
		{Folder: "a", Name: "TestFar", Uses: []string{"near"}},
		{Folder: "a", Name: "near", Uses: []string{"far"}},
		{Folder: "a", Name: "far", Literals: []string{"pdfinfo"}},
		{Folder: "a", Name: "TestOwn", Literals: []string{"8x8"}},
	}}
	require.Equal(t, []string{"ASTM"}, all.heldAgainst(all.funcs[0]))
	require.Equal(t, []string{"pdfinfo"}, all.heldAgainst(all.funcs[2]))
	require.Empty(t, all.heldAgainst(all.funcs[5]))
}

// Whatever is installed to be compared with, and every table of outside figures, is on
// the page.
func TestWhatIsInstalledIsOnThePage(t *testing.T) {
	page := ReadTests(t, root).Page()
	script, err := os.ReadFile(root + ".ci/run")
	require.NoError(t, err)
	packages := toInstall(string(script))
	require.Greater(t, len(packages), 10)
	for _, name := range packages {
		require.NotEmpty(t, installed[name], "what is %s for?", name)
		if installed[name] != surroundings {
			require.Contains(t, page, installed[name])
		}
	}
	for word, name := range references {
		require.Contains(t, page, name, word)
	}
	tables, err := filepath.Glob(root + "testdata/*.csv")
	require.NoError(t, err)
	require.NotEmpty(t, tables)
	for _, table := range tables {
		require.Contains(t, page, "testdata/"+filepath.Base(table))
	}
}

// toInstall are the packages that the script may install.
func toInstall(script string) (names []string) {
	for _, m := range regexp.MustCompile(`missing\+=\(([a-z0-9+-]+)\)`).FindAllStringSubmatch(script, -1) {
		names = append(names, m[1])
	}
	tools := regexp.MustCompile(`for tool in ([^;]+);`).FindStringSubmatch(script)
	if tools != nil {
		names = append(names, strings.Fields(tools[1])...)
	}
	return names
}

// A folder is checked by something outside or stands among what is not, and nothing does both.
func TestUncheckedIsCurrent(t *testing.T) {
	all := ReadTests(t, root)
	checked := map[string]bool{}
	for _, c := range all.Checks {
		checked[c.Folder] = true
	}
	listed := map[string]bool{}
	for _, u := range Unchecked {
		info, err := os.Stat(root + u.Where)
		require.NoError(t, err)
		require.NotEmpty(t, u.What, u.Where)
		require.False(t, listed[u.Where], u.Where)
		listed[u.Where] = true
		require.False(t, info.IsDir() && checked[u.Where], "%s has an outside check", u.Where)
	}
	for _, folder := range slices.Sorted(maps.Keys(houses(t))) {
		require.True(t, checked[folder] || listed[folder], "%s has no outside check and does not stand among what has none", folder)
	}
}

// houses are the folders whose code computes: it is not for tests alone, and asks no file,
// no clock and no system.
func houses(t *testing.T) map[string]bool {
	t.Helper()
	all, machinery := map[string]bool{}, map[string]bool{}
	require.NoError(t, filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		folder, _ := filepath.Rel(root, filepath.Dir(path))
		if err == nil && strings.HasSuffix(path, ".go") && !strings.HasSuffix(path, "_test.go") && !forTests.MatchString(folder) {
			all[filepath.ToSlash(folder)] = true
			source, err := os.ReadFile(path)
			require.NoError(t, err)
			machinery[filepath.ToSlash(folder)] = machinery[filepath.ToSlash(folder)] || asksTheSystem.Match(source)
		}
		return err
	}))
	maps.DeleteFunc(all, func(folder string, _ bool) bool { return machinery[folder] })
	require.Greater(t, len(all), 12)
	return all
}

var asksTheSystem = regexp.MustCompile(`(?m)^(import)?\s+"(os|net|syscall|io/fs|path/filepath|database/sql|golang\.org/x/sys/.*)"$`)

// forTests are folders of tests, and of programs, which say what the others compute.
var forTests = regexp.MustCompile(`^cmd|testdata|sharetest|internal/`)

func TestEveryExampleHasAKind(t *testing.T) {
	for _, table := range []string{"worked_examples.csv", "heat_examples.csv"} {
		for id, row := range rowsIn(t, root+"testdata/", table) {
			require.NotEmpty(t, row.Kind(), "%s of %s: %s", id, table, row.Source)
		}
	}
}
