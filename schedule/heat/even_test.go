package heat

import (
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
)

func TestEvenness(t *testing.T) {
	b := plateOf(silverA1, 10)
	b.Length = 100
	e := b.Even()
	require.InDelta(t, 0.233, e.Through.Seconds(), 0.001, "4 L²/(π²α) with α = 1.74e-4 m²/s, by hand")
	require.InDelta(t, 23.3, e.Along.Seconds(), 0.1, "ten times as far, a hundred times as slow")
	require.InDelta(t, 69.9, e.Settled().Along.Seconds(), 0.3, "even within 5 %: e^-3")
	require.Zero(t, plateOf(silverA1, 10).Even().Along, "no length, no time")
}

func TestLumped(t *testing.T) {
	cases := []struct {
		name, reason string
		metal        Metal
		length       unit.Millimetre
		says         string
	}{
		{"copper", "just short enough", copperA1, 130, ""},
		{"long copper", "just too long", copperA1, 133, "at most 131 mm"},
		{"brass", "just short enough", brassA1, 70, ""},
		{"long brass", "carries heat a quarter as well", brassA1, 72, "at most 70 mm"},
		{"not known", "what is not known is not refused", brassA1, 0, ""},
		{"a metre", "says how long it takes", copperA1, 1000, "to even out along 1000 mm"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			err := Body{Metal: c.metal, Length: c.length}.Lumped()
			if c.says == "" {
				require.NoError(t, err, c.reason)
				return
			}
			require.ErrorContains(t, err, c.says, c.reason)
		})
	}
}

func TestTipsFirst(t *testing.T) {
	round := func(d unit.Millimetre) unit.Size { return unit.Size{Shape: unit.Round, Diameter: d} }
	cases := []struct {
		name, reason string
		sections     []unit.Size
		ratio        float64
		risk         bool
	}{
		{"tapered rod", "3 to 1 in diameter is 3 to 1 in V/A", []unit.Size{round(9), round(5), round(3)}, 3, true},
		{"slight taper", "the hand makes up for that", []unit.Size{round(8), round(5)}, 1.6, false},
		{"sheet and rod", "1 mm sheet is 0.5, a 6 mm rod is 1.5", []unit.Size{{Shape: unit.Sheet, Thick: 1}, round(6)}, 3, true},
		{"one", "nothing to compare", []unit.Size{round(8)}, 1, false},
		{"none", "nothing to compare", nil, 1, false},
		{"unshaped", "has no measure", []unit.Size{{}, round(8)}, 1, false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			ratio, risk := TipsFirst(c.sections)
			require.InDelta(t, c.ratio, ratio, 1e-9, c.reason)
			require.Equal(t, c.risk, risk, c.reason)
		})
	}
}
