package alloys

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Heat is reckoned from three figures of an alloy; one that is heated has them all.
func TestGuardianHeatCanBeReckonedWhereItIsGiven(t *testing.T) {
	for _, a := range All() {
		if _, annealed := a.Default(Anneal, ""); !annealed {
			continue
		}
		for _, p := range []Property{Density, SpecificHeat, Conductivity} {
			_, ok := a.Default(p, "")
			require.True(t, ok, "%s has a window to heat to and no %s", a.ID, p)
		}
	}
}

// The skins that no row tells of, each with its reason. What is not here is told.
func TestGuardianEverySkinIsToldOrMissed(t *testing.T) {
	const never, noble, unread = "never to be heated", "does not blacken", "never fluxed in the work that is meant here"
	missed := map[ID]map[Condition]string{
		"AG999":     {SkinOxidised: noble},
		"AU916":     {SkinOxidised: "hardly blackens, and nothing was read"},
		"PT950":     {SkinOxidised: noble, SkinFluxed: unread},
		"PD950":     {SkinOxidised: "blues a little, and nothing was read", SkinFluxed: unread},
		"SN92":      {SkinOxidised: never, SkinFluxed: never},
		"SN999":     {SkinOxidised: never, SkinFluxed: never},
		"SNPB":      {SkinClean: never, SkinOxidised: never, SkinFluxed: never},
		"STEEL1008": {SkinFluxed: unread},
		"AL1100":    {SkinFluxed: unread},
	}
	for _, a := range All() {
		for _, skin := range Skins() {
			_, told := a.Default(Emissivity, skin)
			require.Equal(t, missed[a.ID][skin] == "", told, "%s, %s: %s", a.ID, skin, missed[a.ID][skin])
		}
	}
}

func TestGuardianEmissivitiesFitTheirSkins(t *testing.T) {
	for _, f := range everyFigure() {
		if f.Property == Emissivity {
			require.Contains(t, Skins(), f.Condition, describe(f))
		}
	}
	for _, a := range All() {
		clean, bright := a.Default(Emissivity, SkinClean)
		for _, skin := range []Condition{SkinOxidised, SkinFluxed} {
			if f, ok := a.Default(Emissivity, skin); ok && bright {
				require.Less(t, clean.High, f.Low, "%s: %s radiates more than clean metal", a.ID, skin)
			}
		}
	}
}

// The elements' specific heats in J/kgK: silver, copper and gold as the table and
// periodic-table.js 2.0.5 have them, the rest from libelemental 2.0.2.
var elementHeats = map[string]float64{
	"Ag": 235, "Cu": 386, "Au": 129, "Zn": 388, "Ni": 444, "Ge": 320, "Pt": 133, "Pd": 244, "Ru": 238,
	"Sn": 228, "Sb": 207, "Al": 897, "Fe": 449,
}

// kopp is the specific heat of a mixture by mass (Kopp and Neumann, a rule of thumb).
func kopp(t *testing.T, composition string) float64 {
	t.Helper()
	var share, heat float64
	for _, m := range part.FindAllStringSubmatch(composition, -1) {
		c, ok := elementHeats[m[2]]
		if !ok {
			continue // manganese, lead, oxygen and carbon
		}
		pct, err := strconv.ParseFloat(m[1], 64)
		require.NoError(t, err)
		share, heat = share+pct, heat+pct*c
	}
	require.Positive(t, share, composition)
	return heat / share
}

func TestGuardianSpecificHeatsFitTheElements(t *testing.T) {
	computed := 0
	for _, a := range All() {
		if a.ID == leadPewter {
			continue
		}
		for _, f := range a.Figures(SpecificHeat) {
			if f.Confidence == ConfidenceComputed {
				computed++
				require.InDelta(t, kopp(t, a.Composition), f.Low, 0.3, "arithmetic: %s", describe(f))
			}
		}
		f, ok := a.Default(SpecificHeat, "")
		require.True(t, ok, "%s", a.ID)
		require.InEpsilon(t, kopp(t, a.Composition), f.Low, 0.07, "by mass: %s", describe(f))
	}
	require.Equal(t, 13, computed)
}

// 55.7 MS/m is 96 % of the 58.0 MS/m of the annealed copper standard.
//
// Outside check (standard): heat conductivity of sterling from its electrical one and the
// annealed copper standard.
func TestSterlingConductivityIsThatOfItsElectricalOne(t *testing.T) {
	const conductivity, kelvin = 0.96 * 58.0e6, 293
	f, ok := mustFind(t, "sterling").Default(Conductivity, "")
	require.True(t, ok)
	require.InDelta(t, 2.31e-8*conductivity*kelvin, f.Low, 0.5, "with the Lorenz number measured on silver")
	require.InDelta(t, 2.44e-8*conductivity*kelvin, f.High, 0.5, "with that of the theory")
}

