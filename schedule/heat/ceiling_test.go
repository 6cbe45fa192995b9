package heat

import (
	"math"
	"testing"

	"dullred/alloys"
	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func found(t testing.TB, name string) alloys.Alloy {
	t.Helper()
	a, err := alloys.Find(name)
	require.NoError(t, err)
	return a
}

func TestCeilingOf(t *testing.T) {
	easy := Joint{"handle", "easy silver solder", 680}
	for _, c := range []struct {
		name, alloy string
		condition   alloys.Condition
		joints      []Joint
		margin      unit.Celsius
		want        unit.Celsius
		because     string
	}{
		{"sterling", "sterling", alloys.Wrought, nil, 50, 738, "sterling silver starts to melt at 788 °C"},
		{"cast sterling holds eutectic", "sterling", alloys.Cast, nil, 50, 729.1, "sterling silver, as cast, starts to melt at 779.1 °C"},
		{"800 silver by the eutectic", "800 silver", alloys.Wrought, nil, 50, 729.1, "800 silver starts to melt at 779.1 °C"},
		{"a joint melts first", "sterling", alloys.Wrought, []Joint{easy}, 50, 630, "the joint (handle, easy silver solder) lets go at 680 °C"},
		{"the lowest joint", "sterling", alloys.Wrought, []Joint{easy, {"", "own solder", 618}}, 50, 568, "the joint (own solder) lets go at 618 °C"},
		{"a joint that outlasts the metal", "tin bronze", alloys.Wrought, []Joint{{"", "x", 870}}, 50, 793, "10 % tin bronze starts to melt at 843 °C"},
		{"no margin", "brass", alloys.Wrought, nil, 0, 916, "cartridge brass starts to melt at 916 °C"},
		{"too much margin", "brass", alloys.Wrought, nil, 900, 716, "cartridge brass starts to melt at 916 °C"},
		{"no figure", "brass", alloys.Wrought, nil, unit.Celsius(math.NaN()), 866, "cartridge brass starts to melt at 916 °C"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, ok := CeilingOf(found(t, c.alloy), c.condition, c.joints, c.margin)
			require.True(t, ok)
			require.InDelta(t, float64(c.want), float64(got.Temp), 1e-9)
			require.Equal(t, c.because, got.Because)
			require.InDelta(t, float64(got.Temp)-600, float64(got.Room(600)), 1e-9)
		})
	}
	_, ok := CeilingOf(alloys.Alloy{}, alloys.Wrought, nil, 50)
	require.False(t, ok, "nothing is known")
	c, ok := CeilingOf(alloys.Alloy{Name: "my gold"}, alloys.Wrought, []Joint{easy}, 50)
	require.True(t, ok)
	require.Contains(t, c.Because, "the solidus of my gold itself is not known")
}

func TestCheckMargin(t *testing.T) {
	for _, m := range []unit.Celsius{0, DefaultMargin, MaxMargin} {
		require.NoError(t, CheckMargin(m))
	}
	for _, m := range []unit.Celsius{-1, 201, unit.Celsius(math.NaN()), unit.Celsius(math.Inf(1))} {
		require.Error(t, CheckMargin(m))
	}
}

func TestJointOf(t *testing.T) {
	for _, c := range []struct {
		solder        string
		solidus, flow unit.Celsius
		want          Joint
		err           string
		why           string
	}{
		{"BAg-7", 0, 0, Joint{"", "silver brazing alloy BAg-7", 618}, "", "published"},
		{"extra easy", 0, 0, Joint{"", "extra-easy silver solder", 618}, "", "published as a melting point"},
		{"easy", 0, 0, Joint{}, "no solidus is published for easy silver solder: type the maker's (the flow point of 718 °C is not one", "a flow point only"},
		{"easy", 0, 705, Joint{}, "the flow point of 705 °C is not one", "an own flow point serves no more"},
		{"easy", 680, 718, Joint{"", "easy silver solder", 680}, "", "the maker's"},
		{"easy", 740, 718, Joint{}, "a flow point of 718 °C below the solidus of 740 °C cannot be", "swapped"},
		{" ", 665, 0, Joint{"", ownSolder, 665}, "", "no name"},
		{"Grandfather's", 665, 0, Joint{"", "Grandfather's", 665}, "", "a name that nobody knows"},
		{"", 0, 0, Joint{}, "a joint needs its solder", "nothing"},
		{"", 0, 700, Joint{}, "a joint needs its solder", "a flow point alone"},
		{"nonesuch", 0, 0, Joint{}, `no solder is called "nonesuch"`, "unknown"},
		{"BAg-3", 0, 0, Joint{}, "cadmium", "listed, to be kept off"},
		{"AWS BAg-2a", 640, 700, Joint{}, "cadmium", "an own solidus does not make it safe"},
		{"BAg-1", 607, 0, Joint{}, "cadmium", "not listed"},
		{"easy, cadmium-bearing", 600, 0, Joint{}, "cadmium", "said in its name"},
		{"", 5000, 0, Joint{}, "not believable", "no metal"},
		{"", unit.Celsius(math.NaN()), 0, Joint{}, "not believable", "no figure"},
	} {
		got, err := JointOf(alloys.Default(), c.solder, c.solidus, c.flow)
		if c.err != "" {
			require.ErrorContains(t, err, c.err, c.why)
			continue
		}
		require.NoError(t, err, c.why)
		require.Equal(t, c.want, got, c.why)
	}
}

