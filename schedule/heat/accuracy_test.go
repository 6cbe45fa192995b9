package heat

import (
	"encoding/csv"
	"flag"
	"fmt"
	"maps"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
)

var update = flag.Bool("update", false, "write the accuracy page again")

const accuracyPage = "../../testdata/ACCURACY-HEAT.md"

// programs are the reference packages, and what is compared with each.
var programs = []string{
	"colord: the CIE 1931 observer, 95 rows at 5 nm, every figure the same.",
	"SciPy (solve_ivp, DOP853 at 1e-10): heating and cooling with the same laws, to 1e-5; its speed against ours is printed by `.ci/run`.",
}

// unchecked is what nothing outside the project checks.
var unchecked = []string{
	"The strength of a hand torch before it was timed, 50 to 200 W/m²K: from memory; no measured hand torch was found.",
	"The share of the room's light that hides a glow, 2 to 5 % of what the metal reflects, and the brightness of four rooms: judgements.",
	"The emissivity of blackened silver alloys and golds, and of clean golds: judgements. That one figure holds for heat and for light: a grey body is assumed.",
	"Softening outside the observations that are published, and how it goes with the amount of work: a judgement, told as a band.",
	"A strip as a standing plate as high as it is long: a judgement that errs to hot for longer.",
	"Constant specific heat: a red heat takes 10 to 15 % longer than reckoned (from memory).",
	"How long heat takes to even out along a piece: one end heated, the slowest term alone.",
	"That three timed heats make the fourth known: checked on simulated torches, whose model is ours.",
}

// TestAccuracyPage holds the page of outside checks to what the code gives now.
// Run it with -update to write the page again.
func TestAccuracyPage(t *testing.T) {
	var b strings.Builder
	b.WriteString("# Accuracy of the heat\n\nEvery check against something outside the project, written by the tests\n" +
		"(`go test ./schedule/heat -run TestAccuracyPage -update`) and held current by them.\n")
	examplesSection(t, &b)
	glowSection(t, &b)
	listSection(&b, "Reference packages", "Compared by the tests with the tag `system`, which `.ci/run` runs:", programs)
	listSection(&b, "What nothing outside checks", "", unchecked)
	var not []string
	for _, id := range slices.Sorted(maps.Keys(notComputed())) {
		not = append(not, id+": "+notComputed()[id])
	}
	listSection(&b, "Worked examples that are listed and not computed", "", not)
	if *update {
		require.NoError(t, os.WriteFile(accuracyPage, []byte(b.String()), 0o644))
	}
	have, err := os.ReadFile(accuracyPage)
	require.NoError(t, err)
	require.Equal(t, b.String(), string(have), "go test ./schedule/heat -run TestAccuracyPage -update")
}

func listSection(b *strings.Builder, head, text string, lines []string) {
	b.WriteString("\n## " + head + "\n\n")
	if text != "" {
		b.WriteString(text + "\n\n")
	}
	for _, line := range lines {
		b.WriteString("- " + line + "\n")
	}
}

func examplesSection(t *testing.T, b *strings.Builder) {
	rows := readExamples(t)
	b.WriteString("\n## Worked examples and handbook figures\n\n| row | what | published | ours | difference | tolerance | unit | source |\n|---|---|---|---|---|---|---|---|\n")
	all := computed()
	slices.SortFunc(all, func(x, y example) int { return strings.Compare(x.id, y.id) })
	for _, c := range all {
		row := rows[c.id]
		want, within := row.figures(t)
		for i, got := range c.compute() {
			fmt.Fprintf(b, "| %s | %s | %.7g | %.7g | %s | %.1g | %s | %s, %s |\n", c.id, row.Inputs, want[i], got, difference(got-want[i]), within[i],
				row.Unit, row.Source, row.Locator)
		}
	}
}

// difference is a small figure with its sign, without the noise of the last digits.
func difference(d float64) string {
	if d == 0 {
		return "0"
	}
	return fmt.Sprintf("%+.0e", d)
}

// glowSection gives the worst of each column of the table of glows.
func glowSection(t *testing.T, b *strings.Builder) {
	f, err := os.Open("../../testdata/glow.csv")
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	records, err := r.ReadAll()
	require.NoError(t, err)
	worst := map[string]float64{}
	for _, row := range records[1:] {
		cell := func(name string) float64 {
			v, err := strconv.ParseFloat(row[slices.Index(records[0], name)], 64)
			require.NoError(t, err, name)
			return v
		}
		g := GlowAt(unit.Kelvin(cell("T_K")).Celsius(), 1)
		for name, got := range map[string]float64{"x": g.X, "y": g.Y, "Y_cd_m2": g.Luminance} {
			worst[name] = max(worst[name], math.Abs(got/cell(name)-1))
		}
	}
	fmt.Fprintf(b, "\n## The table of glows\n\n%d temperatures through the CIE 1931 observer at 1 nm (`testdata/glow.csv`), ours at 5 nm.\n"+
		"The worst relative differences: ", len(records)-1)
	for i, name := range slices.Sorted(maps.Keys(worst)) {
		require.Less(t, worst[name], 1e-4, name)
		fmt.Fprintf(b, "%s%s %.0e", strings.Repeat(", ", min(i, 1)), name, worst[name])
	}
	b.WriteString(".\n")
}
