package coldwork

import (
	"flag"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"dullred/alloys"
	"dullred/schedule/internal/published"
)

var update = flag.Bool("update", false, "write the accuracy page again")

// unchecked is what nothing outside the project checks.
var unchecked = []string{
	"The strain a course is taken to put in before anything is measured, and its spread: judgements.",
	"The courses left: the arithmetic is checked against numerical integration and simulation, the model of a hand against nothing.",
	"The limits marked judgement in the table, and the first limit of a casting: no published hand-working figure was found.",
	"After which heat a casting counts as wrought: a judgement.",
	"The strain of a vessel read by its ring: plane strain at constant wall is assumed.",
	"The strain of a twisted square bar: bounded from both sides, the upper bound counts.",
	"Hardness and strength between published points: monotone by construction, no more.",
	"That a zone splits when its limit is spent: no sum of sections sees a bad pour, lead, gas or a bruised edge.",
}

// TestAccuracyPage holds the page of outside checks to what the code gives now.
// Run it with -update to write the page again.
func TestAccuracyPage(t *testing.T) {
	var b strings.Builder
	b.WriteString("# Accuracy\n\nEvery check against something outside the project, written by the tests\n" +
		"(`go test ./schedule/coldwork -run TestAccuracyPage -update`) and held current by them.\n")
	kindsSection(t, &b)
	examplesSection(t, &b)
	tempersSection(&b)
	curvesSection(&b)
	rivalsSection(&b)
	b.WriteString("\n## Not checked by anything outside\n\n")
	b.WriteString(published.List(unchecked))
	b.WriteString("\nNor, of heat, what ACCURACY-HEAT.md names at its end. Whole packages, and files of packages that have checks:\n\n")
	b.WriteString(published.UncheckedList())
	b.WriteString("\nWorked examples that are listed and not computed:\n\n")
	for _, id := range slices.Sorted(maps.Keys(notComputed)) {
		fmt.Fprintf(&b, "- %s: %s\n", id, notComputed[id])
	}
	published.RequirePage(t, "ACCURACY.md", b.String(), *update)
}

// kindsSection lists the tests that compare with something outside, as their comments say.
func kindsSection(t *testing.T, b *strings.Builder) {
	t.Helper()
	all := published.ReadTests(t, "../..")
	fmt.Fprintf(b, "\n## Every outside check by kind\n\n%d tests, found in the tree by what their comments say; a test that names an authority or runs\n"+
		"another program and does not say so fails `go test ./schedule/internal/published`. (system): run by `.ci/run` alone.\n", len(all.Checks))
	b.WriteString(all.Page())
	b.WriteString("\n### Rows of the tables of examples, by kind\n\nThose recomputed by ourselves, apart from our code, check the code and not the law.\n")
	b.WriteString(published.KindsOfRows(t))
}

func examplesSection(t *testing.T, b *strings.Builder) {
	t.Helper()
	b.WriteString("\n## Worked examples and handbook figures\n\n" +
		"| row | what | published | ours | difference | tolerance | unit | source |\n|---|---|---|---|---|---|---|---|\n")
	rows := published.Rows(t, workedExamples)
	for _, c := range computed {
		row := rows[c.id]
		want, within := row.Figures(t)
		for i, got := range c.compute() {
			fmt.Fprintf(b, "| %s | %s | %s | %s | %s | %s | %s | %s, %s |\n", row.ID, published.Cell(row.Inputs), published.Digits(want[i]), published.Digits(got),
				published.Difference(got, want[i], 1e-12), published.Digits(within[i]), published.Cell(row.Unit), published.Cell(row.Source), published.Cell(row.Locator))
		}
	}
}

func tempersSection(b *strings.Builder) {
	b.WriteString("\n## Temper names against the published strip reductions\n\n" +
		"Precision Steel, brass temper table: Brown & Sharpe numbers hard, per cent of thickness, printed to 0.1.\n\n" +
		"| numbers | published % | ours % | difference | tolerance |\n|---|---|---|---|---|\n")
	printed := map[int]float64{1: 10.9, 2: 20.7, 3: 29.4, 4: 37.1, 6: 50.0, 8: 60.5, 10: 68.7}
	for _, n := range slices.Sorted(maps.Keys(printed)) {
		strip, _ := alloys.Temper(n)
		fmt.Fprintf(b, "| %d | %.1f | %.3f | %s | 0.15 |\n", n, printed[n], 100*strip, published.Difference(100*float64(strip), printed[n], 1e-12))
	}
}

// curvesSection compares every curve with the points it was published by.
func curvesSection(b *strings.Builder) {
	b.WriteString("\n## Published series and the curves through them\n\n" +
		"The largest distance of a curve from the printed points of its series, in the unit of the property.\n" +
		"A curve interpolates its points, so this checks the table and the fit and not the metal.\n\n" +
		"| metal | property | form | points | largest difference | tolerance | source |\n|---|---|---|---|---|---|---|\n")
	for _, a := range alloys.All() {
		for _, p := range []alloys.Property{alloys.Hardness, alloys.Tensile, alloys.Yield, alloys.Elongation} {
			for _, c := range a.Curves(p) {
				src, _ := alloys.SourceOf(c.Source)
				fmt.Fprintf(b, "| %s | %s | %s | %d | %s | within the printed scatter | %s, %s |\n", a.Name, p, c.Form, len(c.Points()),
					published.Digits(largestMiss(c)), published.Cell(src.Author), published.Cell(src.Title))
			}
		}
	}
}

// rivalsSection sets the series that is computed with against every other
// published series of the same metal, property and form.
func rivalsSection(b *strings.Builder) {
	b.WriteString("\n## One published series against another\n\n" +
		"How far another source's points lie outside the scatter of the series that is computed with, in the\n" +
		"unit of the property: what two sources differ by, no error of ours; shown without a tolerance.\n\n" +
		"| metal | property | form | points compared | farthest outside | computed with | against |\n|---|---|---|---|---|---|---|\n")
	for _, a := range alloys.All() {
		for _, p := range []alloys.Property{alloys.Hardness, alloys.Tensile, alloys.Yield, alloys.Elongation} {
			for _, rival := range a.Curves(p) {
				own, ok := a.Curve(p, rival.Form)
				if !ok || rival.Source == own.Source {
					continue
				}
				n, outside := compared(own, rival)
				fmt.Fprintf(b, "| %s | %s | %s | %d | %s | %s | %s |\n", a.Name, p, rival.Form, n, published.Digits(outside), own.Source, rival.Source)
			}
		}
	}
}

// compared counts the rival's points where the curve speaks, and gives how far
// the farthest lies outside its scatter.
func compared(own, rival alloys.Curve) (n int, outside float64) {
	for _, p := range rival.Points() {
		low, high, ok := own.At(p.Strain)
		if !ok {
			continue
		}
		n++
		outside = max(outside, low-p.High, p.Low-high)
	}
	return n, outside
}

func largestMiss(c alloys.Curve) float64 {
	miss := 0.0
	for _, p := range c.Points() {
		low, high, _ := c.At(p.Strain)
		miss = max(miss, math.Abs(low-p.Low), math.Abs(high-p.High))
	}
	return miss
}
