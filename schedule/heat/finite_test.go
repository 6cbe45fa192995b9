package heat

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys"
	"dullred/alloys/unit"
)

// wild draws what a bench never gives: far too much, no number, no end.
func wild(t *rapid.T, name string) float64 {
	switch rapid.IntRange(0, 7).Draw(t, name+" of a kind") {
	case 0, 1:
		return rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, -273.15, 1e-9, 20, 1e6, -1e6}).Draw(t, name)
	case 2, 3:
		return figure(t, name)
	}
	return rapid.Float64Range(-273, 4000).Draw(t, name)
}

// figure is a number, believable or not.
func figure(t *rapid.T, name string) float64 { return rapid.Float64Range(-1e6, 1e6).Draw(t, name) }

func wildTemp(t *rapid.T, name string) unit.Celsius { return unit.Celsius(wild(t, name)) }

// share is an emissivity: half of them can be.
func share(t *rapid.T) float64 {
	if rapid.Bool().Draw(t, "an emissivity that can be") {
		return rapid.Float64Range(0, 1).Draw(t, "emissivity")
	}
	return wild(t, "emissivity")
}

// wildLength is none, or more than a millionth of a mm.
func wildLength(t *rapid.T, name string) unit.Millimetre {
	return unit.Millimetre(rapid.OneOf(rapid.Just(0.), rapid.Float64Range(1e-6, 1000), rapid.Float64Range(1e-6, 1e6)).Draw(t, name))
}

func wildSize(t *rapid.T) unit.Size {
	z := unit.Size{Shape: rapid.SampledFrom([]unit.Shape{unit.Rectangular, unit.Square, unit.Sheet, unit.Round, unit.Tube, unit.Ring, 99}).Draw(t, "shape")}
	a, b, c := wildLength(t, "a"), wildLength(t, "b"), wildLength(t, "c")
	switch z.Shape {
	case unit.Rectangular:
		z.Thick, z.Width = a, b
	case unit.Square:
		z.Thick, z.Width = a, a
	case unit.Sheet:
		z.Thick = a
	case unit.Round:
		z.Diameter = a
	case unit.Tube:
		z.Thick, z.Diameter = a, b
	default:
		z.Thick, z.Width, z.Diameter = a, b, c
	}
	return z
}

func someMetal(t *rapid.T) Metal {
	return rapid.SampledFrom([]Metal{copperA1, silverA1, goldA1, brassA1}).Draw(t, "metal")
}

// someBody is of a metal that there is and of a size that can be, or the zero Body.
func someBody(t *rapid.T) Body {
	b, _ := BodyOf(someMetal(t), wildSize(t), wildLength(t, "length"))
	return b
}

func someFlame(t *rapid.T) Flame {
	if rapid.Bool().Draw(t, "a flame of a bench") {
		return Flame{Temp: BenchFlame, H: rapid.Float64Range(1, 500).Draw(t, "h of a torch"), Faces: 1, Brick: rapid.Bool().Draw(t, "brick")}
	}
	return Flame{Temp: wildTemp(t, "flame"), H: wild(t, "h of the flame"), Faces: rapid.IntRange(-1, 3).Draw(t, "faces"), Brick: rapid.Bool().Draw(t, "brick")}
}

func someCooling(t *rapid.T) Cooling {
	return Cooling{Body: someBody(t), Emissivity: share(t), Room: rapid.SampledFrom([]unit.Celsius{20, wildTemp(t, "room")}).Draw(t, "room taken"), H: rapid.SampledFrom([]float64{0, 10, wild(t, "h")}).Draw(t, "h taken")}
}

func someHeating(t *rapid.T) Heating {
	c := someCooling(t)
	return Heating{Body: c.Body, Flame: someFlame(t), Emissivity: c.Emissivity, Room: c.Room, H: c.H}
}

func someTime(t *rapid.T) time.Duration { return time.Duration(rapid.Int64().Draw(t, "time")) }

func numbers(t *rapid.T, what string, all ...float64) {
	t.Helper()
	for _, v := range all {
		require.False(t, math.IsNaN(v), what)
	}
}

func times(t *rapid.T, what string, all ...time.Duration) {
	t.Helper()
	for _, d := range all {
		require.GreaterOrEqual(t, d, time.Duration(0), what)
	}
}

