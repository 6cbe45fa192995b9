//go:build system

package alloys

import (
	"fmt"
	"math"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
)

// The defaults of the metals that are an element, or nearly one, and of
// sterling as a mixture are held against two packages of element data:
// libelemental for densities, melting points, specific heats and conductivities,
// and periodictable, which has no heat in it, for densities again. The table has
// no pure gold, platinum or palladium, so these metals are not compared.

// element is what a reference publishes of one element.
type element struct {
	density unit.Density
	melts   unit.Celsius
	heat    float64 // J/kgK
	conduct float64 // W/mK
}

// withinHalfPercent is the difference that needs no reason.
const withinHalfPercent = 0.005

// comparison is one figure of ours beside a published one.
type comparison struct {
	metal, figure, source string
	published, ours       float64
	tolerance             float64 // relative
	reason                string  // for a tolerance above withinHalfPercent
}

func (c comparison) apart() float64 { return (c.ours - c.published) / c.published }

func (c comparison) holds() bool { return math.Abs(c.apart()) <= c.tolerance }

// check logs all comparisons as a table and fails for each that does not hold.
func check(t *testing.T, all []comparison) {
	t.Helper()
	var table strings.Builder
	fmt.Fprintf(&table, "\n%-9s %-21s %-22s %9s %9s %8s %7s  %s\n", "metal", "figure", "source", "published", "ours", "apart", "allowed", "why more than 0.5 %")
	for _, c := range all {
		fmt.Fprintf(&table, "%-9s %-21s %-22s %9.5g %9.5g %+7.2f%% %6.1f%%  %s\n", c.metal, c.figure, c.source, c.published, c.ours, 100*c.apart(), 100*c.tolerance, c.reason)
	}
	t.Log(table.String())
	for _, c := range all {
		require.Equal(t, math.Abs(c.apart()) > withinHalfPercent, c.tolerance > withinHalfPercent, "%s %s: as wide as it must be", c.metal, c.figure)
		require.Equal(t, c.tolerance > withinHalfPercent, c.reason != "", "%s %s: a wider tolerance, and no other, has a reason", c.metal, c.figure)
		if !c.holds() {
			t.Errorf("%s %s: ours is %v, %s has %v, %.2f %% apart", c.metal, c.figure, c.ours, c.source, c.published, 100*c.apart())
		}
	}
}

// run runs a program of the system and returns the words of each line it prints.
func run(t *testing.T, name string, args ...string) (lines [][]string) {
	t.Helper()
	out, err := exec.Command(name, args...).CombinedOutput()
	require.NoError(t, err, "%s %v: %s", name, args, out)
	for line := range strings.Lines(string(out)) {
		lines = append(lines, strings.Fields(line))
	}
	return lines
}

func number(t *testing.T, word string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(word, 64)
	require.NoError(t, err)
	require.Positive(t, v)
	return v
}

// libelemental has its data in C++ only, so the little program in testdata is
// compiled against it.
func libelemental(t *testing.T, symbols ...string) map[string]element {
	t.Helper()
	program := filepath.Join(t.TempDir(), "elements")
	args := []string{"-o", program, "testdata/elements.cc"}
	for _, line := range run(t, "pkg-config", "--cflags", "--libs", "libelemental") {
		args = append(args, line...)
	}
	run(t, "g++", args...)
	found := map[string]element{}
	for _, words := range run(t, program, symbols...) {
		require.Len(t, words, 5, "%v", words)
		found[words[0]] = element{
			density: unit.Density(number(t, words[1])),
			melts:   unit.Celsius(number(t, words[2]) - 273.15),
			heat:    1000 * number(t, words[3]),
			conduct: number(t, words[4]),
		}
	}
	require.Len(t, found, len(symbols))
	return found
}

// periodictable is asked through the interpreter that its package is for.
func periodictable(t *testing.T, symbols ...string) map[string]unit.Density {
	t.Helper()
	const program = "import sys, periodictable\nfor s in sys.argv[1:]: print(s, periodictable.elements.symbol(s).density)"
	found := map[string]unit.Density{}
	for _, words := range run(t, "/usr/bin/python3", append([]string{"-c", program}, symbols...)...) {
		require.Len(t, words, 2, "%v", words)
		found[words[0]] = unit.Density(number(t, words[1]))
	}
	require.Len(t, found, len(symbols))
	return found
}

// ours is the default of a metal for which a single value is published.
func ours(t *testing.T, id string, p Property) float64 {
	t.Helper()
	f, ok := mustFind(t, id).Default(p, "")
	require.True(t, ok, "%s has no %s", id, p)
	require.Equal(t, f.Low, f.High, describe(f))
	return f.Low
}

