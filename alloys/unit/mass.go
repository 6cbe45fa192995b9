package unit

import (
	"errors"
	"fmt"
)

// The lightest and the heaviest mass that is taken for a reading of a workshop
// balance; what lies outside is a slip of the keyboard.
const (
	MinMass Gram = 0.0001
	MaxMass Gram = 1_000_000
)

// grain is 64.79891 mg exactly (NIST Handbook 44, App. C); the troy and the
// avoirdupois ounce are both counted in it.
const grain = 0.06479891

// masses are grams per unit. The ounce alone is avoirdupois, 437.5 grains; the
// troy ounce is ozt, 480 grains, and the pennyweight dwt, 24 grains (same source).
var masses = map[string]float64{
	"": 1, "g": 1, "gram": 1, "grams": 1, "kg": 1000, "mg": 0.001,
	"gr": grain, "grain": grain, "grains": grain,
	"dwt": 24 * grain, "ozt": 480 * grain, "oz": 437.5 * grain,
}

// ParseMass reads a mass such as 60, 60 g, 1.2kg, 2 ozt, 3 dwt, 100 gr (grains)
// or 1 oz (avoirdupois). A bare number is in grams. It refuses what is outside
// MinMass to MaxMass.
func ParseMass(s string) (Gram, error) { return parse(s, readMass) }

func readMass(words []string) (Gram, error) {
	r, ok := only(words)
	v, known := r.in(masses)
	if !ok || !known {
		return 0, errors.New("expected a mass such as 60, 60 g, 1.2 kg, 2 ozt, 3 dwt, 100 gr (grains) or 1 oz (avoirdupois)")
	}
	if g := Gram(v); g >= MinMass && g <= MaxMass {
		return g, nil
	}
	return 0, fmt.Errorf("%v g is not a mass from 0.0001 g to 1000 kg", v)
}