func TestWindow(t *testing.T) {
	for _, c := range []struct {
		ceiling, low, high, lo, hi unit.Celsius
		text                       string
		ok                         bool
	}{
		{738, 593, 649, 593, 649, "593 to 649 °C, with 89 °C to spare under the ceiling", true},
		{630, 593, 649, 593, 629, "593 to 629 °C and no more, since it melts", true},
		{629.1, 593, 649, 593, 629, "593 to 629 °C and no more, since it melts", true},
		{594, 593, 649, 593, 593, "593 to 593 °C and no more, since it melts", true},
		{593, 593, 649, 0, 0, "nothing of 593 to 649 °C is left under 593 °C, since it melts: anneal before soldering", false},
		{568, 593, 649, 0, 0, "or hold it longer just under that and prove it by bending, or leave it hard", false},
	} {
		lo, hi, text, ok := Ceiling{Temp: c.ceiling, Because: "it melts"}.Window(c.low, c.high)
		require.Equal(t, c.ok, ok, c.text)
		require.Equal(t, []unit.Celsius{c.lo, c.hi}, []unit.Celsius{lo, hi}, c.text)
		require.Contains(t, text, c.text)
	}
}

// A soldered piece with a solidus of 680 °C and a heat of 650 °C has 30 °C between
// them, less than the usual margin.
//
// Outside check (common practice): what lies between an annealing heat and easy solder.
func TestTheUsualMarginOverEasySolder(t *testing.T) {
	c, ok := CeilingOf(found(t, "sterling"), alloys.Wrought, []Joint{{"", "easy", 680}}, DefaultMargin)
	require.True(t, ok)
	require.EqualValues(t, -20, c.Room(650))
}

func TestInOrderAndNext(t *testing.T) {
	joints := []Joint{{"foot", "b", 680}, {"rim", "a", 780}, {"lug", "c", 680}, {"knob", "d", 700}}
	require.Equal(t, []Joint{{"rim", "a", 780}, {"knob", "d", 700}, {"foot", "b", 680}, {"lug", "c", 680}}, InOrder(joints))
	require.Equal(t, "foot", joints[0].Name, "the given list stays as it was")
	below, text, ok := NextSolder(joints, 50)
	require.True(t, ok)
	require.EqualValues(t, 630, below)
	require.Equal(t, "the next joint must flow below 630 °C: lug, c lets go at 680 °C", text)
	_, _, ok = NextSolder(nil, 50)
	require.False(t, ok)
}

func TestNoHeatIsAdvisedAtOrAboveTheCeiling(t *testing.T) {
	all := alloys.All()
	rapid.Check(t, func(rt *rapid.T) {
		a := rapid.SampledFrom(all).Draw(rt, "alloy")
		condition := rapid.SampledFrom([]alloys.Condition{alloys.Wrought, alloys.Cast}).Draw(rt, "condition")
		joints := rapid.SliceOfN(rapid.Map(rapid.Float64Range(180, 1000), func(s float64) Joint { return Joint{"", "s", unit.Celsius(s)} }), 0, 4).Draw(rt, "joints")
		margin := unit.Celsius(rapid.Float64Range(0, 200).Draw(rt, "margin"))
		c, known := CeilingOf(a, condition, joints, margin)
		f, has := a.Default(alloys.Anneal, condition)
		if !known || !has {
			return
		}
		for _, j := range joints {
			require.LessOrEqual(rt, c.Temp, j.Solidus-margin)
		}
		lo, hi, text, ok := c.Window(unit.Celsius(f.Low), unit.Celsius(f.High))
		require.NotEmpty(rt, text)
		if !ok {
			return
		}
		require.Less(rt, hi, c.Temp)
		require.LessOrEqual(rt, lo, hi)
	})
}
