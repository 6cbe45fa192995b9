package schedule

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// words puts advice into sentences a smith can act on. Every percentage names
// what it is a share of.
type words struct {
	state  *State
	zone   Zone
	advice *Advice
	now    time.Time
}

// next is the one next step.
func (w words) next() string {
	a := w.advice
	switch a.Verdict {
	case VerdictCarryOn:
		if a.Courses.Low == 0 {
			return "work lightly: one course as usual may spend the whole limit; measure after each"
		}
		return fmt.Sprintf("work on: %s, then measure", w.courses())
	case VerdictAnnealSoon:
		if a.Courses.Likely == 0 {
			return "anneal before the next course: " + w.heating()
		}
		return fmt.Sprintf("at most %s, then anneal: %s", count(a.Courses.Likely, "more course"), w.heating())
	case VerdictAnnealNow:
		return "stop and anneal: " + w.heating()
	case VerdictNoAnneal:
		return "work on: this metal needs no anneal; measure for size and look at the edges"
	case VerdictFileCrack:
		return "stop: file the crack out now, round its end, and look again; do not heat it to heal it"
	case VerdictHeating, VerdictSoak:
		return w.inFlame()
	case VerdictWait:
		return w.quench() + "; then bend it a little to prove it soft"
	case VerdictProve:
		return "bend it a little: soft or still springy? The count stands until it is proved soft"
	}
	return "nothing can be said without a limit: give your own when the piece is started, such as 30% area"
}

// inFlame is the next step of a piece under the torch. A metal that needs no
// anneal comes out.
func (w words) inFlame() string {
	switch {
	case w.state.Alloy.SelfSoftening:
		return "take it out of the flame: this metal needs no anneal, and a torch is more likely to melt it"
	case w.advice.Verdict == VerdictHeating:
		return "heat evenly, the flame kept off thin ends until last, to " + w.window() + "; then log that it is reached"
	}
	return "hold until the whole piece is even, then take it out of the flame; " + w.quench()
}

