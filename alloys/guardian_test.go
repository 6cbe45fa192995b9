package alloys

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The guardian walks every row of the embedded tables. It reads the text again
// by itself, so that it does not believe what the reader says of it.

func rowsOf(t *testing.T, text string) [][]string {
	t.Helper()
	in := csv.NewReader(strings.NewReader(text))
	in.Comment = '#'
	rows, err := in.ReadAll()
	require.NoError(t, err)
	return rows[1:]
}

func everyFigure() []Figure {
	var all []Figure
	for _, a := range All() {
		all = append(all, a.held.all().figures...)
	}
	for _, s := range Solders() {
		all = append(all, s.held.all().figures...)
	}
	return all
}

func everyRule() []Rule {
	var all []Rule
	for _, a := range All() {
		all = append(all, a.held.all().rules...)
	}
	return all
}

// describe names a figure in a failure.
func describe(f Figure) string {
	return fmt.Sprintf("%s %s %s %q at %v from %s", f.Alloy, f.Property, f.Form, f.Condition, f.At, f.Source)
}

func TestGuardianNothingIsLost(t *testing.T) {
	require.Equal(t, len(rowsOf(t, figuresCSV)), len(everyFigure()))
	require.Equal(t, len(rowsOf(t, rulesCSV)), len(everyRule()))
	require.Equal(t, len(rowsOf(t, sourcesCSV)), len(Sources()))
	require.Equal(t, len(rowsOf(t, soldersCSV)), len(Solders()))
	require.Equal(t, len(rowsOf(t, alloysCSV)), len(All()))
}

// ranks of the words that do not sort by alphabet.
var ranks = map[string][]string{
	"property": {"density", "solidus", "liquidus", "specific_heat", "conductivity", "emissivity", "hardness", "hardness_hrb", "hardness_hb", "tensile", "yield", "elongation", "limit", "least_work", "anneal", "soak_time", "coarsens", "hot_short", "ordering", "age", "age_time", "flow"},
	"use":      {"default", "also", "never"},
	"form":     {"", "strip", "wire", "bar", "cast", "hand"},
	"kind":     {"quench", "cooling", "pickle", "anneal", "slow", "gas", "age", "hot", "hazard", "hammer"},
}

func rank(t *testing.T, what, word string) int {
	i := slices.Index(ranks[what], word)
	require.GreaterOrEqual(t, i, 0, "%s %q", what, word)
	return i
}

func alloyRank(t *testing.T, id string) int {
	i := slices.IndexFunc(All(), func(a Alloy) bool { return string(a.ID) == id })
	require.GreaterOrEqual(t, i, 0, id)
	return i
}

// metalRank puts the solders behind the alloys.
func metalRank(t *testing.T, id string) int {
	if i := slices.IndexFunc(Solders(), func(s Solder) bool { return string(s.ID) == id }); i >= 0 {
		return len(All()) + i
	}
	return alloyRank(t, id)
}

// place is where a row stands on the axis, rows without a place first.
func place(t *testing.T, at string) float64 {
	if at == "" {
		return -1
	}
	f, err := strconv.ParseFloat(at, 64)
	require.NoError(t, err)
	return f
}

func TestGuardianFiguresAreSortedAndUnique(t *testing.T) {
	rows := rowsOf(t, figuresCSV)
	for i, q := range rows[1:] {
		p := rows[i]
		order := cmp.Or(
			cmp.Compare(metalRank(t, p[0]), metalRank(t, q[0])),
			cmp.Compare(rank(t, "property", p[1]), rank(t, "property", q[1])),
			cmp.Compare(rank(t, "use", p[11]), rank(t, "use", q[11])),
			cmp.Compare(rank(t, "form", p[2]), rank(t, "form", q[2])),
			strings.Compare(p[12], q[12]),
			cmp.Compare(place(t, p[5]), place(t, q[5])),
			strings.Compare(p[3], q[3]),
			strings.Compare(p[4], q[4]),
			cmp.Compare(place(t, p[7]), place(t, q[7])),
		)
		require.Negative(t, order, "%v\nmust stand before\n%v", p, q)
	}
}

func TestGuardianRulesAndSourcesAreSortedAndUnique(t *testing.T) {
	rows := rowsOf(t, rulesCSV)
	seen := map[string]bool{}
	for i, q := range rows {
		require.False(t, seen[q[0]+q[2]], "said twice: %v", q)
		seen[q[0]+q[2]] = true
		if i == 0 {
			continue
		}
		p := rows[i-1]
		order := cmp.Or(
			cmp.Compare(alloyRank(t, p[0]), alloyRank(t, q[0])),
			cmp.Compare(rank(t, "kind", p[1]), rank(t, "kind", q[1])),
			cmp.Compare(rank(t, "use", p[3]), rank(t, "use", q[3])),
		)
		require.LessOrEqual(t, order, 0, "%v\nmust not stand before\n%v", p, q)
	}
	sources := rowsOf(t, sourcesCSV)
	for i, q := range sources[1:] {
		require.Less(t, sources[i][0], q[0])
	}
}

