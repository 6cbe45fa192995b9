package heat

import (
	"math"
	"regexp"
	"strings"
	"testing"
	"time"

	"dullred/alloys"
	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
)

func TestJudge(t *testing.T) {
	for _, c := range []struct {
		s    Softened
		want Softness
		word string
		why  string
	}{
		{Softened{0.9, 0.99, 1}, SoftLikely, "soft", "brass at 8 s"},
		{Softened{0.4, 0.99, 1}, Partly, "partly soft", "the slow end is not half way"},
		{Softened{0.1, 0.5, 1}, Partly, "partly soft", "half"},
		{Softened{0, 0.2, 1}, NotProven, "not proven", "a fifth"},
		{Softened{}, NotProven, "not proven", "nothing"},
	} {
		require.Equal(t, c.want, Judge(c.s), c.why)
		require.Equal(t, c.word, Judge(c.s).String())
	}
	require.Equal(t, "unknown, prove it", Softness(0).String(), "the zero softness")
}

var softened, halfSoftened = Softened{0.9, 0.99, 1}, Softened{0.1, 0.5, 0.9}

var verdicts = []struct {
	name, alloy string
	h           HeatGiven
	want        string
}{
	{"right, known", "brass", HeatGiven{Worked: 0.5, Hottest: 580, Held: 8 * time.Second, Softened: softened, Known: true},
		"right: 580 °C is in the window of 550 to 650 °C, about 99 % softened (90 to 100); bend it to prove it"},
	{"right, unknown kinetics", "sterling", HeatGiven{Worked: 0.5, Hottest: 620},
		"right: 620 °C is in the window of 593 to 649 °C; bend it to prove it"},
	{"no figure", "brass", HeatGiven{Worked: 0.5, Hottest: unit.Celsius(math.NaN())}, "the heat was not measured: prove it by bending"},
	{"held for a week", "brass", HeatGiven{Worked: 0.5, Hottest: 580, Held: 168 * time.Hour, Softened: softened, Known: true},
		"held far too long: in 168 h the grain grows, and it gets no softer"},
	{"soft below the window", "brass", HeatGiven{Worked: 0.8, Hottest: 400, Held: time.Hour, Softened: softened, Known: true},
		"right: 400 °C, about 99 % softened (90 to 100); bend it to prove it"},
	{"outside what was observed", "copper", HeatGiven{Worked: 0.5, Hottest: 600, Softened: softened, Known: true, Outside: "outside the published range of 43 to 350 °C: prove it by bending"},
		"right: 600 °C is in the window of 593 to 649 °C, about 99 % softened (90 to 100, outside the published range of 43 to 350 °C); bend it to prove it"},
	{"by the colour", "brass", HeatGiven{Worked: 0.5, Hottest: 580, Softened: softened, Known: true, Outside: "if the colour was right"},
		"right: 580 °C is in the window of 550 to 650 °C, about 99 % softened (90 to 100, if the colour was right); bend it to prove it"},
	{"moved while hot short from a heat on", "sterling", HeatGiven{Worked: 0.5, Hottest: 640, Moved: true},
		"it was moved at 640 °C, where sterling silver is hot short: look for cracks before the next blow"},
	{"moved above where it is hot short", "brass", HeatGiven{Worked: 0.5, Hottest: 600, Moved: true},
		"right: 600 °C is in the window of 550 to 650 °C; bend it to prove it"},
	{"moved red", "tin bronze", HeatGiven{Worked: 0.5, Hottest: 600, Moved: true},
		"it was moved at 600 °C, where 10 % tin bronze is hot short: look for cracks before the next blow"},
	{"under-heated", "sterling", HeatGiven{Worked: 0.5, Hottest: 480},
		"under-heated: 480 °C is below the window of 593 to 649 °C"},
	{"under-heated, known", "brass", HeatGiven{Worked: 0.5, Hottest: 350, Softened: halfSoftened, Known: true},
		"under-heated: 350 °C is below the window of 550 to 650 °C, about 50 % softened (10 to 90)"},
	{"too short", "brass", HeatGiven{Worked: 0.5, Hottest: 580, Held: 4 * time.Second, Softened: halfSoftened, Known: true},
		"under-heated: 4 s at 580 °C was short, about 50 % softened (10 to 90)"},
	{"over-heated", "brass", HeatGiven{Worked: 0.5, Hottest: 760, Softened: softened, Known: true},
		"over-heated: 760 °C is over the window of 550 to 650 °C: the grain grows, and it gets no softer"},
	{"melting", "sterling", HeatGiven{Worked: 0.5, Hottest: 788},
		"788 °C is at or above the solidus of 788 °C: it began to melt, look for sagged edges and do not hammer it"},
	{"melting as cast", "sterling", HeatGiven{Worked: 0.5, Hottest: 780, Condition: alloys.Cast},
		"780 °C is at or above the solidus of 779.1 °C: it began to melt, look for sagged edges and do not hammer it"},
	{"moved while hot short", "brass", HeatGiven{Worked: 0.5, Hottest: 400, Moved: true},
		"it was moved at 400 °C, where cartridge brass is hot short: look for cracks before the next blow"},
	{"moved, not hot short", "copper", HeatGiven{Worked: 0.5, Hottest: 600, Moved: true},
		"right: 600 °C is in the window of 593 to 649 °C; bend it to prove it"},
	{"already soft", "copper", HeatGiven{Hottest: 620},
		"already soft: more heat will not help; the stock is thick"},
	{"slightly worked", "copper", HeatGiven{Worked: rolled(0.08), Hottest: 620},
		"leave it: 3 to 12 % worked is not annealed, the grain would come out coarse"},
	{"not measured", "copper", HeatGiven{Worked: 0.5},
		"the heat was not measured: prove it by bending"},
}

