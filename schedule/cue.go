package schedule

import (
	"cmp"
	"fmt"
	"math"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/heat"
)

// Cue is how to tell by eye that a heat is reached. A colour never stands alone:
// it comes with the temperature, the light it was named in, and a second cue.
type Cue struct {
	Window string     // temperature range, or that none is published
	Light  heat.Light // of the room; unknown is taken as a bench lamp
	Colour string     // what glows, by the words of a dark hearth
	Seen   string     // what of it is seen in this light
	Second string     // another sign of the same heat
	Skin   string     // what the surface does to it; empty where nothing is published
	Glow   Glow
	Sight  heat.Sight // whether the glow is seen at all
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
var glowFrom = [...]unit.Celsius{unit.AbsoluteZero, blackHeat, 593, 760, 850, 950}

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

// CueOf is how to tell that a zone has reached its heat by an eye in a light and
// behind its filter; the emissivity of the eye is found here.
func (s *State) CueOf(z Zone, eye heat.Eye) Cue {
	eye.Light = cmp.Or(eye.Light, heat.LightLamp)
	c := Cue{Window: words{state: s, zone: z}.window(), Light: eye.Light}
	low, high, _, ok := s.Window(z)
	if !ok {
		c.Colour, c.Seen, c.Second = "not known", "no source gives a colour", "prove it by bending"
		return c
	}
	c.Glow = GlowOf((low + high) / 2)
	c.Colour = c.Glow.String()
	c.Second = second(s.Alloy.Family, low, high)
	skin := s.glowing(z)
	e, known := s.shine(skin)
	if !known {
		c.Seen = "in a light room wait for no red; how strongly this skin glows is not published"
		return c
	}
	eye.Emissivity = e
	c.Sight = eye.Sees((low + high) / 2)
	c.Seen = seen(c.Glow, eye, (low+high)/2, s.melts(z))
	c.Skin = skinWords(skin)
	if eye.Shade > 0 {
		c.Skin += fmt.Sprintf("; a shade %g filter hides the first of it", eye.Shade)
	}
	return c
}

// melts is the solidus of a zone; where none is published nothing melts.
func (s *State) melts(z Zone) unit.Celsius {
	f, ok := s.Alloy.Default(alloys.Solidus, z.Condition)
	if !ok {
		return unit.MaxTemperature
	}
	return unit.Celsius(f.Low)
}

// glowing is the skin that glows once a zone is at its heat: what is not coated is
// oxidised by then, but silver and gold, which keep theirs a while.
func (s *State) glowing(z Zone) heat.Surface {
	skin := s.skin(z)
	if z.Surface == heat.SurfaceUnknown && s.oxidises() && s.Alloy.Family != "silver" && s.Alloy.Family != "gold" {
		return heat.Oxidised
	}
	return skin
}

// skinWords are what a smith must know of a skin.
func skinWords(s heat.Surface) string {
	switch s {
	case heat.Clean:
		return "clean metal glows weakly: it shows late, heats fast and stays hot long"
	case heat.Oxidised:
		return "a black skin glows strongly: it shows early, heats slowly and cools fast"
	case heat.Fluxed:
		return "under flux the clean metal glows weakly, and shows late"
	}
	return ""
}

// seen is what the eye gets of a glow of metal that melts at a temperature.
func seen(g Glow, eye heat.Eye, t, melts unit.Celsius) string {
	perhaps, _ := eye.FirstSeen()
	from := fmt.Sprintf("(not below %.0f °C)", math.Round(float64(perhaps)/5)*5)
	if perhaps >= melts {
		from = fmt.Sprintf("(it melts first, at %.0f °C)", float64(melts))
	}
	switch eye.Sees(t) {
	case heat.NotSeen:
		return "you should NOT see red " + from
	case heat.PerhapsSeen:
		return "perhaps a first trace of red " + from
	}
	if eye.Light != heat.LightDark && g > GlowFaint {
		return fmt.Sprintf("%s, weaker than in the dark", g)
	}
	return g.String() + ", just visible"
}

// fluxGlass is about where paste flux turns to glass: a window that ends well below
// it must not be taught to wait for it.
const fluxGlass unit.Celsius = 645

// second is a sign of the heat that needs no eye for colour. A black marker stroke
// goes near 538 °C and flux lies like glass at silver's annealing heat (Ganoksin
// forum, thread 59058), paste flux at about 650 °C: common practice; steel lets go of a magnet at 770 °C
// (from memory).
func second(family string, low, high unit.Celsius) string {
	switch {
	case high < 450:
		return "no sign is published so low: a scrap first; a marker stroke that goes (538 °C) is far too hot"
	case high < 538:
		return "stop before a marker stroke has gone (538 °C)"
	case low < 538:
		return "a marker stroke is fading or just gone (538 °C)"
	case high < fluxGlass:
		return "marker stroke gone (538 °C); before flux lies like glass (650 °C)"
	case high <= 700:
		return "marker stroke gone (538 °C); flux lies like glass (650 °C)"
	case family == "steel" && low >= 770:
		return "steel has let go of a magnet (770 °C)"
	}
	return "no second cue is published: try a scrap first"
}