func TestGuardianFiguresAreSound(t *testing.T) {
	units := map[Property]string{
		Density: "g/cm3", Solidus: "C", Liquidus: "C", SpecificHeat: "J/kgK", Conductivity: "W/mK", Emissivity: "-", Hardness: "HV", HardnessHRB: "HRB", HardnessHB: "HB",
		Tensile: "MPa", Yield: "MPa", Elongation: "pct", Anneal: "C", Coarsens: "C", HotShort: "C", Ordering: "C", Age: "C", AgeTime: "min", SoakTime: "min", Flow: "C",
	}
	confidences := []Confidence{ConfidenceRead, ConfidenceComputed, ConfidenceMemory, ConfidenceJudgement, ConfidencePractice}
	for _, f := range everyFigure() {
		require.False(t, math.IsNaN(f.Low) || math.IsInf(f.Low, 0) || math.IsNaN(f.High) || math.IsInf(f.High, 0), describe(f))
		require.LessOrEqual(t, f.Low, f.High, describe(f))
		switch f.Property {
		case Limit:
			require.Contains(t, []string{PctThickness, PctArea, PctLength, Courses}, f.Unit, describe(f))
		case LeastWork:
			require.Contains(t, []string{PctThickness, PctArea}, f.Unit, describe(f))
		default:
			require.Equal(t, units[f.Property], f.Unit, describe(f))
		}
		require.Contains(t, confidences, f.Confidence, describe(f))
		require.Contains(t, []Use{UseDefault, UseAlso, UseNever}, f.Use, describe(f))
		if f.HasAt && f.Form == Wire {
			require.EqualValues(t, PctArea, f.AtKind, "wire is placed by area: %s", describe(f))
		} else if f.HasAt {
			require.EqualValues(t, PctThickness, f.AtKind, describe(f))
		}
		if f.Use == UseNever {
			require.NotEmpty(t, f.Note, "a figure never to be used says why: %s", describe(f))
		}
	}
}

func TestGuardianEverySourceIsThereAndUsed(t *testing.T) {
	used := map[string]bool{}
	own := map[Confidence]string{ConfidenceMemory: "memory", ConfidenceJudgement: "judgement", ConfidenceComputed: "computed"}
	check := func(key string, c Confidence, what string) {
		_, ok := SourceOf(key)
		require.True(t, ok, "%s: source %q", what, key)
		if want, ok := own[c]; ok {
			require.Equal(t, want, key, what)
		}
		if c == ConfidenceRead {
			require.NotContains(t, []string{"memory", "judgement", "practice", "computed"}, key, what)
		}
		used[key] = true
	}
	for _, f := range everyFigure() {
		check(f.Source, f.Confidence, describe(f))
	}
	for _, r := range everyRule() {
		check(r.Source, r.Confidence, r.Text)
	}
	for _, s := range Sources() {
		require.True(t, used[s.Key], "source %q is used by nothing", s.Key)
	}
}

func TestGuardianOneDefaultOfEachScalar(t *testing.T) {
	type scalar struct {
		alloy     ID
		property  Property
		condition Condition
	}
	defaults := map[scalar]int{}
	for _, f := range everyFigure() {
		if slices.Contains([]Property{Density, Solidus, Liquidus, SpecificHeat, Conductivity, Emissivity, Limit, Anneal, HotShort, Ordering, Age, AgeTime, SoakTime, Flow}, f.Property) {
			k := scalar{f.Alloy, f.Property, f.Condition}
			defaults[k] += 0
			if f.Use == UseDefault {
				defaults[k]++
			}
		}
	}
	for k, n := range defaults {
		require.Equal(t, 1, n, "%v", k)
	}
}

func TestGuardianOneDefaultCurveOfEachForm(t *testing.T) {
	for _, a := range All() {
		seen := map[[2]string]string{}
		for _, c := range a.held.curves() {
			if c.Use != UseDefault {
				continue
			}
			k := [2]string{string(c.Property), string(c.Form)}
			require.Empty(t, seen[k], "%s %v from %s too", a.ID, k, c.Source)
			seen[k] = c.Source
		}
	}
}

func TestGuardianCurvesGoOneWay(t *testing.T) {
	up := map[Property]bool{Hardness: true, HardnessHRB: true, HardnessHB: true, Tensile: true, Yield: true, Elongation: false}
	for _, a := range All() {
		for _, c := range a.held.curves() {
			points := c.Points()
			require.GreaterOrEqual(t, len(points), 2)
			for i, q := range points[1:] {
				p := points[i]
				require.Less(t, p.Strain, q.Strain)
				if up[c.Property] {
					require.True(t, p.Low <= q.Low && p.High <= q.High, "%s %s %s: %v then %v", a.ID, c.Property, c.Source, p, q)
				} else {
					require.True(t, p.Low >= q.Low && p.High >= q.High, "%s %s %s: %v then %v", a.ID, c.Property, c.Source, p, q)
				}
			}
		}
	}
}

func TestGuardianSchoolsAreToldApart(t *testing.T) {
	for _, a := range All() {
		for _, c := range []Condition{Wrought, Cast} {
			seen := map[string]bool{}
			for _, f := range a.Figures(Limit) {
				if f.Condition == c {
					require.False(t, seen[f.School], "%s %s %s", a.ID, c, f.School)
					seen[f.School] = true
					require.Regexp(t, `^[a-z0-9]+(-[a-z0-9]+)*$`, f.School)
				}
			}
		}
	}
}
