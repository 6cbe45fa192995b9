package alloys

import (
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
)

func mustFind(t *testing.T, name string) Alloy {
	t.Helper()
	a, err := Find(name)
	require.NoError(t, err)
	return a
}

// defaultFigure is a figure of an alloy that is computed with, and its source.
type defaultFigure struct {
	name, alloy, source string
	property            Property
	condition           Condition
	low, high           float64
}

func requireDefaults(t *testing.T, cases []defaultFigure) {
	t.Helper()
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			f, ok := mustFind(t, c.alloy).Default(c.property, c.condition)
			require.True(t, ok)
			require.Equal(t, []any{c.source, c.low, c.high}, []any{f.Source, f.Low, f.High})
		})
	}
}

// Outside check (handbook): the figures of each alloy that are computed with, each as its
// source prints it.
func TestDefaults(t *testing.T) {
	requireDefaults(t, []defaultFigure{
		{"sterling anneals dull red", "AG925", "JALLOY", Anneal, "", 593, 649},
		{"a wrought bar too", "AG925", "JALLOY", Anneal, Wrought, 593, 649},
		{"sterling solidus", "AG925", "JEWSCI_AG", Solidus, Wrought, 788, 788},
		{"a cast bar melts at the eutectic", "AG925", "NIST_AGCU", Solidus, Cast, 779.1, 779.1},
		{"fine silver has no eutectic", "AG999", "AG_ASM", Solidus, Cast, 961.9, 961.9},
		{"fine silver anneals below red", "AG999", "memory", Anneal, "", 300, 500},
		{"copper", "C11000", "WREKIN_ANN", Anneal, "", 593, 649},
		{"brass keeps clear of fume", "C26000", "ALORO_L68", Anneal, "", 550, 650},
		{"bronze", "C52400", "AZOM_C524", Anneal, "", 482, 676},
		{"bronze solidus", "C52400", "CDA_C524", Solidus, "", 843, 843},
		{"cast Britannia melts at the eutectic", "AG958", "NIST_AGCU", Solidus, Cast, 779.1, 779.1},
		{"800 silver melts at the eutectic, wrought too", "AG800", "NIST_AGCU", Solidus, Wrought, 779.1, 779.1},
		{"cast germanium sterling", "AG925GE", "JEWSCI_AG", Solidus, Cast, 766, 766},
		{"14k: hand against mill", "AU585Y", "STRATMANN", Limit, Wrought, 30, 30},
		{"red gold: no more than sterling", "AU750R", "judgement", Limit, Wrought, 45, 45},
		{"rose gold: the first step", "AU750ROSE", "WELZ750R", Limit, Wrought, 30, 40},
		{"60/40 brass by its maker", "C28000", "KMW_CUZN40", Limit, Wrought, 25, 25},
		{"8 % bronze, the lowest of three", "C52100", "MIF_C521", Solidus, "", 880, 880},
		{"bronze, least work", "C52400", "GORDON2006", LeastWork, Wrought, 12, 12},
		{"gilding metal", "C22000", "judgement", Anneal, "", 550, 650},
		{"mild steel", "STEEL1008", "judgement", Anneal, "", 900, 950},
		{"cast sterling, first limit", "AG925", "practice", Limit, Cast, 20, 20},
		{"cast bronze, first limit", "C52400", "judgement", Limit, Cast, 10, 10},
		{"soft sterling sheet", "AG925", "WREKIN_HV", Hardness, Annealed, 66, 76},
		{"soft copper", "C11000", "ANGELOVA2016", Hardness, Annealed, 50, 54},
		{"soft brass", "C26000", "CDA_PUB120", Hardness, Annealed, 70, 70},
	})
}

func TestDefaultIsAbsentWhereNothingIsPublished(t *testing.T) {
	pewter := mustFind(t, "pewter")
	for _, c := range []Condition{"", Wrought, Cast} {
		_, ok := pewter.Default(Limit, c)
		require.False(t, ok, "pewter does not harden, so it has no limit")
		_, ok = pewter.Default(Anneal, c)
		require.False(t, ok, "pewter is never annealed")
		require.Empty(t, pewter.Schools(c))
	}
	_, ok := mustFind(t, "copper").Default(Limit, Annealed)
	require.False(t, ok, "a limit is for cast or wrought metal")
	_, ok = Alloy{}.Default(Density, "")
	require.False(t, ok, "the zero alloy knows nothing")
}

func TestSchools(t *testing.T) {
	names := func(alloy string, c Condition) (schools []string) {
		for _, f := range mustFind(t, alloy).Schools(c) {
			schools = append(schools, f.School)
		}
		return schools
	}
	require.ElementsMatch(t, []string{"half-section", "third-longer", "not-over-half", "every-course", "every-2-3-courses"}, names("AG925", Wrought))
	require.Equal(t, []string{"half-first"}, names("AG925", Cast))
	require.Equal(t, []string{"wire-90"}, names("AG999", Wrought))
	require.Equal(t, []string{"every-course"}, names("C11000", Wrought), "95 % industrial rolling is no school")
	require.Empty(t, names("C26000", Wrought), "65 % cracking is no school")
	require.Equal(t, []string{"breakdown-50"}, names("AU750R", Wrought))
	require.Equal(t, []string{"later-60-70"}, names("AU750ROSE", Wrought))
	require.Empty(t, names("AU585Y", Wrought), "not before 70 % is no limit")
	require.Empty(t, names("AU750Y", Wrought), "50 % or more is no limit")
}

