package heat

import (
	"flag"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"dullred/alloys/unit"
	"dullred/schedule/internal/published"
)

var update = flag.Bool("update", false, "write the accuracy page again")

// unchecked is what nothing outside the project checks.
var unchecked = []string{
	"The coefficient of a torch, and what is taken before one was timed, 50 to 200 W/m²K: from memory; no measured figure of a hand torch was found.",
	"The scatter of one heat against the next, a tenth in ln h: a judgement, until the smith's own is larger; so is that a heat three times as far off is absurd.",
	"The share of the room's light that hides a glow, 2 to 5 %, the light on the metal in lx, and which published sight stands for which light: judgements.",
	"The emissivity of blackened silver alloys and of golds, and that it is the same at every wavelength.",
	"Softening outside the heats and the work of the anchors, and the exponent of work (0 to 2, 1 as likely): judgements.",
	"The share of the work that is gone from metal that bends dead, 90 %: a judgement.",
	"That wide strip loses heat by convection as a plate that stands upright: a judgement.",
	"Constant specific heat: a real one rises by 10 to 15 % up to annealing heat (from memory), and a heat takes up to as much longer.",
	"Evenness along a piece: heat is taken to come in at one end and nothing to leave on the way.",
	"From which heat a red-short alloy breaks when its rule gives none, 500 °C: a judgement.",
	"What may be touched, 48 °C: a standard from memory, not looked up.",
	"The margin below what melts, 50 °C unless the smith sets another: common practice.",
}

// TestAccuracyPage holds the page of outside checks to what the code gives now.
// Run it with -update to write the page again.
func TestAccuracyPage(t *testing.T) {
	var b strings.Builder
	b.WriteString("# Accuracy of heat\n\nEvery check of schedule/heat against something outside the project, written by the tests\n" +
		"(`go test ./schedule/heat -run TestAccuracyPage -update`) and held current by them. ACCURACY.md lists the tests by kind.\n")
	examplesSection(t, &b)
	radiatorsSection(t, &b)
	b.WriteString("\n## Not checked by anything outside\n\n")
	b.WriteString(published.List(unchecked))
	b.WriteString("\n## Worked examples that are listed and not computed\n\n")
	not := notComputed()
	for _, id := range slices.Sorted(maps.Keys(not)) {
		fmt.Fprintf(&b, "- %s: %s\n", id, not[id])
	}
	published.RequirePage(t, "ACCURACY-HEAT.md", b.String(), *update)
}

func examplesSection(t *testing.T, b *strings.Builder) {
	t.Helper()
	b.WriteString("\n## Worked examples and handbook figures\n\n" +
		"A row whose source is an own recomputation was computed apart from this code: it checks the code and not the law.\n" +
		"A06, A13, A15 and G16 compare figures of a table with the print that they were copied from.\n\n" +
		"| row | what | published | ours | difference | tolerance | unit | source |\n|---|---|---|---|---|---|---|---|\n")
	rows := published.Rows(t, heatExamples)
	for _, c := range computed() {
		row := rows[c.id]
		want, within := row.Figures(t)
		units := strings.Split(row.Unit, ";")
		for i, got := range c.compute() {
			fmt.Fprintf(b, "| %s | %s | %s | %s | %s | %s | %s | %s, %s |\n", row.ID, published.Cell(row.Inputs), published.Digits(want[i]), published.Digits(got),
				published.Difference(got, want[i], 1e-10*math.Abs(want[i])), published.Digits(within[i]), published.Cell(units[min(i, len(units)-1)]), published.Cell(row.Source), published.Cell(row.Locator))
		}
	}
}

// radiatorsSection is how far the table of perfect radiators is missed at worst.
func radiatorsSection(t *testing.T, b *strings.Builder) {
	t.Helper()
	all := readRadiators(t)
	var x, y, bright, coarse float64
	for _, r := range all {
		g := GlowAt(unit.Kelvin(r.kelvin).Celsius(), 1)
		x, y = max(x, apart(g.X, r.x)), max(y, apart(g.Y, r.y))
		bright, coarse = max(bright, apart(g.Luminance, r.luminance)), max(coarse, apart(g.Luminance, r.luminance5nm))
	}
	fmt.Fprintf(b, "\n## Glow of perfect radiators\n\nThe worst relative difference over the %d rows of testdata/glow.csv, %.0f to %.0f K, recomputed apart from this\n"+
		"code with the exact constants of CODATA 2018 and the CIE 1931 observer in steps of 1 nm; the code takes 5 nm.\n\n"+
		"| figure | worst relative difference | tolerance |\n|---|---|---|\n", len(all), all[0].kelvin, all[len(all)-1].kelvin)
	for _, line := range []struct {
		figure        string
		worst, within float64
	}{
		{"x", x, 1e-4}, {"y", y, 1e-4}, {"Y", bright, 1e-4}, {"Y against steps of 5 nm", coarse, 1e-6},
	} {
		fmt.Fprintf(b, "| %s | %.1g | %.0e |\n", line.figure, line.worst, line.within)
	}
}

func apart(got, want float64) float64 { return math.Abs(got/want - 1) }
