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

// reasons says why, most telling first.
func (w words) reasons() []string {
	var out []string
	add := func(s ...string) { out = append(out, s...) }
	if w.advice.Verdict == VerdictFinished {
		return w.whenFinished()
	}
	if len(w.advice.Zones) > 1 {
		add(w.zones())
	}
	add(w.heat()...)
	add(w.ledger())
	if w.zone.Crack == CrackOpen {
		add("a crack is open: every blow drives it on")
	} else if w.zone.Crack == CrackOverridden {
		add("a crack was overridden and is still there: it blocks nothing, and may run")
	}
	if w.state.Test {
		add("a test piece of its stock: no limit stops it")
	}
	add(w.advice.Stop)
	add(w.work(), w.limit())
	add(w.sign())
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
	names := map[Phase]string{InFlame: "in the flame", AtHeat: "at heat", OutOfFlame: "out of the flame", Cooled: "cooled"}
	if name, ok := names[h.Phase]; ok {
		out = append(out, fmt.Sprintf("%s for %s", name, unit.FormatDuration(w.state.elapsed(h.At, h.Bench, w.now).Truncate(time.Second))))
		out = append(out, w.judged()...)
	}
	if n := w.zone.Unproven; n > 0 {
		out = append(out, count(n, "heat")+" since it was last soft not proved soft: the count stands")
	}
	return out
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
	if l.Learned != "" {
		text += "; " + l.Learned
	} else if l.School == coldwork.OwnSchool {
		text += "; " + w.ownLimit(l)
	} else if l.Own {
		text += "; " + l.OwnFigure()
	} else if l.Confidence == alloys.ConfidenceJudgement {
		text += "; a judgement, no hand-working figure is published"
	}
	return text
}

// sign is what the last sign of the zone has meant so far.
func (w words) sign() string {
	if w.zone.Sign == "" {
		return ""
	}
	var own []Heard
	for _, h := range slices.Concat(w.state.taught.heard(), w.state.Heard) {
		if h.Hand == w.zone.Hand {
			own = append(own, h)
		}
	}
	low, high, n := Means(own, w.zone.Sign)
	if n == 0 {
		return ""
	}
	text := "sign: " + Meaning(w.zone.Sign, low, high, n)
	if n >= fewHeard && w.advice.Limit.Known() && w.zone.SignAt < low {
		text += fmt.Sprintf("; now it came at %.0f %%: the metal may be further than the sum says, read it", 100*w.zone.SignAt)
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
		out = append(out, fmt.Sprintf("a course of this hand puts about %.3f into soft metal, learned from %s", per, count(n, "measured course")))
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

// ledger is how much fire-stain there may be, once the piece was heated.
func (w words) ledger() string {
	l := w.state.Ledger
	if l.Heats() == 0 || w.state.Alloy.Family != "silver" || w.zone.Heat.Phase.Hot() {
		return ""
	}
	return fmt.Sprintf("fire-stain: %s, %d under flux, %d without; about %s above 500 °C in all",
		count(l.Heats(), "heat"), l.Protected, l.Unprotected, unit.FormatDuration(l.Hot.Round(time.Second)))
}