// strainCase is the strain that a figure comes to, if it has one.
type strainCase struct {
	name, reason string
	figure       Figure
	want         float64
	ok           bool
}

func requireStrains(t *testing.T, strain func(Figure) (unit.Strain, bool), cases []strainCase) {
	t.Helper()
	for _, c := range cases {
		got, ok := strain(c.figure)
		require.Equal(t, c.ok, ok, "%s: %s", c.name, c.reason)
		require.InDelta(t, c.want, float64(got), 0.0001, "%s: %s", c.name, c.reason)
	}
}

func TestLimitStrain(t *testing.T) {
	requireStrains(t, Figure.LimitStrain, []strainCase{
		{"45 % of thickness", "2/√3 ln(1/0.55)", Figure{Property: Limit, Low: 45, Unit: PctThickness}, 0.6903, true},
		{"50 % of area", "ln 2", Figure{Property: Limit, Low: 50, Unit: PctArea}, 0.6931, true},
		{"30 % longer", "ln 1.3: 23 % of the area", Figure{Property: Limit, Low: 30, Unit: PctLength}, 0.2624, true},
		{"a course", "has no strain of its own", Figure{Property: Limit, Low: 1, Unit: Courses}, 0, false},
		{"the least work", "is no limit", Figure{Property: LeastWork, Low: 45, Unit: PctThickness}, 0, false},
		{"an elongation", "is no limit", Figure{Property: Elongation, Low: 40, Unit: "pct"}, 0, false},
	})
}

func TestLeastStrain(t *testing.T) {
	requireStrains(t, Figure.LeastStrain, []strainCase{
		{"12 % of thickness", "2/√3 ln(1/0.88)", Figure{Property: LeastWork, Low: 12, High: 12, Unit: PctThickness}, 0.1476, true},
		{"40 to 50 % of area", "the low end is the least: ln(1/0.6)", Figure{Property: LeastWork, Low: 40, High: 50, Unit: PctArea}, 0.5108, true},
		{"a limit", "is no least", Figure{Property: Limit, Low: 45, High: 45, Unit: PctThickness}, 0, false},
	})
}

// What contradicts itself stays visible: every published figure is there, and
// one of each is computed with.
func TestContradictionsStayVisible(t *testing.T) {
	for _, c := range []struct {
		name, alloy, reason string
		property            Property
		low, high           float64
	}{
		{"soft sterling", "AG925", "solution treated against torch annealed", Hardness, 56, 76},
		{"sterling's heat", "AG925", "the coolest torch against the hottest", Anneal, 566, 677},
		{"14k: most work", "AU585Y", "anneal after about 30 %", Limit, 30, 30},
		{"14k: least work", "AU585Y", "not before 70 %", LeastWork, 70, 70},
		{"18k yellow: least work", "AU750Y", "50 % or more", LeastWork, 50, 50},
		{"nickel-white: heat", "AU750W", "furnace against ingot", Anneal, 607, 760},
		{"8 % bronze: solidus", "C52100", "a misprint is shown too", Solidus, 880, 927},
	} {
		low, high := false, false
		for _, f := range mustFind(t, c.alloy).Figures(c.property) {
			low, high = low || f.Low == c.low, high || f.High == c.high
		}
		require.True(t, low && high, "%s: %s", c.name, c.reason)
	}
}

// Silver 10.49 and copper 8.96 g/cm3 mixed by volume; AG_ASM, and copper from
// the published density of the element.
//
// Outside check (handbook): density of sterling by volume from those of silver and copper.
func TestSterlingDensityIsThatOfItsMixture(t *testing.T) {
	mixed := 1 / (.925/10.49 + .075/8.96)
	require.InDelta(t, 10.357, mixed, 0.0005)
	f, ok := mustFind(t, "sterling").Default(Density, "")
	require.True(t, ok)
	require.InDelta(t, mixed, f.Low, 0.005)
}

func TestTheAdvisedQuench(t *testing.T) {
	for alloy, word := range map[string]string{
		"AG999": "Cool it how you like", "AG925": "until the glow has gone", "C11000": "Water or air",
		"C26000": "in the air", "C52400": "plain water", "SN92": "nothing to quench",
		"AG958": "until the glow has gone", "AG925GE": "Do not touch it while it is red", "AG800": "until the glow has gone",
		"AU750Y": "Quench in water", "AU750R": "above 427 °C", "AU750ROSE": "above 427 °C", "AU750W": "in the air",
		"AU585Y": "just pass faint red", "C75200": "in the air", "STEEL1008": "Never quench it to soften it",
		"AL1100": "in the air", "C28000": "in the air", "C51000": "plain water", "SNPB": "Do not heat it.",
	} {
		require.Contains(t, mustFind(t, alloy).Rules(RuleQuench)[0].Text, word)
	}
}