func wildWork(t *rapid.T) unit.Strain {
	return unit.Strain(rapid.SampledFrom([]float64{0.5, 0.1, wild(t, "work")}).Draw(t, "work taken"))
}

func wildHistory(t *rapid.T) []Span {
	var all []Span
	for range rapid.IntRange(0, 3).Draw(t, "spans") {
		all = append(all, Span{wildTemp(t, "span"), someTime(t)})
	}
	return all
}

func wildKinetics(t *rapid.T) Kinetics {
	a, _ := alloys.Find(rapid.SampledFrom([]string{"brass", "copper", "fine silver", "sterling"}).Draw(t, "kinetics of"))
	k, _ := KineticsOf(a)
	var proofs []Proof
	for range rapid.IntRange(0, 3).Draw(t, "proofs") {
		proofs = append(proofs, Proof{wildWork(t), wildHistory(t), rapid.Bool().Draw(t, "soft")})
	}
	return k.Proved(proofs)
}

// everything is the exported part of the package, with figures that no bench gives.
// Where a comment says so, a property holds for no more than that.
var everything = map[string]func(t *rapid.T){
	"cooling": func(t *rapid.T) {
		c, from, to := someCooling(t), wildTemp(t, "from"), wildTemp(t, "to")
		d, err := c.Time(from, to)
		times(t, "time", d)
		require.True(t, err == nil || d == 0)
		sum, _ := c.Along(from, to, func(unit.Celsius) float64 { return 1 })
		numbers(t, "along", sum)
		if !math.IsNaN(float64(from)) {
			numbers(t, "after", float64(c.After(from, someTime(t))))
		}
	},
	"coefficients": func(t *rapid.T) { // of what can be reckoned with
		h, at := someHeating(t), wildTemp(t, "at")
		if h.cooling().check() == nil && believable(at) == nil {
			numbers(t, "cooling", h.cooling().Coefficient(at), h.cooling().Biot(at))
		}
		if h.check() == nil && believable(at) == nil {
			numbers(t, "heating", h.Biot(at))
		}
	},
	"radiation time": func(t *rapid.T) { // with room < to < from, and a skin that radiates
		c := someCooling(t)
		c.Room = unit.Celsius(rapid.Float64Range(-20, 60).Draw(t, "a room"))
		to := rapid.Float64Range(float64(c.Room)+0.1, 999).Draw(t, "to")
		from := rapid.Float64Range(to, 4000).Draw(t, "from")
		if c.check() == nil && c.Emissivity >= 0.01 {
			times(t, "radiation", c.RadiationTime(unit.Celsius(from), unit.Celsius(to)))
		}
	},
	"heating": func(t *rapid.T) {
		h, from, to := someHeating(t), wildTemp(t, "from"), wildTemp(t, "to")
		d, err := h.Time(from, to)
		times(t, "time", d)
		require.True(t, err == nil || d == 0)
		sum, _ := h.Along(from, to, func(unit.Celsius) float64 { return 1 })
		numbers(t, "along", sum, float64(h.Equilibrium()))
		if !math.IsNaN(float64(from)) {
			numbers(t, "after", float64(h.After(from, someTime(t))))
		}
	},
	"body": func(t *rapid.T) {
		b := someBody(t)
		if b != (Body{}) {
			numbers(t, "body", b.Volume, b.Area, b.Ratio(), b.Capacity(), float64(b.Mass()), float64(b.Depth))
			e, s := b.Even(), b.Even().Settled()
			times(t, "even", e.Through, e.Along, s.Through, s.Along)
			require.NotContains(t, fmt.Sprint(b.Lumped()), "NaN")
		}
	},
	"tips": func(t *rapid.T) {
		ratio, _ := TipsFirst([]unit.Size{wildSize(t), wildSize(t)})
		numbers(t, "tips", ratio)
	},
	"touch": func(t *rapid.T) { // of temperatures that are numbers
		hot, skin := unit.Celsius(figure(t, "hot")), unit.Celsius(figure(t, "skin"))
		numbers(t, "touch", float64(ContactTemperature(someMetal(t), hot, skin)), float64(ContactTemperature(Metal{}, hot, skin)))
	},
	"glow": func(t *rapid.T) {
		g := GlowAt(wildTemp(t, "at"), share(t))
		require.Regexp(t, "^#[0-9a-f]{6}$", g.SRGB)
		numbers(t, "glow", g.X, g.Y, g.Luminance, float64(TemperatureOf(wild(t, "bright"))))
		numbers(t, "radiance", Radiance(rapid.Float64Range(1e-9, 1e-3).Draw(t, "wavelength"), unit.Kelvin(wild(t, "kelvin"))))
	},
	"eye": func(t *rapid.T) {
		e := Eye{rapid.SampledFrom(append(Lights(), "", "other")).Draw(t, "light"), share(t), wild(t, "shade")}
		perhaps, sure := e.FirstSeen()
		numbers(t, "first", float64(perhaps), float64(sure), Transmittance(e.Shade))
		require.NotEmpty(t, e.Sees(wildTemp(t, "at")).String())
	},
	"words": func(t *rapid.T) {
		require.NotContains(t, Words(wildTemp(t, "at")), Word{})
	},
	"kinetics": func(t *rapid.T) {
		k, worked, at := wildKinetics(t), wildWork(t), wildTemp(t, "at")
		s := k.Soften(worked, wildHistory(t))
		numbers(t, "soften", s.Low, s.Likely, s.High)
		require.True(t, 0 <= s.Low && s.Low <= s.High && s.High <= 1)
		for _, r := range k.Rate(worked) {
			numbers(t, "rate", r(at))
		}
		low, likely, high := k.Time(worked, at, wild(t, "fraction"))
		times(t, "time", low, likely, high)
		require.NotContains(t, k.Within(1, 500), "NaN")
		require.NotEmpty(t, Judge(s).String())
		s = k.From(worked, [3]float64{wild(t, "slow"), wild(t, "likely"), wild(t, "fast")})
		numbers(t, "from", s.Low, s.Likely, s.High)
	},
	"learn": func(t *rapid.T) { // from a prior with two ends, and from what Timed.H gives
		timed := Timed{someHeating(t), wildTemp(t, "from"), wildTemp(t, "to"), someTime(t)}
		prior := Prior{rapid.Float64Range(1e-3, 1e6).Draw(t, "low"), figure(t, "high")}
		found := rapid.SliceOfN(rapid.Float64Range(1, strongest), 0, 5).Draw(t, "found")
		for _, l := range []Learned{Learn(prior, []Timed{timed}), LearnedFrom(found)} {
			numbers(t, "learned", l.H, l.Low, l.High)
			low, likely, high, _ := l.Time(timed.Heating, timed.From, timed.To)
			times(t, "time", low, likely, high)
		}
	},
	"ceiling": func(t *rapid.T) { // of joints that have a solidus
		a := rapid.SampledFrom(alloys.All()).Draw(t, "alloy")
		c, ok := CeilingOf(a, alloys.Wrought, []Joint{{"", "x", unit.Celsius(figure(t, "joint"))}}, wildTemp(t, "margin"))
		require.True(t, ok)
		low, high, text, _ := c.Window(wildTemp(t, "low"), wildTemp(t, "high"))
		numbers(t, "ceiling", float64(c.Temp), float64(c.Margin), float64(low), float64(high))
		require.NotEmpty(t, text)
	},
	"verdict": func(t *rapid.T) { // of a heat that is a number
		a := rapid.SampledFrom(alloys.All()).Draw(t, "alloy")
		k, worked := wildKinetics(t), wildWork(t)
		words := Verdict(HeatGiven{Alloy: a, Worked: worked, Hottest: unit.Celsius(figure(t, "hottest")), Held: someTime(t), Softened: k.Soften(worked, wildHistory(t)),
			Moved: rapid.Bool().Draw(t, "moved"), Known: rapid.Bool().Draw(t, "known")})
		require.NotEmpty(t, words)
		require.NotRegexp(t, "NaN|Inf", words)
	},
}

func TestNothingPanicsAndNoResultIsNoNumber(t *testing.T) {
	for name, property := range everything {
		t.Run(name, func(t *testing.T) { rapid.Check(t, property) })
	}
}