func TestHeatFigures(t *testing.T) {
	requireDefaults(t, []defaultFigure{
		{"fine silver", "AG999", "AG_REF", Conductivity, "", 419, 419},
		{"copper", "C11000", "WIE_C110", Conductivity, "", 390, 390},
		{"brass", "C26000", "OLIN_C260", Conductivity, "", 121, 121},
		{"bright copper", "C11000", "computed", Emissivity, SkinClean, 0.02, 0.05},
		{"black copper", "C11000", "computed", Emissivity, SkinOxidised, 0.57, 0.7},
		{"black brass", "C26000", "EM_THOME", Emissivity, SkinOxidised, 0.46, 0.56},
		{"black sterling", "AG925", "judgement", Emissivity, SkinOxidised, 0.3, 0.7},
		{"sterling breaks hot", "AG925", "ORCHID_36543", HotShort, "", 550, 550},
		{"brass breaks warm", "C26000", "memory", HotShort, "", 300, 500},
		{"red gold orders", "AU750R", "ROWE_GOLD", Ordering, "", 427, 427},
		{"rose gold orders", "AU750ROSE", "judgement", Ordering, "", 427, 427},
		{"sterling ages", "AG925", "judgement", Age, "", 300, 316},
		{"germanium sterling ages", "AG925GE", "GE_POST", AgeTime, "", 45, 60},
		{"14k ages", "AU585Y", "WELZ585", Age, "", 250, 250},
		{"rose gold ages", "AU750ROSE", "WELZ750R", AgeTime, "", 30, 30},
	})
}

// Where a range is open it says so; where nobody gives a heat there is none.
func TestHotShortness(t *testing.T) {
	var told []ID
	for _, a := range All() {
		if f, ok := a.Default(HotShort, ""); ok {
			told = append(told, a.ID)
			require.Equal(t, f.Low == f.High, f.Bound == AtLeast, "one value is where it begins: %s", describe(f))
		}
	}
	require.Equal(t, []ID{"AG958", "AG925", "AG800", "C26000", "C27000"}, told)
}

// A heat that hardens has a time, and the ordering of gold asks for a quench.
func TestGuardianAgeingAndOrdering(t *testing.T) {
	for _, a := range All() {
		age, ages := a.Default(Age, "")
		_, timed := a.Default(AgeTime, "")
		require.Equal(t, ages, timed, a.ID)
		if ages {
			require.NotEmpty(t, a.Rules(RuleAge), a.ID)
			window, ok := a.Default(Anneal, "")
			require.True(t, ok)
			require.Less(t, age.High, window.Low, "%s hardens below where it softens", a.ID)
		}
		if f, ok := a.Default(Ordering, ""); ok {
			require.Equal(t, CoolWhileRed, a.Cooling(), "%s hardens below %v °C if it cools slowly", a.ID, f.Low)
			require.True(t, slices.ContainsFunc(a.Rules(RuleQuench), func(r Rule) bool { return r.Use == UseDefault && strings.HasPrefix(r.Text, "No drop test") }), a.ID)
		}
	}
	_, ok := mustFind(t, "brass").Default(Coarsens, "")
	require.False(t, ok, "a furnace figure is shown, and a torch is not warned by it")
	require.Len(t, mustFind(t, "brass").Figures(Coarsens), 1)
}

func TestMisprintedEmissivityIsNotComputedWith(t *testing.T) {
	found := false
	for _, f := range mustFind(t, "copper").Figures(Emissivity) {
		if f.Condition == SkinOxidised && f.Low < 0.1 {
			found = true
			require.Equal(t, UseNever, f.Use, describe(f))
		}
	}
	require.True(t, found, "0.04 for black copper is told, with its reason")
}

func TestGuardianPickle(t *testing.T) {
	none := []ID{"PD950", "SN92", "SN999", "SNPB"} // nothing was read; never heated
	for _, a := range All() {
		rules := a.Rules(RulePickle)
		require.Equal(t, slices.Contains(none, a.ID), len(rules) == 0, a.ID)
		for _, r := range a.Rules(RulePickle) {
			require.NotEqual(t, UseNever, r.Use, a.ID)
		}
	}
	require.Regexp(t, `^Never in the bath of other metals`, mustFind(t, "steel").Rules(RulePickle)[0].Text)
}

// What a smith must be told before the flame is on.
func TestHeatRules(t *testing.T) {
	for _, c := range []struct {
		alloy, word, reason string
		kind                RuleKind
	}{
		{"C75200", "fire-crack", "nickel silver cracks in a fast heat", RuleSlow},
		{"AU750W", "fire-crack", "so does gold with nickel", RuleSlow},
		{"C11000", "hydrogen", "copper that holds oxygen", RuleGas},
		{"PD950", "air to spare", "palladium takes up carbon", RuleGas},
		{"AG925", "without joints", "the soak melts solder", RuleAge},
		{"AU750ROSE", "room temperature", "it hardens by itself", RuleAge},
		{"AU750R", "Alcohol burns", "a dissent that sets fire to the bench", RuleQuench},
		{"C52400", "cool in the air", "the dissent on bronze", RuleQuench},
	} {
		require.True(t, slices.ContainsFunc(mustFind(t, c.alloy).Rules(c.kind), func(r Rule) bool { return strings.Contains(r.Text, c.word) }), "%s: %s", c.alloy, c.reason)
	}
}