// The specific heat and the conductivity of tin are carried from libelemental, so
// those comparisons hold the rows to their source and no more.
//
// Outside check (reference): libelemental and periodictable: density, melting point and
// specific heat of silver, tin, copper and aluminium, within 0.5 %; wider ones have their
// reason in the test.
func TestSystemElementsAgainstReferences(t *testing.T) {
	cpp := libelemental(t, "Ag", "Sn", "Cu", "Al")
	py := periodictable(t, "Ag", "Sn", "Cu", "Al")
	type allowed struct {
		tolerance float64
		reason    string
	}
	wider := map[string]allowed{
		"SN999 density libelemental":        {0.01, "the two references are 0.6 % apart themselves"},
		"C11000 solidus libelemental":       {0.02, "copper with oxygen starts to melt at its eutectic with the oxide, below pure copper"},
		"AL1100 solidus libelemental":       {0.03, "up to 1 % of other metal: it starts to melt below pure aluminium"},
		"AG999 conductivity libelemental":   {0.03, "trade silver of 99.9 % as a reference page has it, against the pure element"},
		"C11000 conductivity libelemental":  {0.03, "the maker's strip holds oxygen and traces, the element none"},
		"AL1100 conductivity libelemental":  {0.07, "up to 1 % of other metal hinders heat"},
		"AL1100 specific_heat libelemental": {0.01, "a supplier's figure for 99 % metal, printed without its temperature"},
	}
	var all []comparison
	add := func(id string, p Property, source string, published float64) {
		key := strings.Join([]string{id, string(p), source}, " ")
		a, ok := wider[key]
		if !ok {
			a = allowed{tolerance: withinHalfPercent}
		}
		delete(wider, key)
		all = append(all, comparison{id, string(p), source, published, ours(t, id, p), a.tolerance, a.reason})
	}
	for _, m := range []struct{ id, symbol string }{{"AG999", "Ag"}, {"SN999", "Sn"}, {"C11000", "Cu"}, {"AL1100", "Al"}} {
		e := cpp[m.symbol]
		add(m.id, Density, "libelemental", float64(e.density))
		add(m.id, Density, "periodictable", float64(py[m.symbol]))
		add(m.id, Solidus, "libelemental", float64(e.melts))
		add(m.id, Liquidus, "libelemental", float64(e.melts))
		add(m.id, SpecificHeat, "libelemental", e.heat)
		add(m.id, Conductivity, "libelemental", e.conduct)
	}
	require.Empty(t, wider, "a tolerance for nothing")
	check(t, all)
}

// Volumes add up by mass over density, and heats by mass (the rule of Kopp and
// Neumann, which is a rule of thumb). The melting range of a mixture cannot be
// reckoned from its elements.
//
// Outside check (reference): libelemental and periodictable: density and specific heat of
// sterling from silver and copper.
func TestSystemSterlingAgainstReferences(t *testing.T) {
	const silver, copper = 0.925, 0.075
	cpp := libelemental(t, Silver, Copper)
	py := periodictable(t, Silver, Copper)
	mixed, err := Mix([]Part{{Mass: 1, Of: Shares{Silver: silver, Copper: copper}}})
	require.NoError(t, err)
	byVolume := func(ag, cu unit.Density) float64 { return 1 / (silver/float64(ag) + copper/float64(cu)) }
	fromCpp := byVolume(cpp[Silver].density, cpp[Copper].density)
	fromPy := byVolume(py[Silver], py[Copper])
	published := ours(t, "AG925", Density)
	check(t, []comparison{
		{"AG925", "density", "libelemental, mixed", fromCpp, published, withinHalfPercent, ""},
		{"AG925", "density", "periodictable, mixed", fromPy, published, withinHalfPercent, ""},
		{"AG925", "density, as Mix has it", "libelemental, mixed", fromCpp, float64(mixed.Density), withinHalfPercent, ""},
		{"AG925", "density, as Mix has it", "periodictable, mixed", fromPy, float64(mixed.Density), withinHalfPercent, ""},
		{"AG925", "specific_heat", "libelemental, mixed", silver*cpp[Silver].heat + copper*cpp[Copper].heat, ours(t, "AG925", SpecificHeat), 0.01,
			"adding heats by mass is a rule of thumb, and the sheet rounds"},
	})
}

// No alloy of gold, silver, copper or tin carries heat better than its main
// metal does; a figure above it would be a slip.
//
// Outside check (reference): libelemental: no alloy carries heat better than its main metal
// does.
func TestSystemNoAlloyConductsBetterThanItsMainMetal(t *testing.T) {
	symbols := map[string]string{"silver": "Ag", "gold": "Au", "copper": "Cu", "brass": "Cu", "bronze": "Cu", "nickel silver": "Cu", "pewter": "Sn", "tin": "Sn",
		"aluminium": "Al", "platinum": "Pt", "palladium": "Pd", "steel": "Fe"}
	cpp := libelemental(t, "Ag", "Au", "Cu", "Sn", "Al", "Pt", "Pd", "Fe")
	compared := 0
	for _, a := range All() {
		f, ok := a.Default(Conductivity, "")
		if !ok {
			continue
		}
		compared++
		main, ok := symbols[a.Family]
		require.True(t, ok, "%s is of the family %s", a.ID, a.Family)
		require.LessOrEqual(t, f.High, cpp[main].conduct*1.01, "%s, %s has %g", describe(f), main, cpp[main].conduct)
	}
	require.GreaterOrEqual(t, compared, 28)
}

// A comparison that cannot fail would prove nothing.
//
// Outside check (reference): libelemental and periodictable: the comparison tells one metal
// from another.
func TestSystemComparisonTellsMetalsApart(t *testing.T) {
	cpp := libelemental(t, "Cu")
	c := comparison{published: float64(cpp["Cu"].density), ours: ours(t, "AG999", Density), tolerance: withinHalfPercent}
	require.False(t, c.holds(), "silver is not copper")
	c.ours = c.published * (1 + 1.01*withinHalfPercent)
	require.False(t, c.holds(), "just outside")
	c.ours = c.published * (1 + 0.99*withinHalfPercent)
	require.True(t, c.holds(), "just inside")
}