// courses is the forecast in words: "4 more courses (3 to 5)".
func (w words) courses() string {
	c := w.advice.Courses
	return fmt.Sprintf("%s (%d to %d)", count(c.Likely, "more course"), c.Low, c.High)
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// heating is the whole heat in one sentence.
func (w words) heating() string {
	return fmt.Sprintf("heat to %s, hold until even; %s; then bend it a little to prove it soft", w.window(), w.quench())
}

// window is the default annealing window, or that none is published.
func (w words) window() string {
	f, ok := w.state.Alloy.Default(alloys.Anneal, w.zone.Condition)
	if !ok {
		return "a heat that no source gives for this metal (prove it by bending)"
	}
	return span(f.Low, f.High, "°C")
}

func span(low, high float64, unit string) string {
	if low == high {
		return fmt.Sprintf("%g %s", low, unit)
	}
	return fmt.Sprintf("%g to %g %s", low, high, unit)
}

// quench is what is advised for cooling this metal.
func (w words) quench() string {
	if text := w.rule(alloys.RuleQuench).Text; text != "" {
		return strings.TrimSuffix(lowerFirst(text), ".")
	}
	return "let it cool in air"
}

// rule is the first default rule of a kind: the one that is advised.
func (w words) rule(kind alloys.RuleKind) alloys.Rule {
	for _, r := range w.state.Alloy.Rules(kind) {
		if r.Use == alloys.UseDefault {
			return r
		}
	}
	return alloys.Rule{}
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// reasons says why, most telling first.
func (w words) reasons() []string {
	var out []string
	add := func(s ...string) { out = append(out, s...) }
	if len(w.advice.Zones) > 1 {
		add(w.zones())
	}
	add(w.heat()...)
	if w.zone.Crack == CrackOpen {
		add("a crack is open: every blow drives it on")
	} else if w.zone.Crack == CrackOverridden {
		add("a crack was overridden and is still there: it blocks nothing, and may run")
	}
	add(w.work(), w.limit())
	add(w.forecast()...)
	add(w.condition()...)
	add(w.local()...)
	add(w.hardness())
	return slices.DeleteFunc(out, func(s string) bool { return s == "" })
}

// zones says which zones need what: "tip, butt: anneal now; middle: carry on".
func (w words) zones() string {
	var parts []string
	var seen []Verdict
	for _, z := range w.advice.Zones {
		if slices.Contains(seen, z.Verdict) {
			continue
		}
		seen = append(seen, z.Verdict)
		var names []string
		for _, other := range w.advice.Zones {
			if other.Verdict == z.Verdict {
				names = append(names, fmt.Sprintf("%s (%.0f %% spent)", other.Zone, 100*other.Spent))
			}
		}
		parts = append(parts, fmt.Sprintf("%v: %s", z.Verdict, strings.Join(names, ", ")))
	}
	return "zones: " + strings.Join(parts, "; ")
}

func (w words) heat() []string {
	h, out := w.zone.Heat, []string(nil)
	names := map[Phase]string{InFlame: "in the flame", AtHeat: "at heat", OutOfFlame: "out of the flame", Cooled: "quenched"}
	if name, ok := names[h.Phase]; ok {
		out = append(out, fmt.Sprintf("%s for %s", name, unit.FormatDuration(max(0, w.now.Sub(h.At)).Truncate(time.Second))))
		out = append(out, w.measuredHeat()...)
	}
	if n := w.zone.Unproven; n > 0 {
		out = append(out, count(n, "heat")+" since it was last soft not proved soft: the count stands")
	}
	return out
}

// measuredHeat judges a measured temperature against the window and the solidus.
// On the way up it is not yet too low.
func (w words) measuredHeat() []string {
	t := float64(w.zone.Heat.Temp)
	if t == 0 {
		return nil
	}
	if f, ok := w.state.Alloy.Default(alloys.Solidus, w.zone.Condition); ok && t >= f.Low {
		return []string{fmt.Sprintf("%g °C is at or above the solidus of %g °C: it melts or goes to pieces there; check the reading and look at the piece", t, f.Low)}
	}
	f, ok := w.state.Alloy.Default(alloys.Anneal, w.zone.Condition)
	switch {
	case !ok:
		return nil
	case t < f.Low && w.zone.Heat.Phase == InFlame:
		return nil
	case t < f.Low:
		return []string{fmt.Sprintf("%g °C is under the annealing window of %s: expect it still springy", t, w.window())}
	case t > f.High:
		return []string{fmt.Sprintf("%g °C is over the annealing window of %s: expect coarse grain", t, w.window())}
	}
	return nil
}

func (w words) work() string {
	d := w.advice.Done
	return fmt.Sprintf("worked: strain %.3f (%.3f to %.3f) since it was last soft, as if %.1f %% of the thickness had been rolled off",
		d.Strain, d.Low(), d.High(), 100*w.advice.Worked())
}

// limit names the limit, its kind, and what stands beside it.
func (w words) limit() string {
	l := w.advice.Limit
	if !l.Known() {
		if w.state.Alloy.SelfSoftening {
			return strings.TrimSpace("limit: none is counted. " + w.rule(alloys.RuleAnneal).Text)
		}
		return fmt.Sprintf("limit: none is published for %s and none was given", w.state.Alloy.Name)
	}
	text := fmt.Sprintf("limit: %s between anneals (strain %.3f), %.0f %% of it spent", l.Text, l.Strain, 100*w.advice.Spent)
	if l.School == coldwork.OwnSchool {
		text += "; " + w.ownLimit(l)
	} else if l.Own {
		text += "; " + l.OwnFigure()
	} else if l.Confidence == alloys.ConfidenceJudgement {
		text += "; a judgement, no hand-working figure is published"
	}
	return text
}

func (w words) ownLimit(l coldwork.Limit) string {
	preset, _ := coldwork.LimitOf(w.state.Alloy, w.zone.Condition, "")
	if !preset.Known() {
		return "your own; the table has none"
	}
	how := "tighter than"
	if l.Strain > preset.Strain {
		how = "looser than"
	} else if l.Strain == preset.Strain {
		how = "the same as"
	}
	return fmt.Sprintf("your own, %s the table's %s", how, preset.Text)
}

func (w words) forecast() []string {
	a := w.advice
	if !a.Forecast {
		return nil
	}
	var out []string
	per := a.Hand.PerCourse()
	if n := a.Hand.Seen(); n > 0 {
		out = append(out, fmt.Sprintf("a course of this hand puts in about %.3f, learned from %s", per, count(n, "measured course")))
	} else {
		out = append(out, fmt.Sprintf("no course of this hand is measured yet: %.2f a course is assumed (a judgement)", per))
	}
	if n := len(w.zone.Tally.Pending()); n > 0 {
		out = append(out, count(n, "course")+" since the last reading, estimated until the next one")
	}
	return out
}

// condition names the rival rule on a casting.
func (w words) condition() []string {
	if w.zone.Condition != alloys.Cast {
		return nil
	}
	out := []string{"as cast: a first, cautious limit against cracks; light blows leave the core a casting"}
	for _, f := range w.state.Alloy.Schools(alloys.Cast) {
		out = append(out, fmt.Sprintf("another school (%s): %s", f.School, f.Note))
	}
	return out
}

func (w words) local() []string {
	if w.zone.Stamped == 0 {
		return nil
	}
	return []string{count(w.zone.Stamped, "course") + " of stamping since it was last soft: local work, not in the sum; anneal before bending"}
}

func (w words) hardness() string {
	if !w.advice.Limit.Known() {
		return ""
	}
	form := coldwork.FormOf(w.zone.Tally.Section())
	t := coldwork.TemperOf(w.state.Alloy, form, w.advice.Done)
	if !t.Hardness.OK {
		return fmt.Sprintf("hardness: nothing is published for %s %s at this work", w.state.Alloy.Name, formName(form))
	}
	return fmt.Sprintf("hardness: about %.0f to %.0f HV (%s)", t.Hardness.Low, t.Hardness.High, formName(form))
}

func formName(f alloys.Form) string {
	if f == alloys.Wire {
		return "drawn wire"
	}
	return "rolled strip"
}

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
