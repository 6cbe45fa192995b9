package heat

import (
	"math"
	"strconv"

	"dullred/alloys/unit"
)

// glowRows are the worked examples of this part that are computed.
var glowRows = []example{
	{"G01", "the observer from 380 to 780 nm, against the light that the CIE defines", func() []float64 { return illuminantA(between(380, 780)) }},
	{"G02", "the whole observer; 5 nm stand in for the 1 nm of the row", func() []float64 { return illuminantA(observerTable()) }},
	{"G03", "chromaticity of a glow", func() []float64 { return chromaticityAt(2000) }},
	{"G05", "chromaticity against the published lines of correlated temperature", func() []float64 { return uvAt(1e6 / 550.) }},
	{"G07", "luminance of a glow", func() []float64 { return luminances(800, 1000, 1200, 1500) }},
	{"G09", "chromaticity of a glow", func() []float64 { return append(chromaticityAt(1000), chromaticityAt(1500)...) }},
	{"G10", "three of the points are the thresholds of the eye", func() []float64 {
		return luminances(unit.Celsius(400).Kelvin(), unit.Celsius(474).Kelvin(), unit.Celsius(525).Kelvin(), unit.Celsius(581).Kelvin())
	}},
	{"G12", "the inverse, by which the eye's first sight is found", func() []float64 {
		return []float64{float64(temperatureOf(1e-4)), float64(temperatureOf(1e-2)), float64(temperatureOf(1)), float64(temperatureOf(100))}
	}},
	{"G14", "a perfect radiator by a lamp or in daylight is first seen there", func() []float64 {
		first, _ := Eye{Light: LightDay, Emissivity: 1}.FirstSeen()
		return []float64{float64(first.Kelvin()), float64(first), first.Fahrenheit()}
	}},
	{"G16", "the way to the swatch", func() []float64 { return linearSRGB[0][:] }},
	{"G17", "Planck's law", func() []float64 { return []float64{firstRadiation, secondRadiation} }},
	{"G18", "follow from the same constants", func() []float64 { return []float64{stefanBoltzmann, secondRadiation / wienRoot()} }},
	{"G20", "the swatch", func() []float64 { return bytesOf(GlowAt(unit.Kelvin(1000).Celsius(), 1).SRGB) }},
}

// notGlow are those that are not, and why.
var notGlow = map[string]string{
	"G15": noFeature + "a definition, in orders of magnitude, of day and night sight; sight here goes by the points of G10",
	"G21": noFeature + "fixed points of the temperature scale, not a computation",
}

func chromaticityAt(t unit.Kelvin) []float64 {
	g := GlowAt(t.Celsius(), 1)
	return []float64{g.X, g.Y}
}

// uvAt is the CIE 1960 chromaticity, u = 4x/(-2x + 12y + 3), v = 6y/(-2x + 12y + 3).
func uvAt(t unit.Kelvin) []float64 {
	g := GlowAt(t.Celsius(), 1)
	d := -2*g.X + 12*g.Y + 3
	return []float64{4 * g.X / d, 6 * g.Y / d}
}

func luminances(all ...unit.Kelvin) []float64 {
	var out []float64
	for _, t := range all {
		out = append(out, GlowAt(t.Celsius(), 1).Luminance)
	}
	return out
}

// bytesOf are red, green and blue of a swatch; NaN for what is none.
func bytesOf(hex string) []float64 {
	v, err := strconv.ParseUint(hex[1:], 16, 32)
	if err != nil {
		return []float64{math.NaN()}
	}
	return []float64{float64(v >> 16), float64(v >> 8 & 255), float64(v & 255)}
}

// wienRoot is the root of x = 5(1 - exp(-x)), by which a perfect radiator is strongest
// at the wavelength c2/(xT).
func wienRoot() float64 {
	x := 5.0
	for range 60 {
		x = -5 * math.Expm1(-x)
	}
	return x
}
