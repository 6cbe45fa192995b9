package schedule

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/heat"
)

// Card is a whole heat of a metal on one page: how hot, how it looks here, how
// long, and what to do after.
type Card struct {
	Alloy     alloys.Alloy
	Condition alloys.Condition
	Section   string       // that it speaks of
	Low, High unit.Celsius // the heat to give; 0 when none is published
	Ceiling   heat.Ceiling // zero when no solidus is published
	Cue       Cue
	Words     []heat.Word   // of published lists for the middle of the heat
	Soak      time.Duration // 0 when there is nothing to heat
	Wait      time.Duration // out of the flame until it may be quenched; 0 when it is not
	Until     time.Duration // by when it must be in the water; 0 for any time
	Touch     time.Duration // about when it is down to 48 °C; 0 when not known
	Lines     []CardLine
}

// CardLine is one line of a card under its head.
type CardLine struct{ Head, Text string }

// CardOf is the card of a metal for an eye. Without a size it speaks of a bar 3 mm
// thick. An emissivity of the eye is the smith's own, and takes the place of the
// published ones.
func CardOf(book *alloys.Book, start Started, eye heat.Eye) (Card, error) {
	if !start.Reading.Taken() {
		start.Reading.Size = unit.Size{Shape: unit.Rectangular, Thick: 3, Width: 10}
	}
	s := FoldIn(book, []Entry{{ID: "card", Body: start, At: time.Unix(0, 0).UTC()}})
	if len(s.Silenced) > 0 {
		return Card{}, fmt.Errorf("%s", strings.Join(s.Silenced, "; "))
	}
	s.own = eye.Emissivity
	z := s.Zones[0]
	if s.oxidises() {
		z.Surface = heat.Oxidised // as a flame leaves it
	}
	c := Card{Alloy: s.Alloy, Condition: z.Condition, Section: z.Tally.Section().String()}
	c.Ceiling, _ = s.Ceiling(z.Condition)
	c.Touch = s.touch(z)
	if low, high, _, ok := s.Window(z); ok && !s.Alloy.SelfSoftening {
		c.Low, c.High, c.Cue = low, high, s.CueOf(z, eye)
		c.Words = heat.Words((low + high) / 2)
		c.Soak, _ = s.soakOf(z)
	}
	if s.Alloy.Cooling().Quenched() {
		c.Wait, c.Until, _ = s.waitOf(z)
	}
	c.Lines = s.cardLines(z, c, eye)
	return c, nil
}

func (s *State) cardLines(z Zone, c Card, eye heat.Eye) (lines []CardLine) {
	add := func(head, text string) {
		if text != "" {
			lines = append(lines, CardLine{head, text})
		}
	}
	rules := func(head string, kind alloys.RuleKind) {
		for _, r := range s.Alloy.Rules(kind) {
			add(head, rule(r))
			head = ""
		}
	}
	w := words{state: s, zone: z}
	add("heat to", w.window())
	rules("", alloys.RuleAnneal)
	if c.Soak > 0 {
		for _, text := range s.looks(z, eye) {
			add("you see", text)
		}
		add("also", c.Cue.Second)
		add("words", colourWords(c.Words))
		_, basis := s.soakOf(z)
		add("hold", fmt.Sprintf("%s; %s", words0(c.Soak), basis))
		add("softens", s.softensText())
	}
	if c.Ceiling.Temp > 0 {
		add("never", fmt.Sprintf("%.0f °C or more: %s", float64(c.Ceiling.Temp), c.Ceiling.Because))
	}
	rules("slowly", alloys.RuleSlow)
	rules("quench", alloys.RuleQuench)
	for _, text := range s.waits(z, c.Wait) {
		add("wait", text)
	}
	add("touch", s.touches(z))
	rules("pickle", alloys.RulePickle)
	rules("gas", alloys.RuleGas)
	rules("hot work", alloys.RuleHot)
	rules("harden", alloys.RuleAge)
	if len(s.Alloy.Rules(alloys.RuleAge)) > 0 {
		add("", ageingOven)
	}
	rules("mind", alloys.RuleHazard)
	return lines
}

// ageingOven is what to mind at an oven of 250 to 340 °C: that nothing glows there
// (first red at 525 °C), and that water shut in is under some 86 bar of steam at
// 300 °C (from memory).
const ageingOven = "In the oven nothing glows: take all in it as hot. Only dry, open pieces: water shut in bursts them. Not the oven that cooks food."

// looks is what is seen of the heat in a light, for each skin of which something is
// published.
func (s *State) looks(z Zone, eye heat.Eye) (all []string) {
	for _, skin := range s.skins() {
		z.Surface = skin
		c := s.CueOf(z, eye)
		all = append(all, fmt.Sprintf("%s, %s: %s", c.Light, s.skinName(skin), c.Seen))
	}
	return all
}

// skins are the surfaces that the metal can have, the clean one first.
func (s *State) skins() (all []heat.Surface) {
	if s.own > 0 {
		return []heat.Surface{heat.SurfaceUnknown}
	}
	for _, skin := range []heat.Surface{heat.Clean, heat.Oxidised} {
		if _, ok := heat.EmissivityOf(s.Alloy, skin); ok && (skin == heat.Clean || s.oxidises()) {
			all = append(all, skin)
		}
	}
	return all
}

// waits is how long it waits for the water, by its skin; nothing for metal that is
// left in the air.
func (s *State) waits(z Zone, any time.Duration) (all []string) {
	if any == 0 {
		return nil
	}
	if s.Alloy.Cooling() == alloys.CoolWhileRed {
		_, _, basis := s.waitOf(z)
		return []string{basis}
	}
	for _, skin := range s.skins() {
		z.Surface = skin
		d, _, basis := s.waitOf(z)
		all = append(all, fmt.Sprintf("%s; %s", words0(d), basis))
	}
	return all
}

// skinName is a skin in words.
func (s *State) skinName(skin heat.Surface) string {
	if s.own > 0 {
		return fmt.Sprintf("your emissivity %.3g", s.own)
	}
	return string(skin)
}

// touches is how long it burns in the air, by its skin; empty when not known.
func (s *State) touches(z Zone) string {
	var parts []string
	for _, skin := range s.skins() {
		z.Surface = skin
		if d := s.touch(z); d > 0 {
			parts = append(parts, fmt.Sprintf("%s %s", words0(d), s.skinName(skin)))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return fmt.Sprintf("about %s in the air to %.0f °C; the clock never says that it is cool", strings.Join(parts, ", "), float64(heat.SafeTouch))
}

// rule is a rule with its standing: a dissent and a warning are told as such.
func rule(r alloys.Rule) string {
	switch r.Use {
	case alloys.UseAlso:
		return "(others) " + r.Text
	case alloys.UseNever:
		return "(not so) " + r.Text
	}
	return r.Text
}

// colourWords are the words of the published lists, each with its list.
func colourWords(all []heat.Word) string {
	var parts []string
	for _, w := range all {
		parts = append(parts, fmt.Sprintf("%s (%s)", w.Word, w.Scale))
	}
	return strings.Join(slices.Compact(parts), "; ")
}

// softensText is what is published of how fast the metal softens.
func (s *State) softensText() string {
	k, ok := heat.KineticsOf(s.Alloy)
	if !ok {
		return heat.Unpublished(s.Alloy)
	}
	return k.Proved(s.proofs()).Basis()
}
