package heat

import (
	"fmt"
	"strings"

	"dullred/alloys"
)

// Surface is what the skin of a piece is like; it decides how strongly it glows
// and how fast it loses heat. The zero Surface is not known.
type Surface string

// The surfaces. Black is a perfect radiator, which no bench has.
const (
	SurfaceUnknown Surface = ""
	Clean          Surface = "clean"
	Oxidised       Surface = "oxidised"
	Fluxed         Surface = "fluxed"
	Black          Surface = "black"
)

// surfaces are those that can be told apart.
func surfaces() []Surface { return []Surface{Clean, Oxidised, Fluxed, Black} }

// ParseSurface reads a surface by its name.
func ParseSurface(text string) (Surface, error) {
	var names []string
	for _, s := range surfaces() {
		if strings.EqualFold(text, string(s)) {
			return s, nil
		}
		names = append(names, string(s))
	}
	return "", fmt.Errorf("%.60q is not a surface: expected one of %s", text, strings.Join(names, ", "))
}

// Emissivity is the share of a perfect radiator's light and heat that a surface
// gives, 0 to 1. A grey body is assumed: the same share at every wavelength.
type Emissivity struct {
	Value     float64 // computed with
	Low, High float64 // as published
	Basis     string  // where it comes from, in words
	Source    string  // key of its source in the tables; empty for none
	Published bool    // read in that source
}

// OwnEmissivity is one that a smith gave.
func OwnEmissivity(e float64) (Emissivity, error) {
	if !(e > 0 && e <= 1) {
		return Emissivity{}, fmt.Errorf("an emissivity of %g cannot be: it is above 0 and at most 1", e)
	}
	return Emissivity{Value: e, Low: e, High: e, Basis: "your own"}, nil
}

// EmissivityOf is the published emissivity of an alloy's surface; the middle of a
// range is computed with. It is false where nothing is published.
func EmissivityOf(a alloys.Alloy, s Surface) (Emissivity, bool) {
	if s == Black {
		return Emissivity{Value: 1, Low: 1, High: 1, Basis: "a perfect radiator, by definition"}, true
	}
	f, ok := a.Default(alloys.Emissivity, alloys.Condition(s))
	if !ok {
		return Emissivity{}, false
	}
	return Emissivity{Value: (f.Low + f.High) / 2, Low: f.Low, High: f.High, Basis: basis(f), Source: f.Source,
		Published: f.Confidence == alloys.ConfidenceRead}, true
}

// ShineOf is the emissivity of the light that a surface gives. Flux lies over metal
// like glass: it radiates heat as glass does, and the glow of the clean metal
// shows through it (common practice).
func ShineOf(a alloys.Alloy, s Surface) (Emissivity, bool) {
	if s != Fluxed {
		return EmissivityOf(a, s)
	}
	e, ok := EmissivityOf(a, Clean)
	e.Basis = "of the clean metal, seen through the flux; " + e.Basis
	return e, ok
}

// basis is where a figure comes from, in words.
func basis(f alloys.Figure) string {
	words := string(f.Confidence)
	switch f.Confidence {
	case alloys.ConfidenceRead:
		words = "published"
	case alloys.ConfidenceMemory:
		words = "from memory"
	case alloys.ConfidenceJudgement:
		words = "a judgement"
	case alloys.ConfidencePractice:
		words = "common practice"
	}
	if f.Note != "" {
		words += ": " + f.Note
	}
	return words
}
