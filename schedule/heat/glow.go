package heat

import (
	"math"

	"dullred/alloys/unit"
)

const (
	// faintest is in cd/m²: about what rods still catch in full dark (order of the
	// absolute threshold, textbooks, from memory).
	faintest = 1e-6
	coldest  = 100   // K, below which no temperature is told from a luminance
	hottest  = 10000 // K, far above any flame
)

// Glow is the light that a hot surface gives of itself.
type Glow struct {
	X, Y      float64 // CIE 1931 chromaticity
	Luminance float64 // cd/m² of the surface, emissivity included
	SRGB      string  // "#rrggbb" at full brightness: a label, not a colour standard
	Clipped   bool    // the colour lies outside of what a screen can show
}

// GlowAt is the glow of a grey surface: Planck's law through the CIE 1931 2-degree
// observer in steps of 5 nm from 360 to 830 nm, times an emissivity, which is cut to
// 0 to 1. The steps change the luminance by 1.5e-5 of it at 750 K and by less above.
//
// Where the luminance falls below 1e-6 cd/m² no eye catches it, and the swatch is
// "#000000", not clipped. The chromaticity stays that of the radiator until its
// figures run out of range near absolute zero; from there x and y are 0. Above
// 10000 K everything is taken as that.
func GlowAt(t unit.Celsius, emissivity float64) Glow {
	light := seenBy(weighedTable(), min(t.Kelvin(), hottest))
	g := Glow{Luminance: light.y * emitting(emissivity), SRGB: unlit}
	g.X, g.Y = light.chromaticity()
	if g.Luminance >= faintest {
		g.SRGB, g.Clipped = light.swatch()
	}
	return g
}

// emitting cuts an emissivity to 0 to 1; what is no number is 0.
func emitting(emissivity float64) float64 {
	if !(emissivity > 0) {
		return 0
	}
	return min(emissivity, 1)
}

// luminance is that of a perfect radiator in cd/m².
func luminance(t unit.Kelvin) float64 {
	if !(t > 0) {
		return 0
	}
	sum := 0.0
	for _, w := range weighedTable() {
		sum += w.y / math.Expm1(w.exponent/float64(t))
	}
	return sum
}

// temperatureOf is how hot a perfect radiator of a luminance in cd/m² is, the
// inverse of GlowAt. What gives no light, or less than at 100 K, is at absolute
// zero; what is brighter than at 10000 K is at that.
//
// The logarithm of the luminance is nearly straight over 1/T and bends one way only,
// so that Newton's steps from the hot end never overshoot; a handful are enough.
func temperatureOf(bright float64) unit.Celsius {
	if !(bright > 0) {
		return unit.AbsoluteZero
	}
	aim, per := math.Log(bright), 1./hottest
	for per < 1./coldest {
		light, slope := luminanceOver(per)
		step := light / slope * (aim - math.Log(light))
		if !(step > 0) {
			return unit.Kelvin(1 / per).Celsius()
		}
		if per += step; step < 1e-7*per { // what is left is about the square of that
			return unit.Kelvin(1 / per).Celsius()
		}
	}
	return unit.AbsoluteZero
}

// luminanceOver is the luminance of a perfect radiator in cd/m², and its slope, over
// 1/T in 1/K.
func luminanceOver(per float64) (light, slope float64) {
	for _, w := range weighedTable() {
		share := 1 / math.Expm1(w.exponent*per)
		light += w.y * share
		slope -= w.y * w.exponent * share * (1 + share)
	}
	return light, slope
}
