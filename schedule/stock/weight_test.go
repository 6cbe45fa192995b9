package stock

import (
	"strings"
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
)

// Outside check (standard): troy weight of NIST Handbook 44, as shown.
func TestWeightText(t *testing.T) {
	cases := []struct {
		unit, want string
		grams      unit.Gram
		reason     string
	}{
		{"ozt", "1.000 ozt", 31.1034768, "480 grains (NIST Handbook 44)"},
		{"dwt", "20.00 dwt", 31.1034768, "24 grains"},
		{"gr", "480.0 gr", 31.1034768, "64.79891 mg"},
		{"oz", "1.000 oz", 28.349523125, "437.5 grains"},
		{"kg", "0.07100 kg", 71, "to the hundredth of a gram"},
		{"ora", "about 2.7 ora", 71, "one published value: two figures"},
		{"dublin-ounce", "2.67 to 2.96 dublin-ounce", 71, "24 to 26.6: three figures"},
		{"roman-pound", "0.211 to 0.22 roman-pound", 71, "322.8 to 335.92"},
		{"mithqal", "about 1700 mithqal", 7100, "two figures, however many there are"},
	}
	for _, c := range cases {
		t.Run(c.unit, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			w, err := ParseWeight(" " + strings.ToUpper(c.unit) + " ")
			require.NoError(t, err)
			require.Equal(t, c.want, w.Text(c.grams), c.reason)
		})
	}
}

// No historic unit is without a source, and none is shown to more than three figures.
//
// Outside check (handbook): historic weights, each with its source and no more figures than
// that gives.
func TestHistoricWeights(t *testing.T) {
	for _, w := range historic {
		require.NotEmpty(t, w.Source, w.Name)
		require.True(t, 0 < w.Low && w.Low <= w.High, w.Name)
		require.False(t, w.Exact, w.Name)
		require.Contains(t, w.Published(), w.Source)
		for _, g := range []unit.Gram{0.123456, 71.32154, 98765.4321} {
			for _, word := range strings.Fields(w.Text(g)) {
				digits := strings.Trim(strings.ReplaceAll(word, ".", ""), "0")
				if digits != "" && strings.Trim(digits, "0123456789") == "" {
					require.LessOrEqual(t, len(digits), 3, "%s: %s", w.Name, w.Text(g))
				}
			}
		}
	}
	require.Equal(t, "0", figures(0, 3), "nothing is nothing in any unit")
}

func TestUnknownWeight(t *testing.T) {
	for _, name := range []string{"", "stone", "oz t", "g g"} {
		_, err := ParseWeight(name)
		require.ErrorContains(t, err, "expected one of g, kg, ozt, dwt, gr, oz, ora,", name)
	}
	for _, name := range WeightNames() {
		_, err := ParseWeight(name)
		require.NoError(t, err, name)
	}
}
