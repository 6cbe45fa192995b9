package heat

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys/unit"
)

// A perfect radiator throws nothing back, so that only the points of the National
// Bureau of Standards (Bulletin 2, 1905) are left.
//
// Outside check (handbook): where the first glow is seen, National Bureau of Standards,
// Bulletin 2, 1905.
func TestAPerfectRadiatorShowsAtThePublishedPoints(t *testing.T) {
	for light, want := range map[Light]float64{LightDark: 400, LightDim: 474, LightLamp: 525, LightDay: 525, LightUnknown: 525, "candle": 525} {
		perhaps, sure := Eye{Light: light, Emissivity: 1}.FirstSeen()
		require.InDelta(t, want, float64(perhaps), 0.01, string(light))
		require.Equal(t, perhaps, sure, string(light))
	}
}

func TestSees(t *testing.T) {
	cases := []struct {
		name, reason string
		eye          Eye
		temp         unit.Celsius
		want         Sight
	}{
		{"black in the dark", "above 400 °C", Eye{LightDark, 1, 0}, 401, Seen},
		{"black in the dark, colder", "below 400 °C", Eye{LightDark, 1, 0}, 399, NotSeen},
		// 500 lx come off at 500·0.4/π = 63.7 cd/m²; 2 % and 5 % are 1.27 and 3.18, over 0.6
		// 2.12 and 5.31 cd/m², which a perfect radiator gives near 715 and 757 °C.
		{"oxidised by a lamp", "the metal throws back more than it glows", Eye{LightLamp, 0.6, 0}, 700, NotSeen},
		{"oxidised by a lamp, hotter", "between 2 and 5 %", Eye{LightLamp, 0.6, 0}, 730, PerhapsSeen},
		{"oxidised by a lamp, bright", "above 5 %", Eye{LightLamp, 0.6, 0}, 770, Seen},
		{"oxidised in the dark", "nothing comes off in the dark", Eye{LightDark, 0.6, 0}, 700, Seen},
		// 5 lx come off at 0.64 cd/m²: 2 % over 0.6 is 0.0212, given near 554 °C.
		{"oxidised in a dim corner", "below 2 %", Eye{LightDim, 0.6, 0}, 545, NotSeen},
		{"oxidised in a dim corner, hotter", "between 2 and 5 %", Eye{LightDim, 0.6, 0}, 565, PerhapsSeen},
		{"black behind shade 3", "14 % of what 525 °C asks for pass", Eye{LightLamp, 1, 3}, 530, NotSeen},
		{"black without it", "the same heat", Eye{LightLamp, 1, 0}, 530, Seen},
		{"oxidised by a lamp behind shade 3", "glow and room are dimmed alike", Eye{LightLamp, 0.6, 3}, 770, Seen},
		{"the zero eye", "no emissivity, no light", Eye{}, 1500, NotSeen},
		{"emissivity not a number", "nothing is known", Eye{LightDark, math.NaN(), 0}, 1500, NotSeen},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) { require.Equal(t, c.want, c.eye.Sees(c.temp), c.reason) })
	}
}

// The light that comes off a grey metal, reckoned by hand as above.
func TestFirstSeenOfOxidisedMetalByALamp(t *testing.T) {
	perhaps, sure := Eye{Light: LightLamp, Emissivity: 0.6}.FirstSeen()
	require.InEpsilon(t, 0.02*500*0.4/math.Pi/0.6, GlowAt(perhaps, 1).Luminance, 1e-6)
	require.InEpsilon(t, 0.05*500*0.4/math.Pi/0.6, GlowAt(sure, 1).Luminance, 1e-6)
}

func TestAZeroEyeNeverSees(t *testing.T) {
	perhaps, sure := Eye{}.FirstSeen()
	require.Greater(t, perhaps, 2*unit.MaxTemperature)
	require.Equal(t, perhaps, sure)
}

func TestSightInWords(t *testing.T) {
	for sight, want := range map[Sight]string{NotSeen: "not visible", PerhapsSeen: "perhaps just visible", Seen: "visible", 9: "not visible"} {
		require.Equal(t, want, sight.String())
	}
}

// anyEye is any light, surface and eyewear.
func anyEye(t *rapid.T) Eye {
	return Eye{Light: rapid.SampledFrom(Lights()).Draw(t, "light"), Emissivity: rapid.Float64Range(0.01, 1).Draw(t, "emissivity"),
		Shade: rapid.Float64Range(0, 14).Draw(t, "shade")}
}

const rounding unit.Celsius = 1e-6

// notEarlier requires that the second eye sees nothing before the first.
func notEarlier(t *rapid.T, first, second Eye) {
	perhaps, sure := first.FirstSeen()
	laterPerhaps, laterSure := second.FirstSeen()
	require.GreaterOrEqual(t, laterPerhaps+rounding, perhaps)
	require.GreaterOrEqual(t, laterSure+rounding, sure)
	require.LessOrEqual(t, perhaps, sure+rounding)
}

func TestABrighterRoomNeverShowsEarlier(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := anyEye(t)
		for i, light := range Lights()[1:] {
			darker, brighter := e, e
			darker.Light, brighter.Light = Lights()[i], light
			notEarlier(t, darker, brighter)
		}
	})
}

func TestALowerEmissivityNeverShowsEarlier(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		strong := anyEye(t)
		weak := strong
		weak.Emissivity = rapid.Float64Range(0.005, strong.Emissivity).Draw(t, "lower emissivity")
		notEarlier(t, strong, weak)
	})
}

func TestADarkerShadeNeverShowsEarlier(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		light := anyEye(t)
		dark := light
		dark.Shade = rapid.Float64Range(light.Shade, 16).Draw(t, "darker shade")
		notEarlier(t, light, dark)
	})
}

func TestSeesAgreesWithFirstSeen(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := anyEye(t)
		perhaps, sure := e.FirstSeen()
		require.Equal(t, NotSeen, e.Sees(perhaps-0.01))
		require.Equal(t, Seen, e.Sees(sure+0.01))
		if sure-perhaps > 0.1 {
			require.Equal(t, PerhapsSeen, e.Sees((perhaps+sure)/2))
		}
	})
}

// BenchmarkFirstSeen is asked for in each frame while a heat runs.
func BenchmarkFirstSeen(b *testing.B) {
	e := Eye{Light: LightLamp, Emissivity: 0.6}
	for b.Loop() {
		e.FirstSeen()
	}
}
