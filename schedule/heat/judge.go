package heat

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"dullred/alloys"
	"dullred/alloys/unit"
)

// Softness is what can be said of a metal after a heat, before it is bent. The zero
// Softness is unknown. None of them is proof.
type Softness uint8

// The softnesses, least sure first.
const (
	Unknown    Softness = iota // no kinetics are published
	NotProven                  // little was softened, if any
	Partly                     // some of the band is soft
	SoftLikely                 // soft as likely, and half soft at the least
)

// String is the word for it.
func (s Softness) String() string {
	switch s {
	case NotProven:
		return "not proven"
	case Partly:
		return "partly soft"
	case SoftLikely:
		return "soft"
	}
	return "unknown, prove it"
}

// From these shares on the words change; they are judgements.
const (
	softLikely = 0.95
	softLow    = 0.5
	partly     = 0.25
)

// Judge gives the word for a band.
func Judge(s Softened) Softness {
	switch {
	case s.Likely >= softLikely && s.Low >= softLow:
		return SoftLikely
	case s.Likely >= partly:
		return Partly
	}
	return NotProven
}

// HeatGiven is a heat to be judged.
type HeatGiven struct {
	Alloy     alloys.Alloy
	Condition alloys.Condition // cast or wrought, as for the solidus
	Worked    unit.Strain      // when it went into the flame
	Hottest   unit.Celsius     // 0 or less if it was not measured
	Held      time.Duration    // near the hottest
	Moved     bool             // hammered, bent or handled at Hottest
	Softened  Softened
	Known     bool   // whether Softened was reckoned
	Outside   string // what Kinetics.Within said, or another doubt; it stands beside the figures
}

// Verdict is what to tell the smith of a heat, in one short sentence: the worst
// first. It never says soft outright: that a bend check shows.
func Verdict(h HeatGiven) string {
	if believable(h.Hottest) != nil {
		h.Hottest = 0 // no measure
	}
	for _, judge := range []func() string{h.melted, h.hotShort, h.overheated, h.overlong, h.alreadySoft, h.spared, h.unmeasured, h.underheated, h.short} {
		if words := judge(); words != "" {
			return words
		}
	}
	return h.right()
}

func (h HeatGiven) melted() string {
	f, ok := h.Alloy.Default(alloys.Solidus, h.Condition)
	if !ok || float64(h.Hottest) < f.Low {
		return ""
	}
	return fmt.Sprintf("%.0f °C is at or above the solidus of %g °C: it began to melt, look for sagged edges and do not hammer it", float64(h.Hottest), f.Low)
}

// shortWhenRed are the alloys whose rules say that they break when they are moved
// red, and give no temperature.
var shortWhenRed = []alloys.ID{"AG925GE", "C52100", "C52400"}

// red is where those are taken to be short from, a little below the first glow by a
// lamp; a judgement.
const red unit.Celsius = 500

// hotShortness is from where to where an alloy breaks when it is moved. It is false
// where no figure and no rule says so.
func hotShortness(a alloys.Alloy) (from, to unit.Celsius, ok bool) {
	f, ok := a.Default(alloys.HotShort, "")
	switch {
	case ok && f.Bound == alloys.AtLeast:
		return unit.Celsius(f.Low), unit.MaxTemperature, true
	case ok:
		return unit.Celsius(f.Low), unit.Celsius(f.High), true
	}
	return red, unit.MaxTemperature, slices.Contains(shortWhenRed, a.ID)
}

func (h HeatGiven) hotShort() string {
	from, to, ok := hotShortness(h.Alloy)
	if !ok || !h.Moved || !(h.Hottest >= from && h.Hottest <= to) {
		return ""
	}
	return fmt.Sprintf("it was moved at %.0f °C, where %s is hot short: look for cracks before the next blow", float64(h.Hottest), h.Alloy.Name)
}

func (h HeatGiven) overheated() string {
	if words := Coarsens(h.Alloy, h.Hottest); words != "" {
		return "over-heated: " + words
	}
	return ""
}

// longestHeld is longer than any source here holds a metal at its heat; the longest
// that is printed is eight hours, for steel in a box.
const longestHeld = 8 * time.Hour

func (h HeatGiven) overlong() string {
	if h.Held <= longestHeld {
		return ""
	}
	return fmt.Sprintf("held far too long: in %s the grain grows, and it gets no softer", unit.FormatDuration(h.Held.Round(time.Minute)))
}

func (h HeatGiven) alreadySoft() string {
	if !(h.Worked <= 0) {
		return ""
	}
	return "already soft: more heat will not help; the stock is thick"
}

func (h HeatGiven) spared() string { return Spare(h.Worked) }

func (h HeatGiven) unmeasured() string {
	if h.Hottest > 0 {
		return ""
	}
	return "the heat was not measured: prove it by bending"
}

func (h HeatGiven) underheated() string {
	f, ok := h.Alloy.Default(alloys.Anneal, h.Condition)
	if !ok || float64(h.Hottest) >= f.Low || h.Known && Judge(h.Softened) == SoftLikely {
		return ""
	}
	words := fmt.Sprintf("under-heated: %.0f °C is below the window of %g to %g °C", float64(h.Hottest), f.Low, f.High)
	if h.Known {
		words += ", " + h.figures()
	}
	return words
}

func (h HeatGiven) short() string {
	if !h.Known || Judge(h.Softened) == SoftLikely {
		return ""
	}
	return fmt.Sprintf("under-heated: %s at %.0f °C was short, %s", unit.FormatDuration(max(h.Held, 0).Round(time.Second)), float64(h.Hottest), h.figures())
}

func (h HeatGiven) right() string {
	words := fmt.Sprintf("right: %.0f °C", float64(h.Hottest))
	if f, ok := h.Alloy.Default(alloys.Anneal, h.Condition); ok && float64(h.Hottest) >= f.Low {
		words += fmt.Sprintf(" is in the window of %g to %g °C", f.Low, f.High)
	}
	if h.Known {
		words += ", " + h.figures()
	}
	return words + "; bend it to prove it"
}

// figures are the likely one and the band, and what is doubtful about them. What to
// do about that the verdict says itself.
func (h HeatGiven) figures() string {
	s := h.Softened
	words := fmt.Sprintf("about %.0f %% softened (%.0f to %.0f", 100*s.Likely, 100*s.Low, 100*s.High)
	if h.Outside != "" {
		words += ", " + strings.TrimSuffix(h.Outside, proveIt)
	}
	return words + ")"
}
