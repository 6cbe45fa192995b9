package schedule

import (
	"slices"

	"dullred/alloys"
	"dullred/schedule/coldwork"
)

// sources are the published figures behind this advice.
func (w words) sources() []string {
	keys := []string{w.advice.Limit.Source}
	if w.state.Alloy.SelfSoftening {
		keys = append(keys, w.rule(alloys.RuleAnneal).Source)
	} else {
		f, _ := w.state.Alloy.Default(alloys.Anneal, w.zone.Condition)
		keys = append(keys, f.Source, w.rule(alloys.RuleQuench).Source)
	}
	form := coldwork.FormOf(w.zone.Tally.Section())
	keys = append(keys, coldwork.TemperOf(w.state.Alloy, form, w.advice.Done).Hardness.Source)
	var out []string
	for _, key := range keys {
		if src, ok := w.state.tables().SourceOf(key); ok && !slices.Contains(out, Cite(src)) {
			out = append(out, Cite(src))
		}
	}
	return out
}

// Cite is a source in one line: its key, author, title, year and place.
func Cite(s alloys.Source) string {
	text := s.Key + ": " + s.Author + ", " + s.Title
	if s.Year != "" && s.Year != "n.d." {
		text += ", " + s.Year
	}
	if s.Locator != "" {
		text += ", " + s.Locator
	}
	return text
}
