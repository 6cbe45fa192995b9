package alloys

import (
	"regexp"
	"strconv"
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
)

// leadPewter is listed for its hazards only: nothing is advised but to leave it alone.
const leadPewter ID = "SNPB"

func TestGuardianManyMetals(t *testing.T) {
	require.GreaterOrEqual(t, len(All()), 28)
	require.GreaterOrEqual(t, len(Solders()), 13)
}

func TestGuardianEveryAlloyIsCovered(t *testing.T) {
	for _, a := range All() {
		_, ok := a.Default(Density, "")
		require.True(t, ok, "%s has no density", a.ID)
		for _, kind := range []RuleKind{RuleQuench, RuleHazard, RuleAnneal, RuleHammer, RuleHot} {
			if a.ID == leadPewter && kind == RuleAnneal {
				continue
			}
			rules := a.Rules(kind)
			require.NotEmpty(t, rules, "%s: %s", a.ID, kind)
			if kind != RuleHammer {
				require.Equal(t, UseDefault, rules[0].Use, "%s: %s is advised first", a.ID, kind)
			}
		}
		for _, c := range []Condition{Wrought, Cast} {
			_, ok := a.Default(Limit, c)
			require.Equal(t, !a.SelfSoftening, ok, "%s: a limit for %s metal, unless it softens by itself", a.ID, c)
		}
	}
}

func TestGuardianLeadPewterIsHazardOnly(t *testing.T) {
	a := mustFind(t, string(leadPewter))
	require.Empty(t, a.Rules(RuleAnneal))
	require.Empty(t, a.Figures(Anneal))
	require.Empty(t, a.Figures(Limit))
	quench := a.Rules(RuleQuench)
	require.Len(t, quench, 1)
	require.Equal(t, "Do not heat it.", quench[0].Text)
	require.GreaterOrEqual(t, len(a.Rules(RuleHazard)), 4)
	for _, kind := range []RuleKind{RuleHot, RuleHammer} {
		for _, r := range a.Rules(kind) {
			require.Regexp(t, `^(Never|Do not) `, r.Text)
		}
	}
}

func TestGuardianNoLimitAboveSterling(t *testing.T) {
	limit, ok := mustFind(t, "AG925").Default(Limit, Wrought)
	require.True(t, ok)
	most, ok := limit.LimitStrain()
	require.True(t, ok)
	require.InDelta(t, 0.690, float64(most), 0.0005, "45 % of thickness by hand compression")
	for _, f := range everyFigure() {
		if f.Property != Limit || f.Use != UseDefault {
			continue
		}
		s, ok := f.LimitStrain()
		require.True(t, ok, "a default limit is a strain: %s", describe(f))
		require.LessOrEqual(t, s, most, describe(f))
		require.Greater(t, s, unit.Strain(0), describe(f))
		require.NotEmpty(t, f.Note, "a default limit says why: %s", describe(f))
	}
}

// Least work and limit are two properties. The one limit with a lower end only
// is the half-first school of castings, which a smith may choose.
func TestGuardianLeastWorkIsNoLimit(t *testing.T) {
	least := 0
	for _, f := range everyFigure() {
		_, isLimit := f.LimitStrain()
		_, isLeast := f.LeastStrain()
		require.False(t, isLimit && isLeast, describe(f))
		switch f.Property {
		case LeastWork:
			least++
			require.True(t, isLeast, describe(f))
			require.Empty(t, f.School, "no school to choose: %s", describe(f))
			require.NotEmpty(t, f.Note, describe(f))
		case Limit:
			require.False(t, f.Bound == AtLeast && f.School != "half-first", "a least is no limit: %s", describe(f))
		default:
			require.False(t, isLimit || isLeast, describe(f))
		}
	}
	require.GreaterOrEqual(t, least, 7)
	for _, a := range All() {
		for _, c := range []Condition{Wrought, Cast} {
			least, ok := a.Default(LeastWork, c)
			if !ok {
				continue
			}
			limit, ok := a.Default(Limit, c)
			require.True(t, ok)
			from, _ := least.LeastStrain()
			to, _ := limit.LimitStrain()
			require.Less(t, from, to, "%s: the least work would lie above the most", a.ID)
		}
	}
}

// Densities and melting points of the elements (periodic-table.js 2.0.5 and
// periodictable 1.6.0 where read: Ag, Al, Au, Cu, Pb, Pd, Pt, Sn, Zn; the rest
// from memory).
var elements = map[string]struct{ density, melts float64 }{
	"Ag": {10.5, 961.9}, "Al": {2.699, 660.4}, "Au": {19.3, 1064.4}, "Cu": {8.96, 1084.6}, "Fe": {7.87, 1538},
	"Ge": {5.32, 938}, "Mn": {7.2, 1246}, "Ni": {8.9, 1455}, "Pb": {11.35, 327.5}, "Pd": {12.02, 1552},
	"Pt": {21.45, 1772}, "Ru": {12.4, 2334}, "Sb": {6.69, 630.8}, "Sn": {7.31, 231.9}, "Zn": {7.133, 419.6},
}

var part = regexp.MustCompile(`([0-9.]+) % ([A-Z][a-z]?)\b`)

func TestGuardianDensitiesAndMeltingPointsFitTheElements(t *testing.T) {
	for _, a := range All() {
		var share, volume, hottest float64
		for _, m := range part.FindAllStringSubmatch(a.Composition, -1) {
			e, ok := elements[m[2]]
			if !ok {
				continue // oxygen and carbon, of which there is a trace
			}
			pct, err := strconv.ParseFloat(m[1], 64)
			require.NoError(t, err)
			share, volume, hottest = share+pct, volume+pct/e.density, max(hottest, e.melts)
		}
		require.InDelta(t, 100, share, 1.01, "%s: %s", a.ID, a.Composition)
		density, ok := a.Default(Density, "")
		require.True(t, ok)
		mixed := share / volume
		require.InEpsilon(t, mixed, density.Low, 0.05, "%s by volume is %.2f", a.ID, mixed)
		for _, p := range []Property{Solidus, Liquidus} {
			for _, f := range a.Figures(p) {
				require.LessOrEqual(t, f.High, hottest+2, "no alloy here melts hotter than its hottest metal: %s", describe(f))
			}
		}
	}
}
