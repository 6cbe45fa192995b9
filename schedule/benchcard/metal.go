package benchcard

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/heat"
)

// Metal is what a card of a metal is about.
type Metal struct {
	Book  *alloys.Book     // nil is the embedded one
	Start schedule.Started // the alloy, the section and whether it is as cast
	Eye   heat.Eye         // the card of a metal has every light, whatever its own
}

// OfMetal is the card of a heat of a metal. It fails as schedule.CardOf does.
func OfMetal(m Metal) (Card, error) {
	h, err := heatOf(m)
	if err != nil {
		return Card{}, err
	}
	a := h.card.Alloy
	c := Card{Title: a.Name, Under: fmt.Sprintf("%s, %s, %s", a.ID, h.card.Condition, h.card.Section), Foot: foot("card " + string(a.ID))}
	c.Rows = slices.Concat(h.window(), h.looks(), h.hold(), h.cooling(), h.touch(), h.minds())
	return c, nil
}

// foot is who comes first, and the command that says more.
func foot(command string) string {
	return "Local rules for flames and gas come first: dullred safety. More: dullred " + command
}

// heated is a card of a metal in each light.
type heated struct {
	card   schedule.Card
	lights []schedule.Card // in the order of heat.Lights
}

func heatOf(m Metal) (h heated, err error) {
	for _, l := range heat.Lights() {
		m.Eye.Light = l
		if h.card, err = schedule.CardOf(m.Book, m.Start, m.Eye); err != nil {
			return h, err
		}
		h.lights = append(h.lights, h.card)
	}
	return h, nil
}

// said are the lines of a card under a head.
func said(c schedule.Card, head string) (all []string) {
	for _, l := range c.Lines {
		if l.Head == head {
			all = append(all, l.Text)
		}
	}
	return all
}

// window is how hot, and what is too hot.
func (h heated) window() (rows []Row) {
	c := h.card
	switch {
	case c.High > 0:
		rows = append(rows, large("heat to", between(c.Low, c.High)))
	default:
		rows = append(rows, small("heat to", strings.Join(said(c, "heat to"), " ")))
	}
	for _, r := range c.Alloy.Rules(alloys.RuleAnneal) {
		if r.Use == alloys.UseDefault {
			rows = append(rows, small("", r.Text).as(aside))
		}
	}
	if c.Ceiling.Temp > 0 {
		rows = append(rows, large("never", fmt.Sprintf("%.0f °C or more", float64(c.Ceiling.Temp))), small("", c.Ceiling.Because).as(basis))
	}
	return rows
}

func between(low, high unit.Celsius) string {
	if low == high {
		return fmt.Sprintf("%.0f °C", float64(low))
	}
	return fmt.Sprintf("%.0f to %.0f °C", float64(low), float64(high))
}

// looks is what is seen of the heat, in each light.
func (h heated) looks() (rows []Row) {
	for _, c := range h.lights {
		var parts []string
		for _, text := range said(c, "you see") {
			parts = append(parts, strings.TrimPrefix(text, string(c.Cue.Light)+", "))
		}
		if len(parts) > 0 {
			r := small(string(c.Cue.Light), together(parts))
			r.Close = len(rows) > 0
			rows = append(rows, r)
		}
	}
	if len(rows) == 0 {
		return nil
	}
	for i, text := range listed(h.card.Words) {
		r := small("", text).as(aside)
		if i == 0 {
			r = small("words", text).as(cue)
			r.Close = true
		}
		rows = append(rows, r)
	}
	also := small("also", h.card.Cue.Second)
	also.Close = true
	return append(rows, also)
}

// together joins what is seen of each skin, "clean: dull red"; where all look the same
// it stands once.
func together(parts []string) string {
	var skins, seen []string
	for _, p := range parts {
		skin, look, _ := strings.Cut(p, ": ")
		skins, seen = append(skins, skin), append(seen, look)
	}
	if same := slices.Compact(slices.Clone(seen)); len(same) == 1 && len(skins) > 1 {
		return strings.Join(skins, " or ") + ": " + same[0]
	}
	return strings.Join(parts, "; ")
}

// mostWords is how many published lists a card quotes.
const mostWords = 3

// listed is what published lists call the middle of the heat, each with its name; those
// first that say in which light. Words for the light of day are left out: one that says
// red is seen there would be waited for, and the row of daylight says that it may come
// too late (a judgement).
func listed(words []heat.Word) (parts []string) {
	words = slices.DeleteFunc(slices.Clone(words), func(w heat.Word) bool {
		return strings.Contains(w.Word, "sunlight") || strings.Contains(w.Word, "daylight")
	})
	lit := func(w heat.Word) int {
		if strings.Contains(w.Word, "(in ") {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(words, func(x, y heat.Word) int { return cmp.Compare(lit(x), lit(y)) })
	for _, w := range words[:min(mostWords, len(words))] {
		parts = append(parts, w.Word+", by "+w.Scale)
	}
	return parts
}

// hold is how long at the heat.
func (h heated) hold() []Row {
	c := h.card
	if c.Soak <= 0 {
		return nil
	}
	rows := []Row{large("hold", unit.FormatDuration(c.Soak))}
	for _, text := range said(c, "hold") {
		_, why, _ := strings.Cut(text, "; ")
		rows = append(rows, small("", why).as(basis))
	}
	return rows
}

// cooling is how it is cooled, and what never to do.
func (h heated) cooling() (rows []Row) {
	a := h.card.Alloy
	if h.card.High == 0 && a.Cooling() == alloys.CoolUnknown {
		return nil
	}
	rows = append(rows, large("cool", cmp.Or(string(a.Cooling()), "in the air: no rule is published")))
	if h.card.Wait > 0 {
		for _, text := range said(h.card, "wait") {
			rows = append(rows, small("", "wait "+text).as(basis))
		}
	}
	for _, r := range a.Rules(alloys.RuleQuench) {
		if r.Use == alloys.UseDefault {
			rows = append(rows, small("", r.Text))
		}
	}
	return rows
}

// touch is when it no longer burns. Clean metal, which gives off least, stands first:
// it takes longest.
func (h heated) touch() (rows []Row) {
	for _, text := range said(h.card, "touch") {
		times, rest, _ := strings.Cut(text, " in the air ")
		first, others, two := strings.Cut(times, ", ")
		if two {
			others += ", "
		}
		rows = append(rows, large("touch", first), small("", others+"in the air "+rest))
	}
	return rows
}

// minds are the cautions of the metal itself.
func (h heated) minds() (rows []Row) {
	for _, kind := range []alloys.RuleKind{alloys.RuleHazard, alloys.RuleGas, alloys.RuleSlow, alloys.RuleHot} {
		for _, r := range h.card.Alloy.Rules(kind) {
			if r.Use == alloys.UseDefault {
				rows = append(rows, small("", r.Text).as(caution))
			}
		}
	}
	if len(rows) > 0 {
		rows[0].Head = "mind"
	}
	return rows
}
