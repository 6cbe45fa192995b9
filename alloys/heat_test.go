package alloys

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// margin is how far below the solidus a window must end: a torch is not steadier.
const margin = 50

func TestGuardianHeatStaysBelowMelting(t *testing.T) {
	for _, a := range All() {
		for _, c := range []Condition{"", Wrought, Cast} {
			window, advised := a.Default(Anneal, c)
			require.Equal(t, !a.SelfSoftening, advised, "%s: a window, unless it softens by itself", a.ID)
			solidus, ok := a.Default(Solidus, c)
			require.True(t, ok, "%s %q: no heat without a solidus", a.ID, c)
			require.LessOrEqual(t, window.High+margin, solidus.Low, "%s %q", a.ID, c)
			if liquidus, ok := a.Default(Liquidus, ""); ok {
				require.LessOrEqual(t, solidus.High, liquidus.Low, "%s %q", a.ID, c)
			}
		}
		for _, s := range a.Figures(Solidus) {
			window, _ := a.Default(Anneal, s.Condition)
			require.LessOrEqual(t, window.High+margin, s.Low, "%s against %s", a.ID, describe(s))
		}
	}
}

func TestGuardianNoPublishedHeatMelts(t *testing.T) {
	for _, a := range All() {
		solidus, ok := a.Default(Solidus, "")
		require.True(t, ok)
		for _, f := range a.Figures(Anneal) {
			if f.Use != UseNever {
				require.Less(t, f.High, solidus.Low, describe(f))
			}
		}
	}
}

// A solidus that is not the metal's own says so, and lies no higher than any
// figure of its own that is told.
//
// Outside check (handbook): solidus figures that stand in for another metal's are no higher
// than any published one of their own.
func TestStandInsAreNamedAndSafe(t *testing.T) {
	for _, c := range []struct {
		alloy, source, reason string
		condition             Condition
	}{
		{"AG958", "NIST_AGCU", "a cast bar may hold the eutectic", Cast},
		{"AG925", "NIST_AGCU", "a cast bar may hold the eutectic", Cast},
		{"AG800", "NIST_AGCU", "always holds the eutectic", ""},
		{"AU916", "TIMEZONE_AU", "18k melts lower", ""},
		{"AU750W", "WELZ585", "the lowest gold here", ""},
		{"PT950", "PRICESCOPE", "platinum mixes in general", ""},
		{"PD950", "WELZ500PD", "500 palladium melts lower", ""},
		{"C27000", "MIF_C274", "more zinc melts lower", ""},
		{"C75200", "MIF_C745", "less nickel melts lower", ""},
	} {
		f, ok := mustFind(t, c.alloy).Default(Solidus, c.condition)
		require.True(t, ok, c.alloy)
		require.Equal(t, c.source, f.Source, c.reason)
		require.True(t, strings.HasPrefix(f.Note, "stand-in: "), describe(f))
		for _, own := range mustFind(t, c.alloy).Figures(Solidus) {
			require.GreaterOrEqual(t, own.Low, f.Low, "%s: %s", c.reason, describe(own))
		}
	}
}

func TestWrongFiguresAreNotComputedWith(t *testing.T) {
	for _, c := range []struct {
		name, alloy, source, reason string
		property                    Property
		low                         float64
	}{
		{"solidus of another bronze", "C52100", "FISK_C521", "927 °C is that of C51900", Solidus, 927},
		{"metric density", "C52100", "FISK_C521", "8.94 beside 0.318 lb/in3", Density, 8.94},
		{"long anneal of steel", "STEEL1008", "WU2020", "no torch anneal", Anneal, 580},
		{"solution treatment", "AG925", "HH_POST", "no bench anneal", Anneal, 745},
		{"above the solidus", "AG925", "BINNION", "800 °C melts it", Anneal, 800},
	} {
		found := false
		for _, f := range mustFind(t, c.alloy).Figures(c.property) {
			if f.Source == c.source && f.Low == c.low {
				found = true
				require.Equal(t, UseNever, f.Use, "%s: %s", c.name, c.reason)
			}
		}
		require.True(t, found, "%s is told, with its reason", c.name)
	}
	for _, f := range everyFigure() {
		require.False(t, f.Alloy == "C23000" && f.Low == 12 && f.Property == Limit, "12 drawing operations are no 12 %")
		require.False(t, f.Alloy == "C75200" && strings.Contains(string(f.Condition), "R610"), "its band starts at 640")
		require.False(t, f.Property == Anneal && f.Alloy[:2] == "C2" && f.Use == UseDefault && f.High > 650, "coarse grain and zinc fume: %s", describe(f))
	}
}