func TestVerdict(t *testing.T) {
	for _, c := range verdicts {
		t.Run(c.name, func(t *testing.T) {
			var err error
			c.h.Alloy, err = alloys.Find(c.alloy)
			require.NoError(t, err)
			if c.h.Condition == "" {
				c.h.Condition = alloys.Wrought
			}
			require.Equal(t, c.want, Verdict(c.h))
		})
	}
}

func TestVerdictOfTheZeroHeat(t *testing.T) {
	require.NotPanics(t, func() { require.NotEmpty(t, Verdict(HeatGiven{})) })
}

// Each alloy that a rule calls hot short is so from the figure on that goes with it,
// and where no figure does, from red on; the temperatures in a rule are those of its
// figure.
func TestHotShortnessIsWhatTheRulesSay(t *testing.T) {
	number := regexp.MustCompile(`(\d+)( and (\d+))? °C`)
	for _, a := range alloys.All() {
		rule := ""
		for _, r := range a.Rules(alloys.RuleHot) {
			if r.Use == alloys.UseDefault && (strings.Contains(r.Text, "hot short") || strings.Contains(r.Text, "brittle hot")) {
				rule = r.Text
			}
		}
		from, to, ok := hotShortness(a)
		require.Equal(t, rule != "", ok, "%s: %s", a.ID, rule)
		m := number.FindStringSubmatch(rule)
		if m == nil {
			require.True(t, !ok || from == red, "%s: a rule without a temperature", a.ID)
			continue
		}
		require.Equal(t, m[1]+" °C", from.String(), a.ID)
		if m[3] != "" {
			require.Equal(t, m[3]+" °C", to.String(), a.ID)
		}
	}
}

func TestNoAlloyIsCalledRedShortThatHasAFigure(t *testing.T) {
	for _, id := range shortWhenRed {
		a, err := alloys.Find(string(id))
		require.NoError(t, err)
		_, ok := a.Default(alloys.HotShort, "")
		require.False(t, ok, "%s: the figure counts", id)
	}
}

func TestCoarsens(t *testing.T) {
	brass, err := alloys.Find("brass")
	require.NoError(t, err)
	require.Empty(t, Coarsens(brass, 650), "the top of the window")
	require.Contains(t, Coarsens(brass, 651), "over the window of 550 to 650 °C")
	require.Empty(t, Coarsens(alloys.Alloy{}, 1000), "no window is published")
	require.Empty(t, Coarsens(brass, unit.AbsoluteZero))
	for _, a := range alloys.All() {
		window, ok := a.Default(alloys.Anneal, alloys.Wrought)
		for _, f := range a.Figures(alloys.Coarsens) {
			require.True(t, ok && f.High <= window.High, "%s: a figure above the window would have to count", a.ID)
		}
	}
}
