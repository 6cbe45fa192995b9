package heat

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys"
	"dullred/alloys/unit"
)

// everything is the exported part of the package, with figures that no bench gives.
// Where a comment says so, a property holds for no more than that.
var everything = map[string]func(t *rapid.T){
	"cooling": func(t *rapid.T) {
		c, from, to := someCooling(t), wildTemp(t, "from"), wildTemp(t, "to")
		d, err := c.Time(from, to)
		times(t, "time", d)
		require.True(t, err == nil || d == 0)
		if !math.IsNaN(float64(from)) {
			numbers(t, "after", float64(c.After(from, someTime(t))))
		}
	},
	"coefficients": func(t *rapid.T) {
		h, at := someHeating(t), wildTemp(t, "at")
		numbers(t, "cooling", h.cooling().Coefficient(at), h.cooling().Biot(at))
		numbers(t, "heating", h.Biot(at))
	},
	"heating": func(t *rapid.T) {
		h, from, to := someHeating(t), wildTemp(t, "from"), wildTemp(t, "to")
		d, err := h.Time(from, to)
		times(t, "time", d)
		require.True(t, err == nil || d == 0)
		numbers(t, "equilibrium", float64(h.Equilibrium()))
		if !math.IsNaN(float64(from)) {
			numbers(t, "after", float64(h.After(from, someTime(t))))
		}
	},
	"body": func(t *rapid.T) {
		b := someBody(t)
		numbers(t, "body", b.Volume, b.Area, float64(b.Mass()), float64(b.Depth), b.Biot(figure(t, "h")))
		e, s := b.Even(), b.Even().Settled()
		times(t, "even", e.Through, e.Along, s.Through, s.Along)
		require.NotContains(t, fmt.Sprint(b.Lumped()), "NaN")
	},
	"tips": func(t *rapid.T) {
		ratio, _ := TipsFirst([]unit.Size{wildSize(t), wildSize(t)})
		numbers(t, "tips", ratio)
	},
	"glow": func(t *rapid.T) {
		g := GlowAt(wildTemp(t, "at"), share(t))
		require.Regexp(t, "^#[0-9a-f]{6}$", g.SRGB)
		numbers(t, "glow", g.X, g.Y, g.Luminance, float64(temperatureOf(wild(t, "bright"))))
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
		for _, r := range k.rates(worked, at) {
			numbers(t, "rate", r)
		}
		low, likely, high := k.Time(worked, at, wild(t, "fraction"))
		times(t, "time", low, likely, high)
		require.NotContains(t, k.Within(worked, at)+k.Basis()+Spare(worked), "NaN")
		require.NotEmpty(t, Judge(s).String())
		s = k.from(worked, [3]float64{wild(t, "slow"), wild(t, "likely"), wild(t, "fast")})
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
	"ceiling": func(t *rapid.T) {
		a := someAlloy(t)
		joints := []Joint{{"", "x", wildTemp(t, "joint")}, {"lug", "y", wildTemp(t, "another")}}
		c, ok := CeilingOf(a, alloys.Wrought, joints, wildTemp(t, "margin"))
		require.True(t, ok)
		low, high, text, _ := c.Window(wildTemp(t, "low"), wildTemp(t, "high"))
		numbers(t, "ceiling", float64(c.Temp), float64(c.Margin), float64(low), float64(high))
		require.NotContains(t, text+c.Because, "NaN")
		below, text, _ := NextSolder(joints, wildTemp(t, "a margin"))
		numbers(t, "next", float64(below))
		require.NotContains(t, text, "NaN")
		require.Len(t, InOrder(joints), 2)
	},
	"joint": func(t *rapid.T) {
		name := rapid.SampledFrom([]string{"", "easy", "BAg-7", "nonesuch"}).Draw(t, "solder")
		j, err := JointOf(alloys.Default(), name, wildTemp(t, "solidus"), wildTemp(t, "flow"))
		require.True(t, err != nil || j.Solidus >= 50 && j.Solidus <= 2000, "%v", j)
		if m := wildTemp(t, "margin"); CheckMargin(m) == nil {
			require.True(t, m >= 0 && m <= MaxMargin)
		}
	},
	"surface": func(t *rapid.T) {
		a := someAlloy(t)
		s := rapid.SampledFrom(append(surfaces(), SurfaceUnknown, "rough")).Draw(t, "surface")
		own, err := OwnEmissivity(share(t))
		require.True(t, err != nil || own.Value > 0 && own.Value <= 1, "%v", own)
		for _, of := range []func(alloys.Alloy, Surface) (Emissivity, bool){EmissivityOf, ShineOf} {
			e, ok := of(a, s)
			require.True(t, !ok || 0 < e.Low && e.Low <= e.Value && e.Value <= e.High && e.High <= 1, "%v", e)
		}
		m, err := MetalOf(a)
		require.True(t, err != nil || m.Density > 0 && m.SpecificHeat > 0 && m.Conductivity > 0, "%v", m)
	},
	"verdict": func(t *rapid.T) {
		a := someAlloy(t)
		k, worked := wildKinetics(t), wildWork(t)
		words := Verdict(HeatGiven{Alloy: a, Worked: worked, Hottest: wildTemp(t, "hottest"), Held: someTime(t), Softened: k.Soften(worked, wildHistory(t)),
			Moved: rapid.Bool().Draw(t, "moved"), Known: rapid.Bool().Draw(t, "known"), Outside: k.Within(worked, wildTemp(t, "at"))})
		require.NotEmpty(t, words)
		require.NotRegexp(t, "NaN|Inf", words+Coarsens(a, wildTemp(t, "over")))
	},
}

func TestNothingPanicsAndNoResultIsNoNumber(t *testing.T) {
	for name, property := range everything {
		t.Run(name, func(t *testing.T) { rapid.Check(t, property) })
	}
}
