package schedule

import (
	"dullred/alloys"
	"dullred/alloys/unit"
)

// Cue is how to tell by eye that a heat is reached. A colour never stands alone:
// it comes with the temperature, the light it was named in, and a second cue.
type Cue struct {
	Window string // temperature range, or that none is published
	Light  Light  // of the room; unknown is taken as a bench lamp
	Colour string // what glows, by the words of a dark hearth
	Seen   string // what of it is seen in this light
	Second string // another sign of the same heat
	Glow   Glow
}

// Glow is a step of the glow of hot metal, as a dark hearth shows it.
type Glow uint8

// The glows, coolest first.
const (
	GlowNone Glow = iota
	GlowFaint
	GlowDull
	GlowCherry
	GlowBright
	GlowOrange
)

var glowWords = [...]string{"no glow", "faint red", "dull red", "cherry red", "bright red", "orange"}

func (g Glow) String() string { return glowWords[min(int(g), len(glowWords)-1)] }

// The temperatures where each glow begins, in the dark. First red at 525 °C is
// quoted widely and was read second hand; a dull glow in the dark is given for 593
// to 649 °C (Hamilton's answer on annealing, which reports Grimwade), cherry for
// 760 °C (a blog on annealing, 2012); what lies above is from memory. Published lists differ by 50 to 200 °C for the same word.
var glowFrom = [...]unit.Celsius{unit.AbsoluteZero, 525, 593, 760, 850, 950}

// GlowOf is the glow of metal at a temperature, by the words of a dark hearth.
func GlowOf(t unit.Celsius) Glow {
	glow := GlowNone
	for g, from := range glowFrom {
		if t >= from {
			glow = Glow(g)
		}
	}
	return glow
}

// CueOf is how to tell that a zone has reached its heat, in a light.
func (s *State) CueOf(z Zone, light Light) Cue {
	c := Cue{Window: words{state: s, zone: z}.window(), Light: light}
	if light == LightUnknown {
		c.Light = LightLamp
	}
	f, ok := s.Alloy.Default(alloys.Anneal, z.Condition)
	if !ok {
		c.Colour, c.Seen, c.Second = "not known", "no source gives a colour", "prove it by bending"
		return c
	}
	c.Glow = GlowOf(unit.Celsius((f.Low + f.High) / 2))
	c.Colour = c.Glow.String()
	c.Seen = seen(c.Glow, c.Light)
	c.Second = second(s.Alloy.Family, unit.Celsius(f.Low), unit.Celsius(f.High))
	return c
}

// seen is what the eye gets of a glow. That silver at its annealing heat shows no
// red at a lit bench, and is too hot once it does, is common practice (Ganoksin
// forum, threads 7099 and 19202); the other lights are judgements between that
// and the dark.
func seen(g Glow, light Light) string {
	switch {
	case g == GlowNone:
		return "no red in any light"
	case light == LightDark && g <= GlowDull:
		return g.String() + ", just visible"
	case light == LightDark:
		return g.String()
	case light == LightDim && g <= GlowDull:
		return "the first trace of red, in shade"
	case g <= GlowDull:
		return "you should NOT see red"
	case light == LightDim:
		return (g - 1).String()
	}
	return (g - 1).String() + ", weaker than in the dark"
}

// second is a sign of the heat that needs no eye for colour. The marker stroke
// goes near 538 °C and flux lies like glass at silver's annealing heat (Ganoksin
// forum, thread 59058, common practice); steel lets go of a magnet at 770 °C
// (from memory).
func second(family string, low, high unit.Celsius) string {
	switch {
	case high < 538:
		return "stop before a black marker stroke has gone"
	case low < 538:
		return "a black marker stroke is fading or just gone"
	case high <= 700:
		return "a black marker stroke has gone; flux lies like glass"
	case family == "steel" && low >= 770:
		return "steel has let go of a magnet"
	}
	return "no second cue is published: try a scrap first"
}
